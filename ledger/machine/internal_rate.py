"""The yearly rate of return on dated flows of money: the rate at which they are worth nothing on their first day.

A year is 365 days, as in the usual definition of the internal rate on dated flows. The rate is a float: it is no amount
and never becomes one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from math import exp, expm1

_DAYS_A_YEAR = 365
# The logarithms of one plus the rate among which it is sought: from a thousandth of a percent left to 4,000,000 %.
_LOWEST, _HIGHEST, _STEP = -11.5, 10.6, 0.05
_BISECTIONS = 80


@dataclass(frozen=True)
class Flow:
    """cents: above zero for what came back, below for what was put in."""

    day: date
    cents: int


def internal_rate(flows: Iterable[Flow]) -> float | None:
    """The rate of a year, 0.175 for 17.5 %; of several the one nearest to zero. None where there is none.

    There is none where nothing was put in, nothing came back, all of it on one day, or too little to be measured.
    """
    dated = _by_years([each for each in flows if each.cents])
    if not dated or not min(cents for _, cents in dated) < 0 < max(cents for _, cents in dated):
        return None
    if len({years for years, _ in dated}) < 2:
        return None
    roots = [_root(dated, low, high) for low, high in _sign_changes(dated)]
    return expm1(min(roots, key=abs)) if roots else None


def _by_years(flows: Sequence[Flow]) -> list[tuple[float, int]]:
    first = min((each.day for each in flows), default=None)
    return [((each.day - first).days / _DAYS_A_YEAR, each.cents) for each in flows] if first is not None else []


def _sign_changes(dated: Sequence[tuple[float, int]]) -> list[tuple[float, float]]:
    steps = round((_HIGHEST - _LOWEST) / _STEP)
    places = [_LOWEST + _STEP * step for step in range(steps + 1)]
    worths = [_worth(dated, place) for place in places]
    return [
        (places[at], places[at + 1])
        for at in range(steps)
        if worths[at] == 0 or (worths[at] < 0) != (worths[at + 1] < 0)
    ]


def _root(dated: Sequence[tuple[float, int]], low: float, high: float) -> float:
    is_below = _worth(dated, low) < 0
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2
        low, high = (middle, high) if (_worth(dated, middle) < 0) == is_below else (low, middle)
    return (low + high) / 2


def _worth(dated: Sequence[tuple[float, int]], growth: float) -> float:
    """What the flows are worth on their first day, or on their last where they shrink, so that nothing overflows."""
    start = 0.0 if growth >= 0 else max(years for years, _ in dated)
    return sum(cents * exp(-growth * (years - start)) for years, cents in dated)
