"""What is asked of a packet: its days, its method, and how much of it may leave the house."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.periods import Period, month_holding, months_of, quarter_holding, year_holding


@dataclass(frozen=True)
class PacketChoice:
    """with_names: customers by name, not by number. with_documents: the receipts and letters themselves."""

    accrual: bool = False
    with_names: bool = False
    with_documents: bool = True


@dataclass(frozen=True)
class Span:
    """A period as far as the books go. label: as it is written; so_far: its end is still to come."""

    period: Period
    start: date
    end: date
    so_far: bool

    @property
    def label(self) -> str:
        return self.period.label

    @property
    def parts(self) -> tuple[Period, ...]:
        """What its columns stand for: months, or where these would be too many, quarters or years."""
        months = months_of(self.period)
        holding = next((each for most, each in _COLUMNS if len(months) <= most), year_holding)
        found = dict.fromkeys(holding(each.start) for each in months if each.start <= max(self.end, self.start))
        return tuple(found)

    def part_of(self, day: date) -> str:
        """The label of the column that a day belongs to."""
        return next(each.label for each in self.parts if each.holds(day))


_MOST_MONTHS, _MOST_MONTHS_IN_QUARTERS = 6, 24
_COLUMNS = ((_MOST_MONTHS, month_holding), (_MOST_MONTHS_IN_QUARTERS, quarter_holding))


def span_of(books: Books, period: Period) -> Span:
    """The days of a period that have come."""
    return Span(period, period.start, period.last_day_by(books.today), not period.is_over(books.today))
