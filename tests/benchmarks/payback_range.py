"""How often the month in which a machine was really paid off fell within the range that was foretold.

The histories are generated: the months that the forecast sees, and those to come by which the truth is known. The range
goes from the 10th to the 90th percentile, so that it should hold in some 80 of 100.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import islice
from math import pi, sin, sqrt
from random import Random

from ledger.machine.forecast import Forecast, Month, forecast, months_on

HISTORIES = 200
MEAN_CENTS, SPREAD_CENTS, SEASON_CENTS = 600_00, 300_00, 400_00
LEFT_CENTS = (6_000_00, 15_000_00)
RECORD_MONTHS = (3, 6, 12, 24, 36)
FIRST, MOST_MONTHS = date(2024, 1, 1), 600
# How much of a month's luck goes on into the next, where months hang together.
CARRIED_OVER = 0.5


@dataclass(frozen=True)
class Workshop:
    """How its months go. season, carried_over: as above, or none. learning_months: until the full pace is there."""

    words: str
    season_cents: int = 0
    carried_over: float = 0.0
    learning_months: int = 0


WORKSHOPS = (
    Workshop("steady, with luck in each month alone"),
    Workshop("with a season", season_cents=SEASON_CENTS),
    Workshop("with a season, and good and bad spells", season_cents=SEASON_CENTS, carried_over=CARRIED_OVER),
    Workshop("learning in its first half year", learning_months=6),
)


def measure() -> Iterator[str]:
    for workshop in WORKSHOPS:
        for months in RECORD_MONTHS:
            held = early = late = 0
            for number in range(HISTORIES):
                found, truth = foretold_and_true(workshop, months, LEFT_CENTS[number % len(LEFT_CENTS)], number)
                early += found.early is None or truth < found.early
                late += found.late is not None and truth > found.late
            held = HISTORIES - early - late
            yield (
                f"{workshop.words}, {months} months of record: held in {held * 100 / HISTORIES:.0f} of 100 "
                f"(done before it {early * 100 / HISTORIES:.0f}, after it {late * 100 / HISTORIES:.0f})"
            )


def foretold_and_true(workshop: Workshop, months: int, left_cents: int, seed: int) -> tuple[Forecast, date]:
    """What is foretold after so many months, and the month in which what was left is really earned."""
    history = months_of(workshop, Random(f"{workshop.words} {months} {seed}"))
    record = [Month(months_on(FIRST, at), cents) for at, cents in enumerate(islice(history, months))]
    first = months_on(FIRST, months)
    found = forecast(left_cents, record, date.fromordinal(first.toordinal() - 1))
    for number, cents in enumerate(islice(history, MOST_MONTHS)):
        left_cents -= cents
        if left_cents <= 0:
            return found, months_on(first, number)
    return found, date.max


def months_of(workshop: Workshop, draw: Random) -> Iterator[int]:
    luck, number = 0.0, 0
    fresh = SPREAD_CENTS * sqrt(1 - workshop.carried_over**2)
    while True:
        luck = workshop.carried_over * luck + draw.gauss(0, fresh)
        pace = min(1.0, 0.3 + 0.7 * number / workshop.learning_months) if workshop.learning_months else 1.0
        yield round(MEAN_CENTS * pace + workshop.season_cents * sin(number * pi / 6) + luck)
        number += 1
