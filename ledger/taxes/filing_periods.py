"""Filing periods, worked out from how often she files and since when; each has both its ends included.

A frequency is monthly, quarterly, yearly, or one of her own such as `6 months from month 2`, which begins anew in the
same months of every year. One that holds from a day in the middle of a period cuts that period in two.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from ledger.errors import NotPossible, NotUnderstood
from ledger.periods import (
    FIRST_YEAR,
    LAST_YEAR,
    Period,
    filing_period_holding,
    last_day_of_month,
    period_between,
)
from ledger.text import shown

# What is taken for the length of a period until she has said how often she files.
USUAL_FREQUENCY = "quarterly"
_MONTHS_OF_A_YEAR = 12
_OWN = re.compile(r"([0-9]{1,2}) months? from month ([0-9]{1,2})")
_DAY = timedelta(days=1)


@dataclass(frozen=True)
class FilingRule:
    """How often she files, from a day on."""

    frequency: str
    from_date: date


def own_frequency(months: int, first_month: int) -> str:
    """The words of a frequency of her own: periods of so many months, one of which begins in `first_month`.

    Raises NotUnderstood unless the months divide a year, and the month is one.
    """
    if not 1 <= months <= _MONTHS_OF_A_YEAR or _MONTHS_OF_A_YEAR % months:
        raise NotUnderstood(
            f"Periods of {months} months do not fill a year.", "Give 1, 2, 3, 4, 6 or 12 months.", "months"
        )
    if not 1 <= first_month <= _MONTHS_OF_A_YEAR:
        raise NotUnderstood(
            f"There is no month {first_month}.", "Give 1 for January to 12 for December.", "first_month"
        )
    return f"{months} months from month {first_month}"


def frequency_in_words(frequency: str) -> str:
    """`quarterly`, or `every 6 months from month 2`."""
    return f"every {frequency}" if _OWN.fullmatch(frequency) else frequency


def whole_period(day: date, frequency: str) -> Period:
    """The period of a frequency in which a day lies, as if it had always held. Raises NotUnderstood for no such one."""
    found = _OWN.fullmatch(frequency)
    if found is None:
        return filing_period_holding(day, frequency)
    months, first = int(found[1]), int(found[2])
    since = (day.year * _MONTHS_OF_A_YEAR + day.month - first) // months * months + first
    (start_year, start_month), (end_year, end_month) = _month(since), _month(since + months - 1)
    return period_between(date(start_year, start_month, 1), last_day_of_month(end_year, end_month))


def _month(number: int) -> tuple[int, int]:
    """Year and month of a month counted from the year 0, whose January is 1."""
    return (number - 1) // _MONTHS_OF_A_YEAR, (number - 1) % _MONTHS_OF_A_YEAR + 1


def period_holding(rules: Sequence[FilingRule], day: date) -> Period:
    """The filing period in which a day lies. rules: by their days; the first holds for every day before it too."""
    place = max((number for number, each in enumerate(rules) if each.from_date <= day), default=0)
    frequency = rules[place].frequency if rules else USUAL_FREQUENCY
    whole = whole_period(day, frequency)
    start = max(whole.start, rules[place].from_date) if place else whole.start
    end = min(whole.end, rules[place + 1].from_date - _DAY) if place + 1 < len(rules) else whole.end
    return period_between(start, end)


def period_after(rules: Sequence[FilingRule], period: Period) -> Period:
    return period_holding(rules, period.end + _DAY)


def periods_from(rules: Sequence[FilingRule], first: date, last: date) -> Iterator[Period]:
    """The periods from the one that holds the first day to the one that holds the last, in order."""
    period = period_holding(rules, first)
    while period.start <= last:
        yield period
        period = period_after(rules, period)


def check_filing_period(rules: Sequence[FilingRule], period: Period) -> None:
    """Raises NotPossible for days that are not just one filing period, naming the one that holds the first of them."""
    if not FIRST_YEAR < period.start.year < LAST_YEAR:
        raise NotPossible(f"{period.label} lies beyond the calendar of these books.", "Name another period.", "period")
    held = period_holding(rules, period.start)
    if held != period:
        raise NotPossible(
            f"{shown(period.label)} is no filing period.",
            f"The one that holds {period.start} is {held.label}; how often you file is «twopurse tax period».",
            "period",
        )
