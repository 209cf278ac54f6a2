"""The days on which a quarter, half and all of the machine was earned."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from ledger.machine.curve import CurvePoint

QUARTERS = {"a quarter": 1, "half": 2, "all": 4}


@dataclass(frozen=True)
class Milestone:
    """what: a quarter, half or all of the cost. reached_on: None while it is ahead."""

    what: str
    percent: int
    reached_on: date | None


@dataclass(frozen=True)
class DayStanding:
    """Earned and cost at the end of a day, in cents."""

    day: date
    earned_cents: int
    cost_cents: int


def milestones(
    points: Sequence[CurvePoint], days_of: Callable[[CurvePoint], Iterable[DayStanding]]
) -> tuple[Milestone, ...]:
    """Each with its day: the first one, in the first month whose end held it. days_of: the days of a month, in order.

    What was reached in the middle of a month and gone by its end is none, and neither is anything without a machine.
    """
    return tuple(
        Milestone(what, quarters * 25, _reached_on(points, days_of, quarters)) for what, quarters in QUARTERS.items()
    )


def _reached_on(
    points: Sequence[CurvePoint], days_of: Callable[[CurvePoint], Iterable[DayStanding]], quarters: int
) -> date | None:
    for point in points:
        if _holds(point.earned_cents, point.cost_cents, quarters):
            return next(
                (each.day for each in days_of(point) if _holds(each.earned_cents, each.cost_cents, quarters)), None
            )
    return None


def _holds(earned_cents: int, cost_cents: int, quarters: int) -> bool:
    return cost_cents > 0 and earned_cents * 4 >= cost_cents * quarters
