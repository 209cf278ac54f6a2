"""Other people's pieces in the house: which are here, their declared value, and the highest it has ever been.

A piece in and out on one day counts that day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

INTO_THE_HOUSE = frozenset({"in", "pickup undone"})
OUT_OF_THE_HOUSE = frozenset({"picked up", "back", "called off"})


@dataclass(frozen=True)
class Movement:
    """A piece comes in or goes out. value_cents: its declared value."""

    day: date
    job: int
    what: str
    value_cents: int


@dataclass(frozen=True)
class Custody:
    """What is here at the end of a day, and the day on which the most was here. Values in cents."""

    pieces: int
    value_cents: int
    highest_cents: int
    highest_on: date | None


def custody(movements: Sequence[Movement]) -> Custody:
    """Custody after movements that stand in the order in which they happened."""
    here: dict[int, int] = {}
    seen_that_day: dict[int, int] = {}
    highest, highest_on, day = 0, None, None
    for movement in movements:
        if movement.day != day:
            day, seen_that_day = movement.day, dict(here)
        if movement.what in INTO_THE_HOUSE:
            here[movement.job] = seen_that_day[movement.job] = movement.value_cents
        elif movement.what in OUT_OF_THE_HOUSE:
            here.pop(movement.job, None)
        if sum(seen_that_day.values()) > highest:
            highest, highest_on = sum(seen_that_day.values()), movement.day
    return Custody(len(here), sum(here.values()), highest, highest_on)
