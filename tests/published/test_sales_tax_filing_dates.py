"""Due dates of sales tax returns from 2022 to 2027, moved off weekends and legal holidays.

The legal holidays are those of 5 U.S.C. 6103: Martin Luther King Jr. Day is the third Monday of January, Christmas Day
on a Saturday is observed on the Friday before, on a Sunday on the Monday after. Weekdays were read off a calendar.
"""

from __future__ import annotations

from datetime import date

import pytest

from ledger.periods import filing_due_date, parse_period

pytestmark = pytest.mark.published


@pytest.mark.parametrize(
    ("period", "due"),
    [
        ("2022-Q1", date(2022, 4, 20)),
        ("2022-Q2", date(2022, 7, 20)),
        ("2022-Q3", date(2022, 10, 20)),
        ("2022-Q4", date(2023, 1, 20)),
        ("2023-Q1", date(2023, 4, 20)),
        ("2023-Q2", date(2023, 7, 20)),
        ("2023-Q3", date(2023, 10, 20)),
        ("2023-Q4", date(2024, 1, 22)),  # the 20th is a Saturday
        ("2024-Q1", date(2024, 4, 22)),  # Saturday
        ("2024-Q2", date(2024, 7, 22)),  # Saturday
        ("2024-Q3", date(2024, 10, 21)),  # Sunday
        ("2024-Q4", date(2025, 1, 21)),  # Martin Luther King Jr. Day
        ("2025-Q1", date(2025, 4, 21)),  # Sunday
        ("2025-Q2", date(2025, 7, 21)),  # Sunday
        ("2025-Q3", date(2025, 10, 20)),
        ("2025-Q4", date(2026, 1, 20)),
        ("2026-Q1", date(2026, 4, 20)),
        ("2026-Q2", date(2026, 7, 20)),
        ("2026-Q3", date(2026, 10, 20)),
        ("2026-Q4", date(2027, 1, 20)),
        ("2027-Q1", date(2027, 4, 20)),
        ("2027-Q2", date(2027, 7, 20)),
        ("2027-Q3", date(2027, 10, 20)),
        ("2027-Q4", date(2028, 1, 20)),
    ],
)
def test_a_quarter_is_due_on_the_20th_or_the_next_open_day(period: str, due: date) -> None:
    assert filing_due_date(parse_period(period), 20) == due


@pytest.mark.parametrize(
    ("period", "due"),
    [
        ("2022-11", date(2022, 12, 27)),  # Sunday, observed on Monday
        ("2023-11", date(2023, 12, 26)),  # Monday
        ("2024-11", date(2024, 12, 26)),
        ("2025-11", date(2025, 12, 26)),
        ("2026-11", date(2026, 12, 28)),  # Friday, then the weekend
        ("2027-11", date(2027, 12, 27)),  # Saturday, then Sunday
    ],
)
def test_a_return_due_on_christmas_day_is_due_on_the_next_open_day(period: str, due: date) -> None:
    assert filing_due_date(parse_period(period), 25) == due


@pytest.mark.parametrize(("year", "day"), [(2022, 28), (2023, 28), (2024, 29), (2026, 2), (2027, 1)])
def test_day_31_of_february_is_its_last_day(year: int, day: int) -> None:
    """28 February 2026 is a Saturday and 28 February 2027 a Sunday, so that these are due in March."""
    month = 2 if day > 20 else 3
    assert filing_due_date(parse_period(f"{year}-01"), 31) == date(year, month, day)
