"""What filing and paying a return book, posting for posting, on amounts worked out beside each test."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import use_untaxed
from ledger.books.books import Books
from ledger.taxes.allowance import Allowance
from ledger.taxes.filed_returns import read_filed
from tests.taxes.filings import APRIL, file, pay_return, sheet_of, sold, told_allowance
from tests.workshop import (
    FIRST_DAY,
    add_rate,
    answer,
    begin,
    begin_taxed,
    choose_filing,
    lines_of,
    on_day,
    spent,
    written,
)

FEBRUARY = date(2026, 2, 3)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=5_000_00)
    choose_filing(opened, "quarterly", 25)
    yield opened
    opened.close()


def test_tax_due_on_the_totals_above_what_was_collected_is_an_expense(tmp_path: Path) -> None:
    """Five slips of 1.09 at 5 percent collect 0.05 each (0.0545); on their total of 5.45 the tax is 0.27."""
    books = begin(tmp_path / "books")
    add_rate(books, "Some state", "5")
    answer(books, "work", True)
    choose_filing(books, "quarterly", 25)
    for _ in range(5):
        sold(books, "1.09", FEBRUARY)
    file(books, APRIL)
    (filed,) = read_filed(on_day(books, APRIL))
    assert filed.entry is not None
    assert lines_of(books, filed.entry) == written("licenses and taxes +0.02", "sales tax payable -0.02")
    assert lines_of(books, pay_return(books, APRIL)[2]) == written("sales tax payable +0.27", "checking -0.27")
    books.close()


def test_sales_and_use_tax_are_paid_together_with_the_allowance_kept(books: Books) -> None:
    """500.00 of sales tax and 2.12 of use tax, 12.50 kept: 2.5 percent of the sales tax."""
    told_allowance(books, Allowance(Decimal("2.5"), 1_200_00, cap_cents=30_00), FIRST_DAY)
    sold(books, "9433.96", FEBRUARY, "check")
    then = on_day(books, FEBRUARY)
    spent(then, "40.00", "batting", "checking", untaxed=True)
    use_untaxed.perform(then, use_untaxed.UseRequest(40_00, "batting for her own quilt", "own", "batting"))
    sheet = sheet_of(on_day(books, APRIL), "2026-Q1")
    assert (sheet.owed_cents, sheet.use_tax_cents, sheet.allowance_cents) == (500_00, 2_12, 12_50)
    file(books, APRIL)
    assert lines_of(books, pay_return(books, APRIL)[2]) == written(
        "sales tax payable +500.00", "use tax payable +2.12", "checking -489.62", "sales tax allowance -12.50"
    )


def test_a_part_pays_sales_tax_before_use_tax(books: Books) -> None:
    sold(books, "100.00", FEBRUARY, "check")
    then = on_day(books, FEBRUARY)
    spent(then, "40.00", "batting", "checking", untaxed=True)
    use_untaxed.perform(then, use_untaxed.UseRequest(40_00, "batting for her own quilt", "own", "batting"))
    file(books, APRIL)
    first, second = (pay_return(books, APRIL, amount=each)[2] for each in ("6.00", None))
    assert lines_of(books, first) == written("sales tax payable +5.30", "use tax payable +0.70", "checking -6.00")
    assert lines_of(books, second) == written("use tax payable +1.42", "checking -1.42")
