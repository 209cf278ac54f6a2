"""When the machine is paid off: the monthly record drawn again and again into months to come.

Each of many paths is made in two steps. First the record itself is drawn anew, since other months could as well have
come, and what is usual is taken from that; then the months to come are drawn around it. So the range holds both the
ups and downs to come and how little a short record tells. From 24 months on, what is usual is that of each calendar
month, and what departs from it is drawn in runs of a quarter, so that a season and a slow spell stay whole; before, it
is the mean of all months, and each is drawn alone.

Figures here are estimates and may be floats; no amount of the books is among them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate, islice
from math import ceil, sqrt
from random import Random

from ledger.periods import month_holding

MONTHS_FOR_A_FORECAST = 3
MONTHS_FOR_SEASONS = 24
MOST_MONTHS_DRAWN_FROM = 36
LATEST_FIRST_DAY = 7
FARTHEST_MONTHS = 360
WOULD_DO_MONTHS = 60
_PATHS = 1000
_RUN_MONTHS = 3
_DRAWN_MONTHS = 120
_YEAR_MONTHS = 12

# The 90th percentile of Student's t over that of the normal distribution, by degrees of freedom: what a spread that was
# estimated from few months falls short by. NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.2.
_NORMAL_90 = 1.282
_STUDENT_90 = (3.078, 1.886, 1.638, 1.533, 1.476, 1.440, 1.415, 1.397, 1.383, 1.372, 1.363, 1.356, 1.350, 1.345, 1.341)


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
class FanMonth:
    """What will have been earned from now to the end of a month, in cents: its 10th, 50th and 90th percentile."""

    first_day: date
    low_cents: int
    middle_cents: int
    high_cents: int


def whole_months(months: Sequence[Month], first_pickup: date) -> list[Month]:
    """The record without the month in which work began, unless the first piece left in its first week.

    A month that was begun late says less than a month brings. The week is a rule of ours, without a source.
    """
    first_whole = first_pickup.replace(day=1)
    if first_pickup.day > LATEST_FIRST_DAY:
        first_whole = months_on(first_whole, 1)
    return [each for each in months if each.first_day >= first_whole]


def forecast(left_cents: int, months: Sequence[Month], today: date) -> Forecast:
    """The 10th, 50th and 90th percentile of the month. months: whole ones, in order, without a gap.

    The seeds are fixed, so that the same record gives the same answer. What is paid off already is so this month.
    """
    if left_cents <= 0:
        this_month = today.replace(day=1)
        return Forecast(this_month, this_month, this_month, too_early=False)
    if len(months) < MONTHS_FOR_A_FORECAST:
        return Forecast(None, None, None, too_early=True)
    record = _Record(months, today)
    lengths = sorted(_months_until(left_cents, record.path(number)) for number in range(_PATHS))
    early, middle, late = (_month_reached(today, length) for length in _percentiles(lengths))
    return Forecast(early, middle, late, too_early=False)


def fan(months: Sequence[Month], today: date, horizon_months: int) -> list[FanMonth]:
    """How far the paths of the forecast spread, month by month from the first to come; empty where it is too early."""
    if len(months) < MONTHS_FOR_A_FORECAST:
        return []
    first, record = first_month_to_come(today), _Record(months, today)
    paths = [list(accumulate(islice(record.path(number).months, horizon_months))) for number in range(_PATHS)]
    spread = (_percentiles(sorted(path[at] for path in paths)) for at in range(horizon_months))
    return [FanMonth(months_on(first, at), *map(round, ends)) for at, ends in enumerate(spread)]


def pace_that_would_do(left_cents: int) -> int:
    """What would have to be earned a month, in cents, for the machine to be paid off in five years."""
    return -(-left_cents // WOULD_DO_MONTHS)


def first_month_to_come(today: date) -> date:
    """The running month; on its last day the next, since a figure of a day is that of its end."""
    return (today + timedelta(days=1)).replace(day=1)


def months_on(first_day: date, months: int) -> date:
    """The first day of the month that comes so many months after another; before it where they are below zero."""
    count = first_day.year * 12 + first_day.month - 1 + months
    return date(count // 12, count % 12 + 1, 1)


@dataclass(frozen=True)
class _Path:
    """mean: what a month of it brings in the long run, in cents. months: what each month brings, without end."""

    mean: float
    months: Iterator[float]


class _Record:
    """What is usual in each calendar month, and how the months of the record departed from it."""

    def __init__(self, record: Sequence[Month], today: date) -> None:
        # What lies farther back says little of the months to come: she was learning, or asked other prices.
        months = record[-MOST_MONTHS_DRAWN_FROM:]
        self._has_seasons = len(months) >= MONTHS_FOR_SEASONS
        seasons = _YEAR_MONTHS if self._has_seasons else 1
        self._seasons = [each.first_day.month % seasons for each in months]
        self._first = first_month_to_come(today).month % seasons
        self._first_part = _part_to_come(today)
        sums, counts = [0.0] * seasons, [0] * seasons
        for season, each in zip(self._seasons, months, strict=True):
            sums[season] += each.earned_cents
            counts[season] += 1
        self._counts = counts
        self._usual = [total / count for total, count in zip(sums, counts, strict=True)]
        spread = _student_factor(len(months) - seasons)
        self._departures = [
            (each.earned_cents - self._usual[season]) * spread * sqrt(counts[season] / (counts[season] - 1))
            for season, each in zip(self._seasons, months, strict=True)
        ]

    def path(self, number: int) -> _Path:
        """One path; the same number gives the same."""
        draw = Random(number)
        usual = list(self._usual)
        drawn = self._draw(draw, len(self._departures))
        for season, departure in zip(self._seasons, drawn, strict=True):
            usual[season] += departure / self._counts[season]
        return _Path(sum(usual) / len(usual), self._months(draw, usual))

    def _months(self, draw: Random, usual: Sequence[float]) -> Iterator[float]:
        season, seasons, part = self._first, len(usual), self._first_part
        while True:
            for departure in self._draw(draw, _YEAR_MONTHS):
                yield (usual[season] + departure) * part
                season, part = (season + 1) % seasons, 1.0

    def _draw(self, draw: Random, count: int) -> list[float]:
        if not self._has_seasons:
            return draw.choices(self._departures, k=count)
        departures = self._departures
        starts = draw.choices(range(len(departures) - _RUN_MONTHS + 1), k=-(-count // _RUN_MONTHS))
        return [each for start in starts for each in departures[start : start + _RUN_MONTHS]][:count]


def _part_to_come(today: date) -> float:
    """What part of the first month to come is still ahead: of the running one, the days after today."""
    last = month_holding(first_month_to_come(today)).end
    return min(1.0, (last - today).days / last.day)


def _student_factor(degrees: int) -> float:
    if degrees <= len(_STUDENT_90):
        return _STUDENT_90[degrees - 1] / _NORMAL_90
    return 1 + (_NORMAL_90**2 + 1) / (4 * degrees)  # the first term of its expansion


def _months_until(left_cents: float, path: _Path) -> int:
    for months, earned in enumerate(islice(path.months, _DRAWN_MONTHS), start=1):
        left_cents -= earned
        if left_cents <= 0:
            return months
    # So far ahead the ups and downs have evened out, and drawing on would only take time.
    farther = ceil(left_cents / path.mean) if path.mean > 0 else FARTHEST_MONTHS
    return min(_DRAWN_MONTHS + farther, FARTHEST_MONTHS + 1)


def _percentiles(ordered: Sequence[float]) -> tuple[float, float, float]:
    early, middle, late = (ordered[_PATHS * tenths // 10 - 1] for tenths in (1, 5, 9))
    return early, middle, late


def _month_reached(today: date, months: float) -> date | None:
    return months_on(first_month_to_come(today), int(months) - 1) if months <= FARTHEST_MONTHS else None
