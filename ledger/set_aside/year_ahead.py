"""The year ahead: what falls due, one after the other, against what is held today, and what is left after each.

Tax savings pay first, then checking and the cash box. What is earned until then is in no figure here, and what is not
known yet takes nothing. Bills and loan payments are those of the days that count as soon.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from ledger.periods import Period, month_holding, months_of
from ledger.set_aside.due_dates import STRIP_DAYS, Due
from ledger.set_aside.owed import SetAside

NOT_COUNTED: Final = "Without what is earned until then; of bills and loan payments only the next."


@dataclass(frozen=True)
class CoveredDue:
    """What of a due is held in tax savings, what is there in the workshop's other money, and what is short, in cents.

    left_cents: tax savings less all that is due up to here; below zero where they do not reach.
    """

    due: Due
    held_cents: int
    there_cents: int
    short_cents: int
    left_cents: int

    @property
    def is_whole(self) -> bool:
        """Whether it is covered in one way alone."""
        return sum(1 for each in (self.held_cents, self.there_cents, self.short_cents) if each) < 2

    @property
    def word(self) -> str:
        """How it is covered, in a word; nothing where it takes nothing, or nothing is known yet."""
        if self.short_cents:
            return "short"
        if self.there_cents:
            return "there"
        return "held" if self.held_cents else ""


@dataclass(frozen=True)
class DueMonth:
    """What falls due in a month, in cents; what is late stands in the first. has_unknown: something is not known yet.

    left_cents: tax savings less all that is due up to its end.
    """

    first_day: date
    dues: tuple[CoveredDue, ...]
    left_cents: int

    @property
    def due_cents(self) -> int:
        return self.held_cents + self.there_cents + self.short_cents

    @property
    def held_cents(self) -> int:
        return sum(each.held_cents for each in self.dues)

    @property
    def there_cents(self) -> int:
        return sum(each.there_cents for each in self.dues)

    @property
    def short_cents(self) -> int:
        return sum(each.short_cents for each in self.dues)

    @property
    def has_unknown(self) -> bool:
        return any(each.due.cents is None for each in self.dues)


@dataclass(frozen=True)
class YearAhead:
    """held: in tax savings today; other: in checking and the cash box, in cents."""

    on: date
    held_cents: int
    other_cents: int
    dues: tuple[CoveredDue, ...]
    months: tuple[DueMonth, ...]

    @property
    def due_cents(self) -> int:
        return sum(each.due_cents for each in self.months)

    @property
    def short_cents(self) -> int:
        return sum(each.short_cents for each in self.months)

    @property
    def there_cents(self) -> int:
        return sum(each.there_cents for each in self.months)

    @property
    def first_uncovered(self) -> CoveredDue | None:
        """The first that tax savings do not cover whole."""
        return next((each for each in self.dues if each.there_cents or each.short_cents), None)


def year_ahead_of(found: SetAside) -> YearAhead:
    """The year ahead of a set-aside that was read."""
    money = found.money
    return year_ahead(found.dues, money.tax_savings_cents, money.checking_cents + money.cash_box_cents, found.on)


def year_ahead(dues: Sequence[Due], held_cents: int, other_cents: int, on: date) -> YearAhead:
    """dues: in the order of their days, the late ones first."""
    covered = tuple(_covered(dues, held_cents, other_cents))
    days = Period(on.replace(day=1), month_holding(on + timedelta(days=STRIP_DAYS)).end, "")
    months, left = [], held_cents
    for month in months_of(days):
        of_month = tuple(each for each in covered if month.holds(max(each.due.day, on)))
        left = of_month[-1].left_cents if of_month else left
        months.append(DueMonth(month.start, of_month, left))
    return YearAhead(on, held_cents, other_cents, covered, tuple(months))


def _covered(dues: Sequence[Due], held_cents: int, other_cents: int) -> Iterator[CoveredDue]:
    left, pots = held_cents, [max(0, held_cents), max(0, other_cents)]
    for each in dues:
        cents = each.cents or 0
        held = min(cents, pots[0])
        there = min(cents - held, pots[1])
        pots = [pots[0] - held, pots[1] - there]
        left -= cents
        yield CoveredDue(each, held, there, cents - held - there, left)
