"""Write the renewals as a calendar file. Nothing is booked."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from checklists.calendar_file import keep_calendar
from checklists.records import read_answers, read_catalogue_of
from checklists.renewals import Renewal, calendar_of, renewals
from ledger.books.books import Books
from ledger.errors import NotPossible


@dataclass(frozen=True)
class CalendarRequest:
    """file: made, or written in place of a calendar of this program."""

    file: Path


@dataclass(frozen=True)
class KeptCalendar:
    """workshop: what its UIDs are made from. replaced: whether an older one stood there."""

    renewals: tuple[Renewal, ...]
    workshop: str
    replaced: bool


def perform(books: Books, request: CalendarRequest) -> KeptCalendar:
    """Raises NotPossible where nothing runs out or something else stands there, BooksNotUsable for the disk."""
    found = renewals(read_catalogue_of(books), read_answers(books), books.today)
    if not found:
        raise NotPossible(
            "Nothing runs out or comes round yet.", "Record what you were told with «twopurse setup answer».", "file"
        )
    workshop = f"{books.settings.name}\n{books.settings.begun_on}"
    replaced = keep_calendar(request.file, calendar_of(found, workshop, books.clock.now))
    return KeptCalendar(found, workshop, replaced)
