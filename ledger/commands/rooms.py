"""Open the rooms from the command line: her own books, or the invented workshop's."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import click

from ledger.books.clock import Clock
from ledger.commands.manners import Session, session_of
from ledger.errors import NotPossible


def open_own(session: Session) -> None:
    """The rooms of her own books, begun with six questions where there are none yet."""
    from ledger.screens.run import open_rooms

    open_rooms(session.folder, _clock_of_every_moment())


def open_demo(session: Session) -> None:
    """The rooms of the invented workshop, in a folder that is gone afterwards. NotPossible without a terminal."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise NotPossible("The rooms open in a terminal, and this is none.", "Run it in one, without a pipe.", "demo")
    from ledger.example.build import build_example
    from ledger.example.statement import write_last_month
    from ledger.screens.run import open_rooms

    with tempfile.TemporaryDirectory(prefix="twopurse-demo-") as scratch:
        folder = Path(scratch) / "books"
        print("Writing two years of an invented workshop ...", flush=True)
        with closing(build_example(folder, session.clock)) as books:
            # What the bank would have sent by now lies beside the books, where reading a statement looks for it.
            write_last_month(Path(scratch), books)
        open_rooms(folder, _clock_of_every_moment())


def _clock_of_every_moment() -> Callable[[], Clock]:
    # Rooms stay open over midnight, and then the day is another one, unless --on holds it.
    shared = click.get_current_context().obj
    return lambda: session_of(shared).clock
