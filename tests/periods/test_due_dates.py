"""Due dates move off Saturdays, Sundays and holidays, never forward in vain and never back."""

from __future__ import annotations

import subprocess
import sys
from datetime import date, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from ledger.errors import NotUnderstood
from ledger.periods import (
    estimated_tax_period_holding,
    estimated_tax_periods,
    filing_due_date,
    moved_off_closed_days,
    next_estimated_tax_due,
    parse_period,
)
from tests.structure.tree import CHECKOUT

DAY = timedelta(days=1)
# A weekend, Martin Luther King Day and Inauguration Day, as in January 2009.
MOST_DAYS_MOVED = 4


@pytest.mark.parametrize(
    ("day", "moved"),
    [
        (date(2026, 11, 25), date(2026, 11, 25)),  # a Wednesday
        (date(2026, 11, 26), date(2026, 11, 27)),  # Thanksgiving Day
        (date(2026, 7, 3), date(2026, 7, 6)),  # Independence Day, observed on the Friday before
        (date(2027, 7, 4), date(2027, 7, 6)),  # on a Sunday, observed on the Monday after
        (date(2021, 12, 31), date(2022, 1, 3)),  # New Year's Day, observed in the year before
        (date(2026, 6, 19), date(2026, 6, 22)),  # Juneteenth, a Friday
        (date(2020, 6, 19), date(2020, 6, 19)),  # before it was a holiday
        (date(2026, 4, 16), date(2026, 4, 17)),  # Emancipation Day in the District of Columbia
        (date(2022, 4, 15), date(2022, 4, 18)),  # the same, observed on the Friday before
        (date(2023, 4, 15), date(2023, 4, 18)),  # the same, observed on the Monday after
    ],
)
def test_a_federal_date_moves_to_the_next_open_day(day: date, moved: date) -> None:
    assert moved_off_closed_days(day) == moved


def test_a_state_adds_its_own_holidays() -> None:
    patriots_day = date(2026, 4, 20)
    assert moved_off_closed_days(patriots_day) == patriots_day
    assert moved_off_closed_days(patriots_day, "MA") == date(2026, 4, 21)
    assert moved_off_closed_days(date(2026, 4, 16), "MA") == date(2026, 4, 17)


@pytest.mark.parametrize("state", ["XX", "Narnia", "\x1b[2J"])
def test_a_state_that_there_is_not_is_refused(state: str) -> None:
    with pytest.raises(NotUnderstood, match="no state") as refused:
        moved_off_closed_days(date(2026, 1, 2), state)
    assert refused.value.field == "state"
    assert "\x1b" not in refused.value.what


@given(st.dates(date(1990, 1, 1), date(2120, 12, 31)))
@example(date(2009, 1, 17))
def test_a_date_never_moves_back_nor_far_and_not_off_an_open_day(day: date) -> None:
    moved = moved_off_closed_days(day)
    assert day <= moved <= day + MOST_DAYS_MOVED * DAY
    assert moved.weekday() < 5
    assert moved_off_closed_days(moved) == moved
    between = [day + number * DAY for number in range((moved - day).days)]
    assert all(moved_off_closed_days(closed) == moved for closed in between)


@pytest.mark.parametrize(
    ("period", "due_day", "due"),
    [
        ("2026-10", 25, date(2026, 11, 25)),
        ("2026-Q1", 20, date(2026, 4, 20)),
        ("2026-Q3", 31, date(2026, 11, 2)),  # 31 October is a Saturday
        ("2026-01", 31, date(2026, 3, 2)),  # the last day of February is a Saturday
        ("2026-03", 31, date(2026, 4, 30)),
        ("2026", 20, date(2027, 1, 20)),
        ("2025", 31, date(2026, 2, 2)),
        ("2026-12", 1, date(2027, 1, 4)),  # New Year's Day is a Friday
        ("2026-01-01..2026-02-14", 20, date(2026, 3, 20)),
    ],
)
def test_a_return_is_due_on_its_day_of_the_month_after_the_period(period: str, due_day: int, due: date) -> None:
    assert filing_due_date(parse_period(period), due_day) == due


def test_a_holiday_of_the_district_of_columbia_does_not_put_off_a_state_return() -> None:
    assert filing_due_date(parse_period("2026-03"), 16) == date(2026, 4, 16)


def test_a_holiday_of_her_state_puts_off_a_state_return() -> None:
    assert filing_due_date(parse_period("2026-Q1"), 20, "MA") == date(2026, 4, 21)


@pytest.mark.parametrize("due_day", [0, 32])
def test_a_due_day_that_there_is_not_is_refused(due_day: int) -> None:
    with pytest.raises(NotUnderstood):
        filing_due_date(parse_period("2026-Q1"), due_day)


@given(st.integers(1990, 2120))
def test_the_estimated_tax_periods_tile_the_year_and_are_due_after_they_end(tax_year: int) -> None:
    periods = estimated_tax_periods(tax_year)
    assert [period.number for period in periods] == [1, 2, 3, 4]
    assert (periods[0].start, periods[-1].end) == (date(tax_year, 1, 1), date(tax_year, 12, 31))
    assert all(one.end + DAY == other.start for one, other in zip(periods, periods[1:], strict=False))
    assert all(timedelta(15) <= period.due - period.end <= timedelta(15 + MOST_DAYS_MOVED) for period in periods)
    assert {period.tax_year for period in periods} == {tax_year}


@given(st.dates(date(1990, 1, 1), date(2120, 12, 31)))
def test_a_day_lies_in_one_estimated_tax_period_and_the_next_payment_is_the_nearest(day: date) -> None:
    assert estimated_tax_period_holding(day).holds(day)
    dues = [period.due for year in (day.year - 1, day.year) for period in estimated_tax_periods(year)]
    assert next_estimated_tax_due(day).due == min(due for due in dues if due >= day)


def test_the_first_payment_due_in_january_is_the_last_of_the_year_before() -> None:
    on_the_day, after = next_estimated_tax_due(date(2026, 1, 15)), next_estimated_tax_due(date(2026, 1, 16))
    assert (on_the_day.tax_year, on_the_day.number) == (2025, 4)
    assert (after.tax_year, after.number) == (2026, 1)


def test_the_holidays_are_not_loaded_before_a_due_date_is_asked_for() -> None:
    code = "import sys, ledger.periods; print('holidays' in sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], cwd=CHECKOUT, capture_output=True, text=True, check=False)
    assert loaded.stdout == "False\n", loaded.stderr
