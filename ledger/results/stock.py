"""Stock that she counted at cost, for a cost of goods sold where her accountant wants one. Nothing is posted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.errors import NotPossible


@dataclass(frozen=True)
class Count:
    """What was there at the end of a day, at cost, in cents."""

    day: date
    cents: int


def keep_count(books: Books, write: Writing, cents: int, day: date) -> None:
    """Keep a count; the last one of a day holds. Raises NotPossible for a day to come."""
    if day > books.today:
        raise NotPossible(f"{day} is still to come.", "Count what is there today.", "on")
    write.add("stock_count", cents=cents, on_date=day.isoformat(), made_on=books.today.isoformat())


def count_by(books: Books, day: date) -> Count | None:
    """The last count by the end of a day."""
    row = books.row(
        "select on_date, cents from stock_count where on_date <= ? order by on_date desc, id desc limit 1",
        (day.isoformat(),),
    )
    return None if row is None else Count(date.fromisoformat(row[0]), row[1])
