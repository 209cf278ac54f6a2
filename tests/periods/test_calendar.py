"""Months, quarters, years and filing periods: they tile the time, and next and previous undo each other."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotPossible, NotUnderstood
from ledger.periods import (
    Period,
    day_in_month,
    filing_period_holding,
    is_filing_period,
    last_day_of_month,
    month_holding,
    months_of,
    next_period,
    parse_period,
    previous_period,
    quarter_holding,
    year_holding,
)

DAY = timedelta(days=1)
DAYS = st.dates(date(1901, 1, 1), date(2198, 12, 31))
FREQUENCIES = st.sampled_from(["monthly", "quarterly", "yearly"])


@given(DAYS, FREQUENCIES)
def test_the_period_holding_a_day_holds_it_and_begins_the_day_after_the_one_before(day: date, frequency: str) -> None:
    period = filing_period_holding(day, frequency)
    assert period.holds(day)
    assert previous_period(period).end + DAY == period.start
    assert next_period(period).start - DAY == period.end


@given(DAYS, FREQUENCIES)
def test_next_and_previous_undo_each_other(day: date, frequency: str) -> None:
    period = filing_period_holding(day, frequency)
    assert previous_period(next_period(period)) == period
    assert next_period(previous_period(period)) == period
    assert next_period(period).label > period.label


@given(st.integers(1900, 2199))
def test_months_and_quarters_tile_the_year(year: int) -> None:
    whole = year_holding(date(year, 7, 1))
    months = months_of(whole)
    assert [month.label for month in months] == [f"{year}-{number:02d}" for number in range(1, 13)]
    quarters = [quarter_holding(month.start) for month in months[::3]]
    assert [quarter.label for quarter in quarters] == [f"{year}-Q{number}" for number in (1, 2, 3, 4)]
    for parts in (months, quarters):
        assert (parts[0].start, parts[-1].end) == (whole.start, whole.end)
        assert all(one.end + DAY == other.start for one, other in zip(parts, parts[1:], strict=False))


@given(DAYS, DAYS)
def test_the_months_of_any_span_tile_it_and_none_leaves_its_month(one: date, other: date) -> None:
    start, end = sorted((one, min(other, one + timedelta(days=900))))
    parts = months_of(Period(start, end, "a span"))
    assert (parts[0].start, parts[-1].end) == (start, end)
    assert all(part.end + DAY == following.start for part, following in zip(parts, parts[1:], strict=False))
    assert all(month_holding(part.start).holds(part.end) for part in parts)


def test_a_period_is_over_on_the_day_after_its_last() -> None:
    quarter = parse_period("2026-Q3")
    assert not quarter.is_over(date(2026, 9, 30))
    assert quarter.is_over(date(2026, 10, 1))


def test_a_period_holds_both_its_ends_and_nothing_beside_them() -> None:
    month = parse_period("2026-02")
    days = [date(2026, 1, 31), date(2026, 2, 1), date(2026, 2, 28), date(2026, 3, 1)]
    assert [month.holds(day) for day in days] == [False, True, True, False]


def test_a_span_has_no_next_period() -> None:
    with pytest.raises(NotPossible, match="2026-01..2026-05 is no whole month, quarter or year"):
        next_period(parse_period("2026-01..2026-05"))


def test_a_period_cannot_end_before_it_starts() -> None:
    with pytest.raises(AssertionError):
        Period(date(2026, 2, 1), date(2026, 1, 31), "backwards")


def test_a_filing_period_is_told_from_a_longer_one() -> None:
    assert is_filing_period(parse_period("2026-01..2026-03"), "quarterly")
    assert not is_filing_period(parse_period("2026-01..2026-03"), "monthly")
    assert not is_filing_period(parse_period("2026-02..2026-04"), "quarterly")
    assert is_filing_period(parse_period("2026"), "yearly")


def test_a_frequency_that_there_is_not_is_refused() -> None:
    with pytest.raises(NotUnderstood, match="weekly") as refused:
        filing_period_holding(date(2026, 1, 1), "weekly")
    assert refused.value.field == "frequency"


@pytest.mark.parametrize(
    ("year", "month", "number", "day"),
    [
        (2026, 2, 31, date(2026, 2, 28)),
        (2024, 2, 31, date(2024, 2, 29)),
        (2026, 4, 31, date(2026, 4, 30)),
        (2026, 4, 30, date(2026, 4, 30)),
        (2026, 12, 31, date(2026, 12, 31)),
        (2026, 2, 25, date(2026, 2, 25)),
        (2026, 2, 1, date(2026, 2, 1)),
    ],
)
def test_a_day_of_the_month_beyond_its_last_is_its_last(year: int, month: int, number: int, day: date) -> None:
    assert day_in_month(year, month, number) == day


@pytest.mark.parametrize("number", [0, -1, 32])
def test_a_number_that_is_no_day_of_any_month_is_refused(number: int) -> None:
    with pytest.raises(NotUnderstood) as refused:
        day_in_month(2026, 1, number)
    assert refused.value.field == "due_day"


@given(DAYS)
def test_the_day_after_the_last_of_a_month_is_a_first(day: date) -> None:
    assert (last_day_of_month(day.year, day.month) + DAY).day == 1
