"""Open the rooms on a books folder, begun first where there are no books yet."""

from __future__ import annotations

import os
from pathlib import Path

from ledger.books.clock import Clock
from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.screens.app import TwopurseApp


def open_rooms(folder: Path, clock: Clock) -> None:
    """Until the rooms are left. Raises Refused where the books cannot be opened."""
    if not books_file(folder).exists():
        from ledger.screens.begin import BeginApp

        if not BeginApp(folder, clock, dict(os.environ)).run():
            return
    books = open_books(folder, clock)
    try:
        TwopurseApp(books).run()
    finally:
        books.close()
