"""Sales tax of a filing period that had begun before the books: in their first return, on a line of its own."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import give_up, opening
from ledger.actions.opening_request import DebtBefore, OpeningRequest, TaxBefore
from ledger.actions.reverse import ReverseRequest
from ledger.actions.reverse import perform as reverse
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.quarter.checks import run_checks
from ledger.quarter.sales_tax import read_sales_tax
from ledger.results.sold import read_sold
from ledger.taxes import filing_rules
from ledger.taxes.worksheet import NOT_TAXED, BeforeBooks
from ledger.taxes.worksheet_text import worksheet_as_text, worksheet_from_text
from tests import workshop as w
from tests.set_aside.checks import check_set_aside
from tests.taxes.filings import OFFICE, file, pay_return, sheet_of, sold, unfile

BEGUN = date(2026, 6, 15)
JULY, AUGUST, OCTOBER = date(2026, 7, 10), date(2026, 8, 3), date(2026, 10, 9)
BEFORE = TaxBefore((("Kansas state", 43_00), ("Riley county", 10_00)), 1_000_00, 1_100_00)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = w.begin_taxed(tmp_path / "books", BEGUN, opening_cents=1_000_00)
    w.choose_filing(opened, "quarterly")
    yield opened
    for day in (BEGUN, JULY, OCTOBER):
        then = w.on_day(opened, day)
        assert [each for each in run_checks(then, BEGUN, day) if not each.ok] == []
        check_set_aside(then)
    opened.close()


def told(books: Books, tax: TaxBefore = BEFORE) -> int:
    return opening.perform(books, OpeningRequest(tax=tax))[1][0].number


def by_payment(books: Books) -> None:
    with books.writing() as write:
        filing_rules.choose_basis(books, write, "payment", OFFICE)


def test_the_first_return_has_it_with_the_sales_behind_it_and_paying_it_clears_it(books: Books) -> None:
    told(books)
    sold(books, "200.00", date(2026, 6, 20))
    sheet = sheet_of(w.on_day(books, JULY), "2026-Q2")
    assert sheet.before == BeforeBooks(1_100_00, 1_000_00, 53_00)
    # 1,100.00 from before and 200.00 of the books; 4.3 % and 1.0 % of 1,200.00 are 51.60 and 12.00.
    assert (sheet.gross_cents, sheet.taxable_cents, sheet.owed_cents) == (1_300_00, 1_200_00, 63_60)
    assert [(each.levy.name, each.due_cents, each.collected_cents) for each in sheet.taxed] == [
        ("Kansas state", 51_60, 51_60),
        ("Riley county", 12_00, 12_00),
    ]
    assert [(each.reason, each.cents) for each in sheet.exempt] == [(NOT_TAXED, 100_00)]
    file(books, JULY, "2026-Q2")
    pay_return(books, JULY, "2026-Q2")
    assert w.balance_of(books, "sales tax payable", JULY) == 0
    assert sheet_of(w.on_day(books, OCTOBER), "2026-Q3").before is None
    # The filed one is read back as it was.
    assert worksheet_from_text(worksheet_as_text(sheet)) == sheet


def test_a_sum_is_split_by_the_rates_and_is_no_tax_that_the_quarter_took(books: Books) -> None:
    entry = told(books, TaxBefore(((None, 53_00),), 1_000_00))
    assert w.lines_of(books, entry) == w.written(
        "opening balance +53.00", "sales tax payable -43.00", "sales tax payable -10.00"
    )
    found = read_sales_tax(books, date(2026, 4, 1), date(2026, 6, 30))
    assert (found.gross_cents, found.collected_cents, found.by_jurisdiction) == (0, 0, ())
    assert read_sold(books, date(2026, 4, 1), date(2026, 6, 30)) == ()


def test_told_anew_it_takes_the_place_and_after_its_return_was_filed_it_stands(books: Books) -> None:
    told(books)
    second = told(books, TaxBefore(((None, 26_50),), 500_00))
    assert sheet_of(w.on_day(books, JULY), "2026-Q2").before == BeforeBooks(500_00, 500_00, 26_50)
    file(books, JULY, "2026-Q2")
    with pytest.raises(NotPossible, match="return of 2026-Q2, which holds the day the books began, was filed"):
        told(w.on_day(books, JULY))
    with pytest.raises(NotPossible, match=f"sales tax of entry {second} was filed"):
        reverse(w.on_day(books, JULY), ReverseRequest(second, "wrong"))
    unfile(books, JULY, "2026-Q2")
    opening.perform(w.on_day(books, JULY), OpeningRequest(tax=TaxBefore(((None, 0),), None)))
    assert sheet_of(w.on_day(books, JULY), "2026-Q2").before is None
    assert w.balance_of(books, "sales tax payable", AUGUST) == 0


def test_without_a_rate_nothing_is_split(tmp_path: Path) -> None:
    others = w.begin(tmp_path / "others", BEGUN)
    with pytest.raises(NotPossible, match="No sales tax rate was in force"):
        told(others, TaxBefore(((None, 53_00),), 1_000_00))
    others.close()


def test_by_sale_the_tax_in_a_debt_is_in_no_return_of_the_books(books: Books) -> None:
    opening.perform(books, OpeningRequest(debts=(DebtBefore("Ada Brook", 105_30, 5_30),)))
    w.pay(w.on_day(books, AUGUST), 1, "105.30")
    assert sheet_of(w.on_day(books, OCTOBER), "2026-Q3").owed_cents == 0
    assert w.balance_of(books, "sales tax payable", AUGUST) == 0


def test_by_payment_the_tax_in_a_debt_goes_into_the_return_of_the_day_on_which_it_is_paid(books: Books) -> None:
    by_payment(books)
    entry = opening.perform(books, OpeningRequest(debts=(DebtBefore("Ada Brook", 105_30, 5_30),)))[1][0].number
    assert w.lines_of(books, entry) == w.written(
        *("owed by customers +105.30", "opening balance -100.00", "sales tax payable -4.30", "sales tax payable -1.00")
    )
    assert sheet_of(w.on_day(books, JULY), "2026-Q2").owed_cents == 0
    w.pay(w.on_day(books, AUGUST), 1, "52.65")
    sheet = sheet_of(w.on_day(books, OCTOBER), "2026-Q3")
    assert (sheet.gross_cents, sheet.taxable_cents, sheet.owed_cents, sheet.before) == (50_00, 50_00, 2_65, None)
    w.pay(w.on_day(books, AUGUST), 1, "52.65")
    assert sheet_of(w.on_day(books, OCTOBER), "2026-Q3").owed_cents == 5_30


@pytest.mark.parametrize("is_by_payment", [False, True], ids=["by sale", "by payment"])
def test_a_debt_from_before_is_given_up_like_any_other(books: Books, is_by_payment: bool) -> None:
    if is_by_payment:
        by_payment(books)
    opening.perform(books, OpeningRequest(debts=(DebtBefore("Ada Brook", 105_30, 5_30),)))
    give_up.perform(w.on_day(books, AUGUST), give_up.GiveUpRequest(1, "moved away"))
    assert w.balance_of(books, "owed by customers", AUGUST) == 0
    assert w.balance_of(books, "sales tax payable", AUGUST) == 0


def test_debts_told_by_one_basis_stand_in_the_way_of_the_other(books: Books) -> None:
    debt = OpeningRequest(debts=(DebtBefore("Ada Brook", 105_30),))
    entry = opening.perform(books, debt)[1][0].number
    with pytest.raises(NotPossible, match=f"With entry {entry} you told what was owed"):
        by_payment(books)
    reverse(books, ReverseRequest(entry, "tax goes by payment"))
    by_payment(books)
    opening.perform(books, debt)
    paid = w.on_day(books, JULY)
    w.pay(paid, 2, "105.30", "cash")
    # The tax that was in no return before the books is in that of the payment.
    assert sheet_of(paid, "2026-Q3").owed_cents == 5_30
