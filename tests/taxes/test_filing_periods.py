"""Filing periods: their ends, how a change cuts them, and those of her own."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.errors import NotPossible, NotUnderstood
from ledger.periods import parse_period
from ledger.taxes.filing_periods import (
    FilingRule,
    check_filing_period,
    own_frequency,
    period_after,
    period_holding,
    periods_from,
    whole_period,
)

JANUARY = date(2026, 1, 1)
FREQUENCIES = ["monthly", "quarterly", "yearly", own_frequency(6, 2), own_frequency(3, 12), own_frequency(12, 7)]


def labels(*rules: FilingRule, first: date, last: date) -> list[str]:
    return [each.label for each in periods_from(rules, first, last)]


@pytest.mark.parametrize(
    ("day", "frequency", "label"),
    [
        (date(2026, 1, 31), own_frequency(6, 2), "2025-08..2026-01"),
        (date(2026, 2, 1), own_frequency(6, 2), "2026-02..2026-07"),
        (date(2026, 2, 28), own_frequency(3, 12), "2025-12..2026-02"),
        (date(2026, 6, 30), own_frequency(12, 7), "2025-07..2026-06"),
        (date(2026, 3, 1), own_frequency(1, 5), "2026-03"),
        (date(2026, 3, 1), own_frequency(12, 1), "2026"),
        (date(2026, 3, 1), "quarterly", "2026-Q1"),
    ],
)
def test_the_period_of_a_day_is_named_as_she_would_type_it(day: date, frequency: str, label: str) -> None:
    found = whole_period(day, frequency)
    assert found.label == label
    assert found.holds(day)


def test_the_first_rule_holds_for_the_days_before_it_too() -> None:
    assert period_holding([FilingRule("quarterly", date(2026, 2, 10))], JANUARY).label == "2026-Q1"


def test_without_a_rule_a_quarter_is_taken() -> None:
    assert period_holding([], date(2026, 5, 5)).label == "2026-Q2"


def test_a_change_in_the_middle_of_a_period_cuts_it_in_two() -> None:
    rules = (FilingRule("quarterly", JANUARY), FilingRule("monthly", date(2026, 5, 1)))
    assert labels(*rules, first=JANUARY, last=date(2026, 6, 30)) == ["2026-Q1", "2026-04", "2026-05", "2026-06"]


def test_a_change_to_longer_periods_leaves_the_rest_of_the_first_one() -> None:
    rules = (FilingRule("monthly", JANUARY), FilingRule("yearly", date(2026, 3, 1)))
    assert labels(*rules, first=JANUARY, last=date(2027, 1, 1)) == ["2026-01", "2026-02", "2026-03..2026-12", "2027"]


@pytest.mark.parametrize("months", [0, 5, 7, 13, -3])
def test_months_that_do_not_fill_a_year_are_refused(months: int) -> None:
    with pytest.raises(NotUnderstood, match="do not fill a year"):
        own_frequency(months, 1)


@pytest.mark.parametrize("first_month", [0, 13])
def test_a_month_that_there_is_not_is_refused(first_month: int) -> None:
    with pytest.raises(NotUnderstood, match="no month"):
        own_frequency(3, first_month)


@pytest.mark.parametrize("period", ["2026-03", "2026", "2026-01..2026-02", "2026-01-01..2026-03-30"])
def test_days_that_are_no_filing_period_are_refused_with_the_one_that_is(period: str) -> None:
    with pytest.raises(NotPossible, match="no filing period") as refused:
        check_filing_period([FilingRule("quarterly", JANUARY)], parse_period(period))
    assert "2026-Q1" in refused.value.do


rules_in_order = st.lists(
    st.tuples(st.sampled_from(FREQUENCIES), st.dates(date(2024, 1, 1), date(2027, 12, 31))), max_size=4
).map(lambda several: tuple(FilingRule(*each) for each in sorted(several, key=lambda each: each[1])))


@settings(deadline=None, derandomize=True, max_examples=60)
@given(rules_in_order, st.dates(date(2024, 1, 1), date(2027, 12, 31)))
def test_every_day_lies_in_one_period_and_the_next_one_follows_it(rules: tuple[FilingRule, ...], day: date) -> None:
    distinct = tuple({each.from_date: each for each in rules}.values())
    period = period_holding(distinct, day)
    assert period.holds(day)
    assert period_holding(distinct, period.start) == period_holding(distinct, period.end) == period
    assert period_after(distinct, period).start == period.end + timedelta(days=1)
