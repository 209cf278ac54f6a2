"""Estimated tax: the lesser of two figures, a quarter each, none under 1,000, behind and ahead."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.figures import NoFigure
from ledger.periods import estimated_tax_periods
from ledger.taxes.estimated_tax import (
    LastYear,
    ahead_cents,
    behind_cents,
    filing_figures,
    instalments,
    required_payment,
    safe_harbour_cents,
    set_aside_figures,
)

FIGURES = set_aside_figures(2026)
PERIODS = estimated_tax_periods(2026)


@pytest.mark.parametrize(
    ("this_year", "last_year", "withheld", "required"),
    [
        (10_000_00, None, 0, 9_000_00),  # 90 % of this year's alone
        (10_000_00, LastYear(4_000_00), 0, 4_000_00),  # last year's is less
        (4_000_00, LastYear(9_000_00), 0, 3_600_00),  # this year's is less
        (10_000_00, LastYear(4_000_00, has_high_income=True), 0, 4_400_00),
        (10_000_00, LastYear(4_000_00, is_twelve_months=False), 0, 9_000_00),
        (10_000_00, LastYear(0), 0, 0),  # no tax last year, none wanted
        (10_000_00, LastYear(4_000_00), 1_500_00, 2_500_00),  # less withholding
        (10_000_00, LastYear(4_000_00), 5_000_00, 0),  # withholding is enough
        (999_99, None, 0, 0),  # under 1,000
        (1_000_00, None, 0, 900_00),  # 1,000 itself
        (1_499_99, None, 500_00, 0),  # under 1,000 after withholding
        (None, LastYear(4_000_00), 0, 4_000_00),  # this year's is not known
        (None, None, 0, 0),
    ],
)
def test_the_required_payment(this_year: int | None, last_year: LastYear | None, withheld: int, required: int) -> None:
    assert required_payment(this_year, last_year, withheld, FIGURES).cents == required


def test_both_figures_are_told_though_the_lesser_holds() -> None:
    found = required_payment(10_000_00, LastYear(4_000_00), 0, FIGURES)
    assert (found.by_this_year_cents, found.by_last_year_cents, found.annual_cents) == (9_000_00, 4_000_00, 4_000_00)


def test_the_limit_of_a_high_income_is_half_for_her_who_files_separately() -> None:
    assert FIGURES.high_income_above_cents == 150_000_00
    assert set_aside_figures(2026, separate=True).high_income_above_cents == 75_000_00
    assert safe_harbour_cents(LastYear(100_01, has_high_income=True), FIGURES) == 110_01


def test_each_date_wants_a_quarter_whatever_the_period_earned() -> None:
    found = instalments(4_000_00, 0, PERIODS)
    assert [each.wanted_cents for each in found] == [1_000_00] * 4
    assert [each.wanted_cents for each in instalments(1_000_01, 0, PERIODS)] == [250_01, 250_00, 250_00, 250_00]


def test_payments_cover_the_earliest_dates_first() -> None:
    found = instalments(4_000_00, 1_500_00, PERIODS)
    assert [each.left_cents for each in found] == [0, 500_00, 1_000_00, 1_000_00]


@pytest.mark.parametrize(
    ("today", "paid", "behind", "ahead"),
    [
        (date(2026, 4, 15), 0, 0, 0),  # due today is not yet late
        (date(2026, 4, 16), 0, 1_000_00, 0),
        (date(2026, 6, 16), 1_500_00, 500_00, 0),
        (date(2026, 6, 16), 2_600_00, 0, 600_00),
        (date(2027, 1, 16), 4_000_00, 0, 0),
    ],
)
def test_behind_or_ahead(today: date, paid: int, behind: int, ahead: int) -> None:
    found = instalments(4_000_00, paid, PERIODS)
    assert (behind_cents(found, today), ahead_cents(found, paid, today)) == (behind, ahead)


CENTS = st.integers(0, 10**9)


@given(CENTS, CENTS, st.integers(0, 800))
def test_the_quarters_add_up_and_one_is_never_behind_and_ahead_at_once(required: int, paid: int, days: int) -> None:
    found = instalments(required, paid, PERIODS)
    today = date(2026, 1, 1) + timedelta(days=days)
    assert sum(each.wanted_cents for each in found) == required
    assert max(each.wanted_cents for each in found) - min(each.wanted_cents for each in found) <= 1
    assert sum(each.left_cents for each in found) == max(0, required - paid)
    assert not (behind_cents(found, today) and ahead_cents(found, paid, today))


@given(CENTS, CENTS, CENTS)
def test_never_more_is_wanted_than_either_figure_asks(this_year: int, last_year: int, withheld: int) -> None:
    found = required_payment(this_year, LastYear(last_year), withheld, FIGURES)
    assert 0 <= found.cents <= min(last_year, this_year)


def test_a_year_beyond_the_figures_is_marked_in_the_set_aside_and_stops_a_packet() -> None:
    assert set_aside_figures(2027).notes == ("no published figure for 2027 yet",)
    with pytest.raises(NoFigure) as refused:
        filing_figures(2027, asked_by="the packet")
    assert "ledger/figures/estimated_tax.toml" in refused.value.do
