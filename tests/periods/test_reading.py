"""What is read as a date or a period, what is refused, and what the refusal says."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotUnderstood
from ledger.periods import Period, parse_date, parse_period


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-11-25", date(2026, 11, 25)),
        ("2024-02-29", date(2024, 2, 29)),
        ("1900-01-01", date(1900, 1, 1)),
        ("2199-12-31", date(2199, 12, 31)),
    ],
)
def test_a_date_is_year_month_day(text: str, day: date) -> None:
    assert parse_date(text) == day


@pytest.mark.parametrize(
    "text",
    [
        "",
        "today",
        "2026-1-1",
        "2026/01/01",
        "20260101",
        "2026-W01-1",
        "2026-01-01T00:00",
        " 2026-01-01",
        "2026-01-01\n",
        "-2026-01-01",
        "26-01-01",
        "+2026-1-01",
        "٢٠٢٦-٠١-٠١",
        "２０２６-01-01",
        "2026‑01‑01",
    ],
)
def test_no_other_way_of_writing_a_date_is_taken(text: str) -> None:
    with pytest.raises(NotUnderstood, match="cannot be read as a date") as refused:
        parse_date(text, "since")
    assert refused.value.field == "since"
    assert "2026-03-14" in refused.value.do


@pytest.mark.parametrize(
    ("text", "do"),
    [
        ("2026-02-29", "2026-02-01 to 2026-02-28"),
        ("2024-02-30", "2024-02-01 to 2024-02-29"),
        ("2026-04-31", "2026-04-01 to 2026-04-30"),
        ("2026-01-00", "2026-01-01 to 2026-01-31"),
        ("2026-13-01", "a month from 01 to 12"),
        ("2026-00-10", "a month from 01 to 12"),
        ("1899-12-31", "a year from 1900 to 2199"),
        ("2200-01-01", "a year from 1900 to 2199"),
        ("0000-00-00", "a year from 1900 to 2199"),
    ],
)
def test_a_day_that_there_is_not_is_refused_with_those_that_there_are(text: str, do: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        parse_date(text)
    assert do in refused.value.do


def test_a_refusal_shows_a_hostile_text_cut_and_without_what_a_terminal_obeys() -> None:
    with pytest.raises(NotUnderstood) as refused:
        parse_date("\x1b[2J" + "9" * 500)
    assert "\x1b" not in refused.value.what
    assert len(refused.value.what) < 90


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_every_date_of_these_years_is_read_as_it_is_written(day: date) -> None:
    assert parse_date(day.isoformat()) == day


@given(st.text(max_size=20))
def test_any_text_is_either_the_iso_form_of_a_date_or_refused(text: str) -> None:
    try:
        written_again = parse_date(text).isoformat()
    except NotUnderstood:
        written_again = text
    assert written_again == text


@pytest.mark.parametrize(
    ("text", "start", "end", "label"),
    [
        ("2026", date(2026, 1, 1), date(2026, 12, 31), "2026"),
        ("2026-Q1", date(2026, 1, 1), date(2026, 3, 31), "2026-Q1"),
        ("2026-q4", date(2026, 10, 1), date(2026, 12, 31), "2026-Q4"),
        ("2024-02", date(2024, 2, 1), date(2024, 2, 29), "2024-02"),
        ("2026-01..2026-05", date(2026, 1, 1), date(2026, 5, 31), "2026-01..2026-05"),
        ("2025-12..2026-01", date(2025, 12, 1), date(2026, 1, 31), "2025-12..2026-01"),
        ("2026-Q2..2026-Q3", date(2026, 4, 1), date(2026, 9, 30), "2026-04..2026-09"),
        ("2025..2026", date(2025, 1, 1), date(2026, 12, 31), "2025-01..2026-12"),
        ("2026-01-15..2026-02", date(2026, 1, 15), date(2026, 2, 28), "2026-01-15..2026-02-28"),
        ("2026-03-14..2026-03-14", date(2026, 3, 14), date(2026, 3, 14), "2026-03-14..2026-03-14"),
        ("2026-01..2026-03", date(2026, 1, 1), date(2026, 3, 31), "2026-Q1"),
        ("2026-01-01..2026-12-31", date(2026, 1, 1), date(2026, 12, 31), "2026"),
        ("2026-05..2026-05", date(2026, 5, 1), date(2026, 5, 31), "2026-05"),
    ],
)
def test_a_period_has_both_its_ends_and_its_shortest_label(text: str, start: date, end: date, label: str) -> None:
    period = parse_period(text)
    assert (period.start, period.end, period.label) == (start, end, label)


@pytest.mark.parametrize(
    "text",
    ["", "..", "2026..", "..2026", "2026-Q5", "2026-Q0", "2026-1", "2026-03-14", "Q1-2026", "2026-01.2026-02"]
    + ["2026-01...2026-02", "2026-01..2026-02..2026-03", " 2026", "2026 ", "٢٠٢٦", "2026-Q1 .. 2026-Q2", "26"],
)
def test_what_is_no_period_is_refused_with_the_four_forms(text: str) -> None:
    with pytest.raises(NotUnderstood, match="cannot be read as a period") as refused:
        parse_period(text)
    assert refused.value.field == "period"
    assert "2026-Q1" in refused.value.do


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("2026-13", "no month 13"),
        ("2026-00", "no month 00"),
        ("1899", "out of range"),
        ("2026-01..2200-01", "out of range"),
        ("2026-02-30..2026-03", "no day 2026-02-30"),
        ("2026-05..2026-01", "ends before it starts"),
        ("2026-Q2..2026-01", "ends before it starts"),
        ("2026-03-14..2026-03-13", "ends before it starts"),
    ],
)
def test_a_period_of_days_that_there_are_not_is_refused(text: str, what: str) -> None:
    with pytest.raises(NotUnderstood, match=what):
        parse_period(text)


def test_periods_of_the_same_days_are_equal_whatever_they_are_called() -> None:
    assert parse_period("2026-04..2026-06") == Period(date(2026, 4, 1), date(2026, 6, 30), "spring")
    assert parse_period("2026-04..2026-06") != parse_period("2026-04..2026-05")


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)), st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_a_period_is_read_again_from_its_label(one: date, other: date) -> None:
    start, end = sorted((one, other))
    period = parse_period(f"{start}..{end}")
    again = parse_period(period.label)
    assert (again, again.label) == (period, period.label)
