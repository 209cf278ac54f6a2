"""Days on which a jurisdiction has no rate between two that it has: an oversight, more often than not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby, pairwise

from ledger.books.books import Books

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class RateGap:
    """The first and the last day without a rate, both included."""

    jurisdiction: str
    start: date
    end: date

    @property
    def sentence(self) -> str:
        return f"«{self.jurisdiction}» has no rate from {self.start} to {self.end}: is that right?"


def rate_gaps(books: Books) -> tuple[RateGap, ...]:
    """Every gap, by jurisdiction and day."""
    rows = books.rows(
        "select jurisdiction, jurisdiction.name, from_date, until_date from rate "
        "join jurisdiction on jurisdiction.id = rate.jurisdiction "
        "where rate.id not in (select rate from tax_holiday where rate is not null) "
        "order by jurisdiction, from_date, rate.id"
    )
    gaps: list[RateGap] = []
    for _, several in groupby(rows, key=lambda row: row["jurisdiction"]):
        in_force = list({row["from_date"]: row for row in several}.values())
        for before, after in pairwise(in_force):
            start = date.fromisoformat(before["until_date"]) + _DAY if before["until_date"] else None
            end = date.fromisoformat(after["from_date"]) - _DAY
            if start is not None and start <= end:
                gaps.append(RateGap(before["name"], start, end))
    return tuple(gaps)
