"""On the example: the set-aside agrees with the accounts before and after a return, a payment and a move."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import file_tax, move_to_savings, own_tax_choices, pay_estimated, pay_tax
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.set_aside.owed import SetAside
from ledger.taxes.returns import ReturnsBook
from tests.set_aside.checks import check_set_aside
from tests.workshop_example import open_example


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = open_example(tmp_path / "books")
    yield opened
    opened.close()


@pytest.fixture
def before_filing(tmp_path: Path) -> Iterator[Books]:
    """A day on which a quarter is over and its return is not filed yet."""
    opened = open_example(tmp_path / "october", date(2026, 10, 10))
    yield opened
    opened.close()


def own_tax(found: SetAside) -> int:
    return found.owed.self_employment + found.owed.additional_medicare + found.owed.income_tax


def test_a_return_filed_and_paid_takes_its_tax_off_what_is_owed_and_off_the_money(before_filing: Books) -> None:
    books = before_filing
    before = check_set_aside(books)
    period = next(each for each in ReturnsBook(books).open_periods() if each.is_over(books.today))
    filed = file_tax.perform(books, file_tax.FileRequest(period))
    assert filed is not None
    between = check_set_aside(books)
    assert between.money == before.money
    pay_tax.perform(books, pay_tax.PayRequest(period))
    after = check_set_aside(books)
    paid = between.money.total_cents - after.money.total_cents
    owed_before = between.owed.sales_tax + between.owed.use_tax
    assert paid > 0
    assert owed_before - (after.owed.sales_tax + after.owed.use_tax) >= paid
    assert prove(books).findings == ()


def test_everything_that_can_be_settled_is_settled_and_every_figure_goes_on_agreeing(books: Books) -> None:
    found = check_set_aside(books)
    owed = own_tax(found)
    move_to_savings.perform(books, move_to_savings.SetAsideRequest())
    moved = check_set_aside(books)
    assert moved.free_cents == found.free_cents
    assert moved.held_cents == found.held_cents + min(found.to_move_cents, found.money.checking_cents)
    pay_estimated.perform(books, pay_estimated.EstimatedTaxRequest(100_00))
    paid = check_set_aside(books)
    assert own_tax(paid) == owed - 100_00
    assert paid.free_cents == found.free_cents, "what was owed and is paid from tax savings changes nothing of the rest"
    for year in paid.years[:-1]:
        own_tax_choices.settle_year(books, own_tax_choices.SettledRequest(year.tax_year))
    settled = check_set_aside(books)
    assert own_tax(settled) == settled.years[-1].left.total_cents
    assert prove(books).findings == ()


def test_it_rests_on_her_accountants_percentage_and_has_a_date_that_is_next(books: Books) -> None:
    found = check_set_aside(books)
    assert not found.is_before_income_tax
    assert found.years[-1].percentage is not None
    assert found.next_due is not None
    assert found.next_due.day >= books.today
    assert found.free_cents <= found.money.total_cents
