"""Start-up costs against the published rule: Internal Revenue Code, section 195(b)(1)."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.figures.look_up import figure
from ledger.taxes.start_up import StartUpRule, start_up

RULE = StartUpRule(5_000_00, 50_000_00, 180)


def test_four_thousand_begun_on_22_october_is_taken_whole_in_that_year() -> None:
    """An example of section 195 as a text about it has it: 4,000 spent, begun on 22 October: 4,000."""
    found = start_up(4_000_00, date(2025, 10, 22), RULE)
    assert (found.at_once_cents, found.rest_cents) == (4_000_00, 0)
    assert [found.cents_of(year) for year in (2024, 2025, 2026)] == [0, 4_000_00, 0]


@pytest.mark.parametrize(
    ("cost", "at_once"),
    [
        # The lesser of the costs and 5,000, less what the costs are above 50,000, not below zero: section 195(b)(1)(A).
        (0, 0),
        (5_000_00, 5_000_00),
        (5_000_01, 5_000_00),
        (50_000_00, 5_000_00),
        (50_001_00, 4_999_00),
        (52_500_00, 2_500_00),
        (55_000_00, 0),
        (60_000_00, 0),
    ],
)
def test_the_first_years_part_is_cut_by_what_is_above_the_threshold(cost: int, at_once: int) -> None:
    assert start_up(cost, date(2026, 1, 1), RULE).at_once_cents == at_once


def test_the_rest_is_spread_over_180_months_from_the_month_of_the_opening() -> None:
    """Section 195(b)(1)(B): ratably over the 180 months beginning with the month in which the trade begins."""
    found = start_up(23_000_00, date(2026, 10, 22), RULE)
    assert found.rest_cents == 18_000_00  # 100.00 a month
    assert found.cents_of(2026) == 5_000_00 + 300_00
    assert found.cents_of(2027) == 1_200_00
    assert (found.cents_of(2041), found.cents_of(2042)) == (900_00, 0)


def test_the_figures_of_the_rule_are_those_that_are_kept_with_their_source() -> None:
    day = date(2026, 3, 1)
    names = ("start_up_most_in_first_year", "start_up_reduced_above", "start_up_rest_over")
    assert [int(figure(name, day, asked_by="the test").value) for name in names] == [5_000, 50_000, 180]


@given(cost=st.integers(0, 10**9), month=st.integers(1, 12), day=st.integers(1, 28))
def test_over_the_years_it_adds_up_to_the_costs_and_never_turns(cost: int, month: int, day: int) -> None:
    found = start_up(cost, date(2026, month, day), RULE)
    years = [found.cents_of(year) for year in range(2025, 2043)]
    assert sum(years) == cost
    assert min(years) >= 0
    assert years[0] == 0
