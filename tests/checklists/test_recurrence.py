"""An item comes round again on the day that its rule counts from the answer, and never later for a short month."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checklists.recurrence import next_after, rule_fault


@pytest.mark.parametrize(
    ("rule", "answered", "again"),
    [
        ("FREQ=YEARLY", "2026-03-18", "2027-03-18"),
        ("FREQ=MONTHLY", "2026-03-18", "2026-04-18"),
        ("FREQ=MONTHLY;INTERVAL=3", "2026-11-18", "2027-02-18"),
        ("FREQ=WEEKLY", "2026-01-31", "2026-02-07"),
        ("FREQ=MONTHLY", "2026-01-31", "2026-02-28"),
        ("FREQ=YEARLY", "2024-02-29", "2025-02-28"),
        ("FREQ=YEARLY;BYMONTH=1;BYMONTHDAY=2", "2026-03-18", "2027-01-02"),
        ("FREQ=YEARLY;BYMONTH=1;BYMONTHDAY=2", "2026-01-02", "2027-01-02"),
        ("FREQ=MONTHLY;BYMONTHDAY=-1", "2026-01-31", "2026-02-28"),
    ],
)
def test_the_next_day_is_counted_from_the_answer(rule: str, answered: str, again: str) -> None:
    assert rule_fault(rule) is None
    assert next_after(rule, date.fromisoformat(answered)) == date.fromisoformat(again)


def test_a_day_that_is_ten_years_off_is_no_day() -> None:
    assert next_after("FREQ=YEARLY;INTERVAL=4;BYMONTH=2;BYMONTHDAY=29", date(2025, 3, 1)) is None


@given(st.dates(date(2020, 1, 1), date(2150, 12, 31)), st.integers(1, 24))
def test_a_month_is_never_skipped(answered: date, interval: int) -> None:
    again = next_after(f"FREQ=MONTHLY;INTERVAL={interval}", answered)
    assert again is not None
    months = (again.year - answered.year) * 12 + again.month - answered.month
    assert months == interval
    assert again.day == min(answered.day, 28)
