"""A tax year out of the books: what it goes by, payments from either purse, wages elsewhere, and its four dates."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from checklists.records import read_answers
from ledger.actions import answers, own_tax_choices, pay_estimated
from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.figures import NoFigure
from ledger.set_aside.estimated import EstimatedYear, read_estimated
from ledger.set_aside.own_tax import OwnTax, read_own_tax, work_out_schedule
from tests import workshop as w
from tests.set_aside.checks import check_set_aside

DAY = date(2026, 3, 10)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """50,000 earned by 10 March 2026: self-employment tax of 7,064.78."""
    opened = w.on_day(w.begin(tmp_path / "books", opening_cents=1_000_00), DAY)
    w.picked_up(opened, w.job_for(opened, "50000.00"), "check")
    yield opened
    opened.close()


def this_year(books: Books) -> OwnTax:
    check_set_aside(books)
    return read_own_tax(books, books.today.year, books.today)


def dates(books: Books) -> EstimatedYear:
    return read_estimated(books, this_year(books), books.today)


def say_percent(books: Books, percent: str, **two: bool) -> None:
    own_tax_choices.say_income_tax(books, own_tax_choices.IncomeTaxRequest(Decimal(percent), "Ann", **two))


def say_last_year(books: Books, dollars: int, **more: Any) -> None:
    own_tax_choices.say_last_year(books, own_tax_choices.LastYearRequest(dollars * 100, **more))


def pay(books: Books, amount: str, **more: Any) -> None:
    pay_estimated.perform(books, pay_estimated.EstimatedTaxRequest(w.cents(amount), **more))


def test_a_percentage_is_an_answer_of_the_set_up_list_whichever_way_it_is_said(books: Books) -> None:
    say_percent(books, "15", with_self_employment=True)
    assert [each.value for each in read_answers(books, "income_tax_percent")] == ["15, yes, no"]
    assert this_year(books).tax.total_cents == 7_500_00
    answers.perform(books, answers.AnswerRequest("income_tax_percent", "20, no, yes", "Ann"))
    assert this_year(books).tax.total_cents == 7_064_78 + 10_000_00


@pytest.mark.parametrize("percent", ["100.01", "120", "1000"])
def test_a_percentage_over_100_is_refused_and_nothing_is_kept(books: Books, percent: str) -> None:
    with pytest.raises(NotUnderstood, match="share of net profit"):
        say_percent(books, percent)
    assert read_answers(books, "income_tax_percent") == ()


def test_last_years_tax_is_kept_back_by_quarters_that_have_begun(books: Books) -> None:
    say_last_year(books, 40_000)
    held = [this_year(w.on_day(books, date(2026, *day))).tax.total_cents for day in ((3, 31), (4, 1), (6, 1), (9, 1))]
    assert held == [10_000_00, 20_000_00, 30_000_00, 40_000_00]
    assert this_year(books).tax.self_employment_cents == 7_064_78, "it is in it"


def test_a_percentage_comes_before_last_years_tax_until_she_goes_by_that(books: Books) -> None:
    say_percent(books, "10")
    say_last_year(books, 40_000)
    assert this_year(books).tax.basis == "percentage"
    own_tax_choices.say_income_tax(books, own_tax_choices.IncomeTaxRequest(None, "Ann"))
    assert this_year(books).tax.basis == "last year's tax"


def test_last_years_tax_that_is_not_known_or_was_a_part_of_a_year_is_not_gone_by(books: Books) -> None:
    by_last_year = own_tax_choices.IncomeTaxRequest(None, "Ann")
    with pytest.raises(NotFound, match="not known"):
        own_tax_choices.say_income_tax(books, by_last_year)
    say_last_year(books, 40_000, part_year=True)
    with pytest.raises(NotPossible, match="twelve months"):
        own_tax_choices.say_income_tax(books, by_last_year)
    found = this_year(books)
    assert found.tax.is_before_income_tax
    assert "Last year was no full twelve months, so its tax does not count." in found.notes


def test_payments_from_either_purse_are_taken_off_and_one_undone_is_not(books: Books) -> None:
    pay(books, "600.00", from_name="household checking")
    pay(books, "400.00", from_name="checking")
    found = this_year(books)
    assert [each.period for each in found.payments] == [1, 1]
    assert found.left.total_cents == 7_064_78 - 1_000_00
    w.reversed_entry(books, found.payments[0].entry)
    assert this_year(books).left.total_cents == 7_064_78 - 400_00


def test_wages_elsewhere_use_up_the_wage_base_and_what_is_withheld_counts_as_paid(books: Books) -> None:
    own_tax_choices.say_own_wages(books, own_tax_choices.WagesRequest(184_500_00, 300_00))
    found = this_year(books)
    assert found.tax.self_employment_cents == 1_339_08  # Medicare alone: 46,175 x 2.9 %
    assert found.left.self_employment_cents == 1_039_08
    own_tax_choices.say_own_wages(books, own_tax_choices.WagesRequest(None, status="joint"))
    assert this_year(books).left.self_employment_cents == 1_039_08, "what is not said again stays as it was"
    with pytest.raises(NotPossible, match="More is withheld"):
        own_tax_choices.say_own_wages(books, own_tax_choices.WagesRequest(100, 101))


def test_the_return_itself_holds_once_it_is_known(books: Books) -> None:
    say_percent(books, "10")
    after = w.on_day(books, date(2027, 3, 1))
    say_last_year(after, 9_000)
    pay(after, "2000.00", from_name="checking", with_return=True)
    last = check_set_aside(after).years[0]
    assert (last.tax.basis, last.tax.total_cents, last.left.total_cents) == ("the return", 9_000_00, 7_000_00)
    assert last.estimated_cents == 0, "what is paid with the return is no payment on one of the four dates"


def test_a_year_that_is_not_over_has_no_return(books: Books) -> None:
    with pytest.raises(NotPossible, match="not over"):
        say_last_year(books, 9_000, tax_year=2026)
    with pytest.raises(NotPossible, match="not over"):
        own_tax_choices.settle_year(books, own_tax_choices.SettledRequest(2026))
    with pytest.raises(NotPossible, match="not over"):
        pay(books, "5.00", tax_year=2026, with_return=True)
    with pytest.raises(NotPossible, match="not begun"):
        pay(books, "5.00", tax_year=2027)
    with pytest.raises(NotUnderstood, match="no period 5"):
        pay(books, "5.00", period=5)


def test_the_four_dates_want_a_quarter_each_of_the_lesser_of_both(books: Books) -> None:
    assert [each.wanted_cents for each in dates(books).instalments] == [1_589_58, 1_589_58, 1_589_57, 1_589_57]
    say_percent(books, "10")
    say_last_year(books, 4_000)
    found = dates(books)
    assert found.required is not None
    assert (found.required.by_this_year_cents, found.required.by_last_year_cents) == (10_858_30, 4_000_00)
    assert [each.wanted_cents for each in found.instalments] == [1_000_00] * 4
    pay(books, "1500.00", from_name="checking")
    later = w.on_day(books, date(2026, 6, 16))
    assert (dates(later).behind_cents(later.today), dates(later).ahead_cents(later.today)) == (500_00, 0)


def test_by_last_years_tax_the_dates_go_by_that_alone(books: Books) -> None:
    say_last_year(books, 40_000, high_income=True)
    found = dates(books)
    assert found.required is not None
    assert found.required.by_this_year_cents is None
    assert [each.wanted_cents for each in found.instalments] == [11_000_00] * 4


def test_a_payment_is_marked_with_the_date_that_is_due_next(books: Books) -> None:
    for day, marked in (
        (date(2026, 4, 15), (2026, 1)),
        (date(2026, 4, 16), (2026, 2)),
        (date(2027, 1, 15), (2026, 4)),
        (date(2027, 1, 16), (2027, 1)),
    ):
        settled = pay_estimated.preview(w.on_day(books, day), pay_estimated.EstimatedTaxRequest(1, "checking"))
        assert (settled.paid_for.tax_year, settled.paid_for.period) == marked


def test_schedule_se_as_a_filing_figure_refuses_a_year_that_is_not_kept(books: Books) -> None:
    assert work_out_schedule(books, 2026, None, None, None).tax == this_year(books).schedule.tax
    with pytest.raises(NoFigure) as refused:
        work_out_schedule(books, 2027, None, None, None)
    assert "ledger/figures/self_employment.toml" in refused.value.do
