"""Visits to the house, read from what happened to the pieces: each drop-off and each pickup is one.

A piece that goes home by post brings nobody. What was undone did not happen: neither visit nor coming back counts then.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Happening:
    """An event of a job. customer: whose piece it is. is_posted: by post. is_undoing: it takes an earlier one back."""

    day: date
    job: int
    customer: int
    what: str
    is_posted: bool = False
    is_undoing: bool = False


@dataclass(frozen=True)
class VisitDay:
    """A day with visits. customers: how many different ones they were; who picks up and drops off made two visits."""

    day: date
    visits: int
    customers: int


def visit_days(happenings: Sequence[Happening]) -> tuple[VisitDay, ...]:
    """The days with visits, in order, after happenings that stand in the order in which they happened."""
    visits: list[Happening] = []
    here: set[int] = set()
    for each in happenings:
        if each.is_undoing and each.what in ("pickup undone", "in"):
            _take_back(visits, each.job)
            here.add(each.job)
        elif each.what == "in":
            visits.append(each)
            here.add(each.job)
        elif each.what in ("picked up", "back", "called off"):
            if each.job in here or each.what != "called off":
                visits.append(each)
            here.discard(each.job)
    return _by_day([each for each in visits if not each.is_posted])


def _take_back(visits: list[Happening], job: int) -> None:
    """Drop the last going of a piece, posted or not."""
    last = max(number for number, each in enumerate(visits) if each.job == job)
    assert visits[last].what in ("picked up", "called off")
    del visits[last]


def _by_day(visits: Sequence[Happening]) -> tuple[VisitDay, ...]:
    customers: dict[date, list[int]] = {}
    for each in visits:
        customers.setdefault(each.day, []).append(each.customer)
    return tuple(VisitDay(day, len(found), len(set(found))) for day, found in sorted(customers.items()))
