"""Income tax by the accountant's percentage with its two answers, by last year's tax, by the return, or by nobody."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.taxes.income_tax import (
    ASK_ACCOUNTANT,
    Percentage,
    YearTax,
    left_after,
    tax_before_income_tax,
    tax_by_last_year,
    tax_by_percentage,
    tax_by_return,
)
from ledger.taxes.self_employment import schedule_se, set_aside_figures

FIGURES = set_aside_figures(2026)
# 50,000: self-employment tax of 7,064.775, which is 7,064.78.
FIFTY = schedule_se(50_000_00, FIGURES)


def percentage(percent: str, *, has_own: bool = False, has_state: bool = True) -> Percentage:
    return Percentage(Decimal(percent), has_own, has_state)


def test_a_percentage_without_self_employment_tax_comes_on_top_of_it() -> None:
    found = tax_by_percentage(FIFTY, percentage("12"))
    assert (found.self_employment_cents, found.income_tax_cents) == (7_064_78, 6_000_00)
    assert found.total_cents == 13_064_78
    assert found.notes == ()


def test_a_percentage_with_self_employment_tax_in_it_holds_as_a_whole() -> None:
    found = tax_by_percentage(FIFTY, percentage("30", has_own=True))
    assert found.total_cents == 15_000_00
    assert found.self_employment_cents == 7_064_78


def test_a_percentage_below_self_employment_tax_itself_is_questioned_and_the_tax_stands() -> None:
    found = tax_by_percentage(FIFTY, percentage("10", has_own=True))
    assert (found.self_employment_cents, found.income_tax_cents) == (7_064_78, 0)
    assert any("ask about it" in note for note in found.notes)


def test_state_income_tax_that_is_not_in_it_is_said() -> None:
    assert tax_by_percentage(FIFTY, percentage("12", has_state=False)).notes == (
        "State income tax is not in it: ask your accountant.",
    )


@pytest.mark.parametrize("percent", ["0", "0.5", "100"])
def test_the_ends_of_a_percentage(percent: str) -> None:
    assert tax_by_percentage(FIFTY, percentage(percent)).income_tax_cents == int(Decimal(percent) * 50_000)


def test_a_loss_is_taxed_with_nothing() -> None:
    assert tax_by_percentage(schedule_se(-9_000_00, FIGURES), percentage("12")).total_cents == 0


def test_last_years_tax_has_self_employment_tax_in_it() -> None:
    found = tax_by_last_year(FIFTY, 9_000_00)
    assert found.total_cents == 9_000_00
    assert found.self_employment_cents == 7_064_78
    above = tax_by_last_year(FIFTY, 5_000_00)
    assert (above.total_cents, above.income_tax_cents) == (7_064_78, 0)
    assert "Self-employment tax on this year's profit is above that already." in above.notes


@pytest.mark.parametrize("whole", [0, 100_00, 7_064_78, 20_000_00])
def test_what_the_return_came_to_holds_whatever_the_books_work_out(whole: int) -> None:
    assert tax_by_return(FIFTY, whole).total_cents == whole


def test_with_nobodys_word_there_is_no_income_tax_and_the_figure_says_so() -> None:
    found = tax_before_income_tax(FIFTY)
    assert found.is_before_income_tax
    assert (found.total_cents, found.notes) == (7_064_78, (ASK_ACCOUNTANT,))


LINES = st.integers(0, 10**8)


@given(LINES, LINES, LINES, st.integers(0, 10**9))
def test_what_is_left_what_was_paid_and_what_is_over_add_up(own: int, additional: int, income: int, paid: int) -> None:
    tax = YearTax(own, additional, income, "percentage")
    left = left_after(tax, paid)
    assert left.total_cents - left.over_cents == tax.total_cents - paid
    assert left.total_cents == max(0, tax.total_cents - paid)
    assert 0 <= left.self_employment_cents <= own
    assert 0 <= left.income_tax_cents <= income
    assert left.income_tax_cents == income or left.self_employment_cents == left.additional_medicare_cents == 0
