"""What «undo» means where no entry is chosen: the last entry that still stands, and what was undone since."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.books.entries import Entry, read_last_standing, read_page
from ledger.errors import NotPossible


@dataclass(frozen=True)
class LastEntry:
    """entry: the last one that still stands. undoing: the newest entry of all where that is an undoing, else None."""

    entry: Entry
    undoing: Entry | None


def last_entry(books: Books) -> LastEntry:
    """What would be undone now. Raises NotPossible where nothing is left to undo."""
    newest = next(iter(read_page(books, 1)), None)
    entry = read_last_standing(books)
    if entry is None:
        said = "Every entry is undone already." if newest else "There is no entry yet."
        raise NotPossible(said, "There is nothing to undo.", None)
    return LastEntry(entry, newest if newest and newest.reverses is not None else None)
