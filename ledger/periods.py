"""Days and periods: months, quarters, filing periods, estimated-tax periods, and due dates moved off closed days.

Every period has both its ends included. Nothing here asks for today's date; whoever needs it hands it in.
"""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Callable, Container
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache
from typing import Literal, get_args

from ledger.errors import NotPossible, NotUnderstood
from ledger.text import shown

FIRST_YEAR = 1900
LAST_YEAR = 2199

FilingFrequency = Literal["monthly", "quarterly", "yearly"]

_DAY = timedelta(days=1)
_SATURDAY = 5
_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_WHOLE_PERIOD = re.compile(r"([0-9]{4})(?:-[Qq]([1-4])|-([0-9]{2}))?")
_PERIOD_FORMS = "Write a year, quarter, month or span: 2026, 2026-Q1, 2026-03 or 2026-01..2026-05."


@dataclass(frozen=True)
class Period:
    """The days from `start` to `end`, both included. Two periods of the same days are equal, whatever their labels."""

    start: date
    end: date
    label: str = field(compare=False)

    def __post_init__(self) -> None:
        assert self.start <= self.end, "a period does not end before it starts"

    def holds(self, day: date) -> bool:
        return self.start <= day <= self.end

    def last_day_by(self, today: date) -> date:
        """Its last day that has come; the day before it begins where none has, so that nothing lies between."""
        return max(min(self.end, today), self.start - _DAY)

    def is_over(self, today: date) -> bool:
        """Whether its last day has passed."""
        return today > self.end


@dataclass(frozen=True)
class EstimatedTaxPeriod:
    """One of the four periods of a tax year in which income is earned, and the day its payment is due."""

    number: int
    start: date
    end: date
    due: date

    @property
    def tax_year(self) -> int:
        return self.start.year

    def holds(self, day: date) -> bool:
        return self.start <= day <= self.end


def parse_date(text: str, field: str | None = None) -> date:
    """A day written as ISO 8601 YYYY-MM-DD and in no other way, from 1900 to 2199. Raises NotUnderstood."""
    found = _DATE.fullmatch(text)
    if found is None:
        raise NotUnderstood(
            f"«{_short(text)}» cannot be read as a date.", "Write year, month and day, such as 2026-03-14.", field
        )
    year, month, day = (int(part) for part in found.groups())
    _check_month(text, year, month, field)
    last = last_day_of_month(year, month).day
    if not 1 <= day <= last:
        raise NotUnderstood(f"There is no day {text}.", f"Give a day from {text[:8]}01 to {text[:8]}{last}.", field)
    return date(year, month, day)


def parse_period(text: str, field: str | None = "period") -> Period:
    """The period that `2026`, `2026-Q1`, `2026-03` or `2026-01..2026-05` means; either side of a span may be a day too.

    A span that is just one month, quarter or year gets its label: `2026-01..2026-03` is `2026-Q1`. Raises
    NotUnderstood.
    """
    first, dots, last = text.partition("..")
    if not dots:
        return _whole_period(text, text, field)
    start = _side(text, first, field).start
    end = _side(text, last, field).end
    if end < start:
        raise NotUnderstood(f"«{_short(text)}» ends before it starts.", "Put the earlier side first.", field)
    return period_between(start, end)


def _side(text: str, side: str, field: str | None) -> Period:
    if _DATE.fullmatch(side):
        day = parse_date(side, field)
        return Period(day, day, side)
    return _whole_period(text, side, field)


def _whole_period(text: str, part: str, field: str | None) -> Period:
    found = _WHOLE_PERIOD.fullmatch(part)
    if found is None:
        raise NotUnderstood(f"«{_short(text)}» cannot be read as a period.", _PERIOD_FORMS, field)
    year, quarter, month = (int(number or 0) for number in found.groups())
    _check_month(text, year, month if found[3] else 1, field)
    if quarter:
        return quarter_holding(date(year, 3 * quarter, 1))
    return month_holding(date(year, month, 1)) if month else year_holding(date(year, 1, 1))


def _check_month(text: str, year: int, month: int, field: str | None) -> None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise NotUnderstood(
            f"The year in «{_short(text)}» is out of range.", f"Give a year from {FIRST_YEAR} to {LAST_YEAR}.", field
        )
    if not 1 <= month <= 12:
        raise NotUnderstood(f"There is no month {month:02d} in «{_short(text)}».", "Give a month from 01 to 12.", field)


def _short(text: str) -> str:
    return shown(text[:40])


def last_day_of_month(year: int, month: int) -> date:
    return date(year, month, monthrange(year, month)[1])


def day_in_month(year: int, month: int, day_number: int, field: str | None = "due_day") -> date:
    """That day of the month, or the month's last day where it is shorter (31 always means its last).

    Raises NotUnderstood for a number that is no day of any month.
    """
    if not 1 <= day_number <= 31:
        raise NotUnderstood(f"No month has a day {day_number}.", "Give a day from 1 to 31; 31 is the last.", field)
    last = last_day_of_month(year, month)
    return last.replace(day=min(day_number, last.day))


def month_holding(day: date) -> Period:
    return Period(day.replace(day=1), last_day_of_month(day.year, day.month), f"{day.year}-{day.month:02d}")


def quarter_holding(day: date) -> Period:
    """The calendar quarter; estimated-tax periods are others (`estimated_tax_periods`)."""
    number = (day.month + 2) // 3
    return Period(date(day.year, 3 * number - 2, 1), last_day_of_month(day.year, 3 * number), f"{day.year}-Q{number}")


def year_holding(day: date) -> Period:
    return Period(date(day.year, 1, 1), date(day.year, 12, 31), f"{day.year}")


