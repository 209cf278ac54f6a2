"""How far the machine is from being paid off.

Two measures, never mixed: *taken in* is job income alone; *earned* is job income less every workshop expense that is no
part of the payback cost itself. The machine is paid off when what was earned reaches its cost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import ceil
from random import Random

from ledger.money import round_half_up

MONTHS_FOR_A_FORECAST = 3
_PATHS = 1000
_FARTHEST_MONTHS = 600


@dataclass(frozen=True)
class Month:
    """A whole month of the record. earned_cents may be below zero."""

    first_day: date
    earned_cents: int


@dataclass(frozen=True)
class Forecast:
    """The month in which the machine is paid off, as its first day: one path in ten is earlier than `early`, one later
    than `late`. None where it is not reached at this pace. too_early: under three months of record."""

    early: date | None
    middle: date | None
    late: date | None
    too_early: bool


@dataclass(frozen=True)
class Payback:
    """Amounts in cents. share_percent: earned of cost, with two decimals; None without a machine.

    jobs_left: at the recent average of what a job leaves; None where a job leaves nothing or there was none.
    """

    cost_cents: int
    taken_in_cents: int
    earned_cents: int
    share_percent: Decimal | None
    left_cents: int
    jobs_left: int | None
    forecast: Forecast


def payback(
    cost_cents: int,
    taken_in_cents: int,
    earned_cents: int,
    recent_earned_cents: int,
    recent_jobs: int,
    months: Sequence[Month],
    today: date,
) -> Payback:
    """months: the whole months since the first job, the running one left out."""
    left = max(0, cost_cents - earned_cents)
    share = None
    if cost_cents:
        share = Decimal(round_half_up(Fraction(earned_cents * 10_000, cost_cents))) / 100
    jobs_left = None
    if left == 0:
        jobs_left = 0
    elif recent_jobs > 0 and recent_earned_cents > 0:
        jobs_left = ceil(Fraction(left * recent_jobs, recent_earned_cents))
    return Payback(cost_cents, taken_in_cents, earned_cents, share, left, jobs_left, forecast(left, months, today))


def forecast(left_cents: int, months: Sequence[Month], today: date) -> Forecast:
    """The 10th, 50th and 90th percentile of the month, from months drawn again and again from the record.

    The seed is fixed, so that the same record gives the same answer. What is paid off already is so this month.
    """
    if left_cents <= 0:
        this_month = today.replace(day=1)
        return Forecast(this_month, this_month, this_month, too_early=False)
    if len(months) < MONTHS_FOR_A_FORECAST:
        return Forecast(None, None, None, too_early=True)
    draw = Random(0)
    earned = [each.earned_cents for each in months]
    lengths = sorted(_months_until(left_cents, earned, draw) for _ in range(_PATHS))
    early, middle, late = (_month_after(today, lengths[_PATHS * tenths // 10 - 1]) for tenths in (1, 5, 9))
    return Forecast(early, middle, late, too_early=False)


def _months_until(left_cents: int, earned: Sequence[int], draw: Random) -> int:
    months = 0
    while left_cents > 0 and months < _FARTHEST_MONTHS:
        left_cents -= draw.choice(earned)
        months += 1
    return months


def _month_after(today: date, months: int) -> date | None:
    if months >= _FARTHEST_MONTHS:
        return None
    # The running month is the first of the months to come; at the end of its last day that is the next one.
    tomorrow = today + timedelta(days=1)
    count = tomorrow.year * 12 + tomorrow.month - 1 + months - 1
    return date(count // 12, count % 12 + 1, 1)
