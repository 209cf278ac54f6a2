"""The curve of the payback: what the machine had cost and earned by month, how it may go on, and what was planned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from ledger.machine.forecast import FanMonth, Forecast, Month, fan, first_month_to_come, months_on

MOST_FAN_MONTHS = 60
_MONTHS_BEYOND = 2
_FEWEST_MONTHS = 12


@dataclass(frozen=True)
class CurvePoint:
    """The end of a month, or today in the running one: what the machine had cost, taken in and earned, in cents."""

    first_day: date
    cost_cents: int
    taken_in_cents: int
    earned_cents: int


@dataclass(frozen=True)
class FanPoint:
    """What will be earned by the end of a month to come, in cents: its 10th, 50th and 90th percentile."""

    first_day: date
    low_cents: int
    middle_cents: int
    high_cents: int


@dataclass(frozen=True)
class PlannedPoint:
    """The end of a month of the plan that was kept: what it was to have earned and cost by then, in cents."""

    first_day: date
    cost_cents: int
    earned_cents: int


@dataclass(frozen=True)
class Curve:
    """points: the record, one a month without a gap. fan: empty where it is too early. planned: empty without one."""

    points: tuple[CurvePoint, ...]
    fan: tuple[FanPoint, ...]
    planned: tuple[PlannedPoint, ...]

    @property
    def first_day(self) -> date:
        return min(each[0].first_day for each in (self.points, self.planned) if each)

    @property
    def months(self) -> int:
        """How many months it goes over; a short record has room for its first year."""
        last = max(each[-1].first_day for each in (self.points, self.fan, self.planned) if each)
        return max(_FEWEST_MONTHS, months_between(self.first_day, last) + 1)


def fan_points(earned_cents: int, months: Sequence[Month], outlook: Forecast, today: date) -> tuple[FanPoint, ...]:
    """The spread of the forecast on top of what was earned, until somewhat after its late end, five years at most."""
    if outlook.too_early:
        return ()
    spread = fan(months, today, _fan_months(outlook, today))
    return tuple(_on_top(earned_cents, each) for each in spread)


def _fan_months(outlook: Forecast, today: date) -> int:
    last = outlook.late or outlook.middle or months_on(today, MOST_FAN_MONTHS)
    first = first_month_to_come(today)
    until = months_between(first, last)
    return max(1, min(MOST_FAN_MONTHS, until + 1 + _MONTHS_BEYOND))


def months_between(first: date, last: date) -> int:
    """How many months one lies after another; below zero where it lies before."""
    return (last.year - first.year) * 12 + last.month - first.month


def _on_top(earned_cents: int, spread: FanMonth) -> FanPoint:
    return FanPoint(
        spread.first_day,
        earned_cents + spread.low_cents,
        earned_cents + spread.middle_cents,
        earned_cents + spread.high_cents,
    )
