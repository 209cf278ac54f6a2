"""The calendar of renewals as a file: in place of an older one of ours, and of nothing else."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from checklists.renewals import PRODUCT
from ledger.books.connection import refusal_for_file
from ledger.books.places import sync_folder, write_durably
from ledger.errors import BooksNotUsable, NotPossible
from ledger.text import shown

_HEAD_BYTES = 1000


def keep_calendar(file: Path, content: bytes) -> bool:
    """Write the calendar; whether it took the place of an older one.

    Raises NotPossible where something else stands there, BooksNotUsable where the file cannot be written.
    """
    waiting = file.with_name(f".{file.name}.part")
    try:
        is_there = file.exists()
        if is_there and not _is_ours(file):
            raise NotPossible(
                f"{shown(str(file))} is no calendar of Twopurse, so it stays as it is.", "Name another file.", "file"
            )
        write_durably(waiting, content)
        waiting.replace(file)
        sync_folder(file.parent)
    except OSError as error:
        with suppress(OSError):
            waiting.unlink()
        refusal = refusal_for_file(error, file.parent)
        raise BooksNotUsable(refusal.what, refusal.do, "file") from error
    return is_there


def _is_ours(file: Path) -> bool:
    """Whether a file begins as a calendar that this program made. Raises OSError where it cannot be read."""
    if not file.is_file():
        return False
    with file.open("rb") as opened:
        lines = opened.read(_HEAD_BYTES).split(b"\r\n")
    return lines[0] == b"BEGIN:VCALENDAR" and f"PRODID:{PRODUCT}".encode() in lines
