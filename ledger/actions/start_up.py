"""Record the day on which the workshop was open and ready for paid work; what was spent before it is kept apart."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.taxes.start_up_records import ReadStartUp, keep_opened, read_start_up


@dataclass(frozen=True)
class OpenedRequest:
    opened: date


def perform(books: Books, request: OpenedRequest) -> ReadStartUp:
    """Start-up costs with that day. Raises NotPossible for a day to come, FigureNotKnown for one before the rule."""
    with books.writing() as write:
        keep_opened(books, write, request.opened)
        found = read_start_up(books)
        assert found is not None, "the day was recorded"
        return found
