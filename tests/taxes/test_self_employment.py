"""Self-employment tax at its edges: losses, years beyond the figures, and a filing status that nobody gave."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.figures import NoFigure
from ledger.taxes.self_employment import STATUSES, filing_figures, schedule_se, set_aside_figures

FIGURES = set_aside_figures(2026)


@pytest.mark.parametrize("profit", [0, -1, -5_000_00, 433_13])
def test_nothing_is_owed_on_a_loss_or_under_the_floor(profit: int) -> None:
    found = schedule_se(profit, FIGURES)
    assert (found.tax, found.additional_medicare, found.net_earnings) == (0, 0, 0)


def test_a_year_beyond_the_figures_is_marked_in_the_set_aside() -> None:
    found = set_aside_figures(2027)
    assert found.notes == ("no published figure for 2027 yet",)
    assert found.wage_base_cents == FIGURES.wage_base_cents
    assert FIGURES.notes == ()


def test_a_year_beyond_the_figures_stops_a_filing_and_names_the_file() -> None:
    with pytest.raises(NoFigure) as refused:
        filing_figures(2027, asked_by="the packet")
    assert "The packet needs «social security wage base» for 2027-12-31" in refused.value.what
    assert "ledger/figures/self_employment.toml" in refused.value.do


@pytest.mark.parametrize("read", [set_aside_figures, lambda year: filing_figures(year, asked_by="the packet")])
def test_a_year_before_the_figures_is_refused_by_both(read: object) -> None:
    with pytest.raises(NoFigure):
        read(2012)  # type: ignore[operator]


def test_without_a_filing_status_the_lowest_threshold_is_taken_and_said() -> None:
    found = schedule_se(200_000_00, FIGURES)
    assert found.additional_medicare == max(
        schedule_se(200_000_00, FIGURES, status=status).additional_medicare for status in STATUSES
    )
    assert found.status_is_open
    assert not schedule_se(50_000_00, FIGURES).status_is_open, "below every threshold it does not matter"


@given(st.integers(-(10**9), 10**9), st.integers(0, 10**8), st.sampled_from([*STATUSES, None]))
def test_the_tax_never_falls_as_the_profit_rises_and_wages_never_raise_it(profit, wages, status) -> None:  # type: ignore[no-untyped-def]
    found = schedule_se(profit, FIGURES, wages_cents=wages, status=status)
    more = schedule_se(profit + 1_00, FIGURES, wages_cents=wages, status=status)
    assert 0 <= found.tax <= more.tax
    assert found.tax <= schedule_se(profit, FIGURES, status=status).tax
    assert found.deductible * 2 == found.tax
    assert found.tax <= max(Fraction(0), found.profit) * Fraction("0.153")
