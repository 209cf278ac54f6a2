"""The plan that was kept before the machine was bought, and what became of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import islice, takewhile

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.machine.curve import CurvePoint, PlannedPoint
from ledger.machine.forecast import months_on
from ledger.machine.plan import Plan, PlanMonth, months_of
from ledger.machine.plan_files import read_plan

_MOST_MONTHS_DRAWN = 120


@dataclass(frozen=True)
class KeptPlan:
    """content: the file as it was kept on a day."""

    plan: Plan
    content: str
    kept_on: date


@dataclass(frozen=True)
class PlanAgainstBooks:
    """The end of a month: what was to have been earned since the plan's start, and what was, in cents."""

    first_day: date
    planned_cents: int
    earned_cents: int

    @property
    def ahead_cents(self) -> int:
        """Below zero where the books are behind the plan."""
        return self.earned_cents - self.planned_cents


def keep_plan(books: Books, write: Writing, plan: Plan, content: str) -> int:
    return write.add(
        "plan", name=plan.name, content=content, starts_on=plan.starts.isoformat(), on_date=books.today.isoformat()
    )


def read_kept_plan(books: Books) -> KeptPlan | None:
    """The latest one that was kept by today. Raises NotUnderstood for one that can be read no more."""
    row = books.row("select * from plan where on_date <= ? order by id desc limit 1", (books.today.isoformat(),))
    if row is None:
        return None
    starts = date.fromisoformat(row["starts_on"])
    plan = read_plan(row["content"], row["name"], books.currency, starts)
    return KeptPlan(replace(plan, name=row["name"], starts=starts), row["content"], date.fromisoformat(row["on_date"]))


def held_against(plan: Plan, points: Sequence[CurvePoint]) -> tuple[PlanAgainstBooks, ...]:
    """Month by month from the plan's start; months before the books began have nothing to compare with."""
    before = _earned_before(plan.starts, points)
    earned = {each.first_day: each.earned_cents - before for each in points}
    months = takewhile(lambda each: each.first_day <= points[-1].first_day, months_of(plan))
    return tuple(
        PlanAgainstBooks(each.first_day, each.earned_cents, earned[each.first_day])
        for each in months
        if each.first_day in earned
    )


def planned_points(plan: Plan, points: Sequence[CurvePoint], last: date) -> tuple[PlannedPoint, ...]:
    """The plan's curve, on top of what was earned before it, until it is paid off and at least until a month."""
    before = _earned_before(plan.starts, points)
    drawn: list[PlannedPoint] = []
    for each in islice(months_of(plan), _MOST_MONTHS_DRAWN):
        if each.first_day > last and drawn and _is_done(before, drawn[-1]):
            break
        drawn.append(_point(before, each))
    return tuple(drawn)


def _point(before: int, month: PlanMonth) -> PlannedPoint:
    return PlannedPoint(month.first_day, month.cost_cents, before + month.earned_cents)


def _is_done(before: int, point: PlannedPoint) -> bool:
    return point.earned_cents - before >= point.cost_cents


def _earned_before(starts: date, points: Sequence[CurvePoint]) -> int:
    last = months_on(starts, -1)
    return next((each.earned_cents for each in reversed(points) if each.first_day <= last), 0)