_HOLDING: dict[FilingFrequency, Callable[[date], Period]] = {
    "monthly": month_holding,
    "quarterly": quarter_holding,
    "yearly": year_holding,
}


def period_between(start: date, end: date) -> Period:
    """The days from `start` to `end`, labelled as shortly as a person could have typed them."""
    for holding in _HOLDING.values():
        whole = holding(start)
        if (whole.start, whole.end) == (start, end):
            return whole
    first, last = month_holding(start), month_holding(end)
    if (first.start, last.end) == (start, end):
        return Period(start, end, f"{first.label}..{last.label}")
    return Period(start, end, f"{start}..{end}")


def months_of(period: Period) -> tuple[Period, ...]:
    """The period cut at the ends of months, in order; the first and last part may be less than a month."""
    parts: list[Period] = []
    start = period.start
    while start <= period.end:
        end = min(month_holding(start).end, period.end)
        parts.append(period_between(start, end))
        start = end + _DAY
    return tuple(parts)


def next_period(period: Period) -> Period:
    """The month after a month, the quarter after a quarter, the year after a year. Raises NotPossible for a span."""
    return _holding_of(period)(period.end + _DAY)


def previous_period(period: Period) -> Period:
    """The month before a month, the quarter before a quarter, the year before a year. Raises NotPossible for a span."""
    return _holding_of(period)(period.start - _DAY)


def _holding_of(period: Period) -> Callable[[date], Period]:
    for holding in _HOLDING.values():
        if holding(period.start) == period:
            return holding
    raise NotPossible(
        f"{period.label} is no whole month, quarter or year.", "Choose one of these, such as 2026-Q1.", "period"
    )


def filing_period_holding(day: date, frequency: str) -> Period:
    """The filing period in which a day lies. Raises NotUnderstood unless the frequency is one of FilingFrequency."""
    for known in get_args(FilingFrequency):
        if frequency == known:
            return _HOLDING[known](day)
    raise NotUnderstood(
        f"«{_short(frequency)}» is no filing frequency.", "Choose monthly, quarterly or yearly.", "frequency"
    )


def is_filing_period(period: Period, frequency: str) -> bool:
    """Whether these days are just one filing period. Raises NotUnderstood as `filing_period_holding` does."""
    return filing_period_holding(period.start, frequency) == period


def filing_due_date(period: Period, due_day: int, state: str | None = None) -> date:
    """When a sales tax return is due: that day (31: the last) of the month after the period, moved off closed days.

    Closed days are her state's where it is given, otherwise the federal ones. Emancipation Day, which is kept in the
    District of Columbia alone, does not count here: a date shown too late costs a penalty, one shown early nothing.
    Raises NotUnderstood for a due day or a state that there is not.
    """
    after = next_period(month_holding(period.end)).start
    return _moved(day_in_month(after.year, after.month, due_day), _closed_days(state))


def moved_off_closed_days(day: date, state: str | None = None) -> date:
    """A federal tax date moved to the next day that is no Saturday, Sunday or legal holiday.

    Legal holidays are those of the District of Columbia, Emancipation Day among them, and those of a state where the
    office of that state takes the return. Source: Internal Revenue Code, section 7503. Raises NotUnderstood for a
    state that there is not.
    """
    closed = [_closed_days("DC")] if state is None else [_closed_days("DC"), _closed_days(state)]
    return _moved(day, *closed)


def _moved(day: date, *closed: Container[date]) -> date:
    while day.weekday() >= _SATURDAY or any(day in holidays for holidays in closed):
        day += _DAY
    return day


@cache
def _closed_days(state: str | None) -> Container[date]:
    """The holidays of a state (two letters), or the federal ones, the day on which they are observed among them."""
    from holidays import country_holidays  # 125 ms, only where a due date is worked out

    try:
        return country_holidays("US", subdiv=state)
    except NotImplementedError:
        raise NotUnderstood(
            f"«{_short(state or '')}» is no state.", "Give its two letters, such as KS.", "state"
        ) from None


# First month, last month, months from the start of the tax year to the month of payment.
_ESTIMATED_TAX_MONTHS = ((1, 3, 3), (4, 5, 5), (6, 8, 8), (9, 12, 12))
_ESTIMATED_TAX_DAY = 15


def estimated_tax_periods(tax_year: int) -> tuple[EstimatedTaxPeriod, ...]:
    """The four periods of a calendar tax year: to 31 March, 31 May, 31 August and 31 December.

    Due on 15 April, 15 June, 15 September and 15 January after, moved off closed days. Source: Internal Revenue Code,
    section 6654(c) and 7503; the Internal Revenue Service's page on estimated taxes.
    """
    periods: list[EstimatedTaxPeriod] = []
    for number, (first, last, months) in enumerate(_ESTIMATED_TAX_MONTHS, start=1):
        due = date(tax_year + months // 12, months % 12 + 1, _ESTIMATED_TAX_DAY)
        start, end = date(tax_year, first, 1), last_day_of_month(tax_year, last)
        periods.append(EstimatedTaxPeriod(number, start, end, moved_off_closed_days(due)))
    return tuple(periods)


def estimated_tax_period_holding(day: date) -> EstimatedTaxPeriod:
    """The estimated-tax period in which income of that day falls."""
    return next(period for period in estimated_tax_periods(day.year) if period.holds(day))


def next_estimated_tax_due(today: date) -> EstimatedTaxPeriod:
    """The period whose payment is the next one due, today's included; early in January it is one of last year's."""
    candidates = (*estimated_tax_periods(today.year - 1), *estimated_tax_periods(today.year))
    return next(period for period in candidates if period.due >= today)
