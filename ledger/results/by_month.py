"""Income by month on the cash method, each month beside the same one a year before.

A month's income is what the books have for it, and what more is held of deposits and gift certificates, less what more
customers owe: the bridge of `statement`, so that the months of a quarter add up to the quarter.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from ledger.errors import NotPossible
from ledger.periods import Period, month_holding, months_of, period_between

_MOST_MONTHS = 120


@dataclass(frozen=True)
class MonthIncome:
    """cents: None before the books began and for a month to come. is_running: it is not over on the day of reading."""

    first_day: date
    cents: int | None
    year_before_cents: int | None
    is_running: bool = False


@dataclass(frozen=True)
class IncomeByMonth:
    """on: the last day that is counted. before_books: of the year in which the books began, what was told of the time
    before them, in cents: it stands in no month and in no sum here."""

    months: tuple[MonthIncome, ...]
    on: date
    before_books_cents: int = 0

    @property
    def total_cents(self) -> int:
        return sum(each.cents or 0 for each in self.months)

    @property
    def year_before_cents(self) -> int:
        """Of the months that have come, in the year before."""
        return sum(each.year_before_cents or 0 for each in self.months if each.cents is not None)

    @property
    def running(self) -> MonthIncome | None:
        return next((each for each in self.months if each.is_running), None)

    @property
    def has_year_before(self) -> bool:
        return any(each.year_before_cents for each in self.months)

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to show: no month of either year has an income."""
        return not any(each.cents or each.year_before_cents for each in self.months)

    @property
    def best(self) -> MonthIncome | None:
        """The month with the most income, the earliest of several."""
        return max((each for each in self.months if each.cents), key=lambda each: each.cents or 0, default=None)


def cash_income(moved: Mapping[int, int], income: Iterable[int], held_more_cents: int, owed_more_cents: int) -> int:
    """The cash income of a month, in cents.

    moved: what each account moved by, debit positive. income: ids of the income accounts. held_more: by how much
    deposits and gift certificates grew. owed_more: by how much the charge that customers owe grew.
    """
    return held_more_cents - sum(moved.get(each, 0) for each in income) - owed_more_cents


def whole_months(period: Period) -> Period:
    """The months that a period touches, whole. Raises NotPossible for more than ten years."""
    whole = period_between(period.start.replace(day=1), month_holding(period.end).end)
    if (whole.end.year - whole.start.year) * 12 + whole.end.month - whole.start.month >= _MOST_MONTHS:
        raise NotPossible(f"{whole.label} is more than ten years.", "Ask for fewer months at a time.", "period")
    return whole


def income_by_month(
    by_month: Mapping[date, int], period: Period, begun_on: date, on: date, before_books_cents: int = 0
) -> IncomeByMonth:
    """The months that a period touches, beside those a year before.

    by_month: cash income by the month's first day, as far as there is any, up to `on`. before_books_cents: what was
    told of the year in which the books began, from before them.
    """

    def income(first_day: date) -> int | None:
        if first_day > on or (first_day not in by_month and month_holding(first_day).end < begun_on):
            return None
        return by_month.get(first_day, 0)

    firsts = [each.start for each in months_of(whole_months(period))]
    months = (
        MonthIncome(
            first_day=each,
            cents=income(each),
            year_before_cents=income(each.replace(year=each.year - 1)),
            is_running=each <= on <= month_holding(each).end,
        )
        for each in firsts
    )
    return IncomeByMonth(tuple(months), on, before_books_cents if period.holds(begun_on.replace(month=1, day=1)) else 0)
