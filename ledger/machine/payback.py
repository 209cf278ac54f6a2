"""How far the machine is from being paid off.

Two measures, never mixed: *taken in* is job income alone; *earned* is job income less every workshop expense that is no
part of the payback cost itself. The machine is paid off when what was earned reaches its cost.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import ceil

from ledger.machine.forecast import FARTHEST_MONTHS, Forecast, Month, forecast, pace_that_would_do
from ledger.money import round_half_up

DAYS_FOR_A_PACE = 28
SPENT_BEFORE = "spent before these books"
_DAYS_A_YEAR, _MONTHS_A_YEAR = Fraction(1461, 4), 12


@dataclass(frozen=True)
class Subtraction:
    """What was taken off job income under one category, in cents; below zero where more came back than was spent."""

    category: str
    cents: int


@dataclass(frozen=True)
class Earnings:
    """Job income net of discount and refunds, and what is taken off it, the largest first. Amounts in cents."""

    taken_in_cents: int
    subtractions: tuple[Subtraction, ...] = ()

    @property
    def earned_cents(self) -> int:
        return self.taken_in_cents - sum(each.cents for each in self.subtractions)


@dataclass(frozen=True)
class EarnedBefore:
    """Job income before the books, and what of it was earned towards the machine, in cents, as she told it."""

    taken_in_cents: int = 0
    earned_cents: int = 0


@dataclass(frozen=True)
class Lately:
    """The last days of the record: what was earned in them, in cents, pickups that stand, and how many days."""

    earned_cents: int
    jobs: int
    days: int


@dataclass(frozen=True)
class Payback:
    """Amounts in cents. share_percent: earned of cost, with two decimals; None without a machine.

    jobs_left: at the recent average of what a job leaves; None where a job leaves nothing or there was none.
    pace_cents: earned a month lately, None under four weeks of record. done_in_week: the Monday of the week in which
    it is done at that pace. would_do_cents: what would have to be earned a month to be done in five years, where at
    this pace it never is.
    """

    cost_cents: int
    taken_in_cents: int
    earned_cents: int
    share_percent: Decimal | None
    left_cents: int
    jobs_left: int | None
    forecast: Forecast
    subtractions: tuple[Subtraction, ...] = ()
    pace_cents: int | None = None
    done_in_week: date | None = None
    would_do_cents: int | None = None


def payback(cost_cents: int, earnings: Earnings, lately: Lately, months: Sequence[Month], today: date) -> Payback:
    """months: the whole months of the record, the running one left out."""
    earned = earnings.earned_cents
    left = max(0, cost_cents - earned)
    share = None
    if cost_cents > 0:
        share = Decimal(round_half_up(Fraction(earned * 10_000, cost_cents))) / 100
    outlook = forecast(left, months, today)
    is_never_done = outlook.middle is None and not outlook.too_early
    return Payback(
        cost_cents=cost_cents,
        taken_in_cents=earnings.taken_in_cents,
        earned_cents=earned,
        share_percent=share,
        left_cents=left,
        jobs_left=_jobs_left(left, lately),
        forecast=outlook,
        subtractions=earnings.subtractions,
        pace_cents=_pace(lately),
        done_in_week=_done_in_week(left, lately, today),
        would_do_cents=pace_that_would_do(left) if is_never_done else None,
    )


def earnings(taken_in_cents: int, by_category: Iterable[tuple[str, int]]) -> Earnings:
    """What was taken in and the subtractions, the largest first; a category with nothing is left out."""
    subtractions = [Subtraction(category, cents) for category, cents in by_category if cents]
    return Earnings(taken_in_cents, tuple(sorted(subtractions, key=lambda each: (-each.cents, each.category))))


def before_and(before: EarnedBefore, found: Earnings) -> Earnings:
    """The earnings of the books with those from before them; what was spent then is one subtraction."""
    spent_cents = before.taken_in_cents - before.earned_cents
    by_category = [(each.category, each.cents) for each in found.subtractions]
    return earnings(before.taken_in_cents + found.taken_in_cents, [*by_category, (SPENT_BEFORE, spent_cents)])


def _jobs_left(left: int, lately: Lately) -> int | None:
    if left == 0:
        return 0
    if lately.jobs > 0 and lately.earned_cents > 0:
        return ceil(Fraction(left * lately.jobs, lately.earned_cents))
    return None


def _pace(lately: Lately) -> int | None:
    if lately.days < DAYS_FOR_A_PACE:
        return None
    return round_half_up(Fraction(lately.earned_cents, lately.days) * _DAYS_A_YEAR / _MONTHS_A_YEAR)


def _done_in_week(left: int, lately: Lately, today: date) -> date | None:
    if left == 0 or lately.days < DAYS_FOR_A_PACE or lately.earned_cents <= 0:
        return None
    days = ceil(Fraction(left * lately.days, lately.earned_cents))
    if days > FARTHEST_MONTHS * _DAYS_A_YEAR / _MONTHS_A_YEAR:
        return None
    day = today + timedelta(days=days)
    return day - timedelta(days=day.weekday())
