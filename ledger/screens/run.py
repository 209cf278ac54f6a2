"""Open the rooms on a books folder, begun first where there are no books yet."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

from ledger.books.clock import Clock
from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.screens.app import TwopurseApp


def open_rooms(folder: Path, read_clock: Callable[[], Clock]) -> None:
    """Until the rooms are left. read_clock: what day it is, asked again while they are open.

    Raises Refused where the books cannot be opened, and a defect as what it is.
    """
    clock = read_clock()
    if not books_file(folder).exists():
        from ledger.screens.begin import BeginApp

        if not BeginApp(folder, clock, os.environ).run_until_left():
            return
    books = open_books(folder, clock)
    try:
        TwopurseApp(books, read_clock).run_until_left()
    finally:
        books.close()
