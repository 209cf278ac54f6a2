"""Which return an entry belongs to: that of its day, or the next or an amended one where that was filed before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from ledger.periods import Period
from ledger.taxes.filing_periods import FilingRule, period_after, period_holding

Corrections = Literal["next", "amended"]


@dataclass(frozen=True)
class FiledThrough:
    """A filed return: what stood in the books when it was filed is in it, and nothing that came later."""

    through_entry: int
    filed_on: date

    def had(self, entry: int, booked_on: date) -> bool:
        return entry <= self.through_entry and booked_on <= self.filed_on


@dataclass(frozen=True)
class Place:
    """The return of a period: 0 the first, then the amended ones, filed or still open."""

    period: Period
    sequence: int


# What was filed, by the first day of each period, in the order of the filings.
FiledByStart = Mapping[date, Sequence[FiledThrough]]


@dataclass(frozen=True)
class Returns:
    """How often she files, and what was filed by now."""

    rules: Sequence[FilingRule]
    filed: FiledByStart

    def open_place(self, period: Period) -> Place:
        """The return of a period that is not filed yet."""
        return Place(period, len(self.filed.get(period.start, ())))

    def place_of(self, entry: int, booked_on: date, day: date, corrections: Corrections) -> Place:
        """Where an entry belongs that was booked on one day and belongs to another, or to the same."""
        period = period_holding(self.rules, day)
        place = self._filed_place(period, entry, booked_on)
        if place is not None:
            return place
        if not self.filed.get(period.start) or corrections == "amended":
            return self.open_place(period)
        while self.filed.get(period.start):
            period = period_after(self.rules, period)
            place = self._filed_place(period, entry, booked_on)
            if place is not None:
                return place
        return self.open_place(period)

    def _filed_place(self, period: Period, entry: int, booked_on: date) -> Place | None:
        for sequence, each in enumerate(self.filed.get(period.start, ())):
            if each.had(entry, booked_on):
                return Place(period, sequence)
        return None
