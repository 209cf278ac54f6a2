"""Whole returns, entered as jobs and filed, against what states have published.

How sure: S seen in the source's own text (a stored copy), 2 seen in a text about it. Facts only are taken from them.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import use_untaxed
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.taxes.allowance import Allowance
from tests.taxes.filings import file, pay_return, sheet_of, told_allowance, worked_out
from tests.workshop import (
    FIRST_DAY,
    add_rate,
    add_to_price_list,
    answer,
    balance_of,
    begin,
    choose_filing,
    job_for,
    lines_of,
    on_day,
    picked_up,
    spent,
    written,
)

pytestmark = pytest.mark.published

JANUARY = "2026-01"
IN_FEBRUARY = date(2026, 2, 20)


class TestKansasBooklet:
    """S: Kansas Department of Revenue, booklet KS-1510, older edition, a whole filing at 5.9 percent.

    Receipts 14,588.93 in the till, of which 2,045.00, 1,500.00 and 150.00 are not taxed; the rest has the tax in it.
    Stock used personally, 30.00 and 20.00 at cost. Due on the 25th of the month after.
    """

    @pytest.fixture
    def books(self, tmp_path: Path) -> Iterator[Books]:
        opened = begin(tmp_path / "books", opening_cents=1_000_00)
        add_rate(opened, "Kansas state", "5.9")
        answer(opened, "goods", True)
        answer(opened, "other", False)
        choose_filing(opened, "monthly", 25)
        add_to_price_list(opened, "Till", "flat", "10893.93", "goods", includes_tax=True)
        for number, amount in enumerate(("2045", "1500", "150"), start=1):
            add_to_price_list(opened, f"Not taxed {number}", "flat", amount, "other")
        lines = ["Till", "Not taxed 1", "Not taxed 2", "Not taxed 3"]
        picked_up(opened, job_for(opened, lines=lines), "check")
        spent(opened, "50.00", "batting", "checking", untaxed=True)
        for cents in (30_00, 20_00):
            use_untaxed.perform(opened, use_untaxed.UseRequest(cents, "batting for her own quilt", "own", "batting"))
        yield opened
        opened.close()

    def test_the_worksheet_has_the_published_figures(self, books: Books) -> None:
        sheet = sheet_of(books, JANUARY)
        assert sheet.gross_cents == 13_982_00
        assert [(each.reason, each.cents) for each in sheet.exempt] == [("not taxed", 3_695_00)]
        assert sheet.taxable_cents == 10_287_00
        assert sheet.due_cents == sheet.collected_cents == 606_93
        assert sum(each.cost_cents for each in sheet.use_tax) == 50_00
        assert sheet.use_tax_cents == 2_95
        assert sheet.total_cents == 609_88

    def test_it_is_due_on_the_25th_of_the_month_after(self, books: Books) -> None:
        assert worked_out(books, JANUARY).due_on == date(2026, 2, 25)

    def test_filed_and_paid_nothing_is_owed_and_the_books_are_whole(self, books: Books) -> None:
        file(books, IN_FEBRUARY, JANUARY)
        entry = pay_return(books, IN_FEBRUARY, JANUARY)[2]
        assert lines_of(books, entry) == written(
            "sales tax payable +606.93", "use tax payable +2.95", "checking -609.88"
        )
        then = on_day(books, IN_FEBRUARY)
        assert balance_of(then, "sales tax payable") == balance_of(then, "use tax payable") == 0
        assert prove(then).ok

    def test_a_month_without_sales_has_its_return_too(self, books: Books) -> None:
        found = worked_out(on_day(books, IN_FEBRUARY), "2026-02")
        assert (found.due_on, found.worksheet.gross_cents, found.worksheet.total_cents) == (date(2026, 3, 25), 0, 0)


class TestFloridaAllowance:
    """2: Florida, form DR-15: 2.5 percent of the first 1,200.00 of tax, at most 30.00, filed and paid on time."""

    ALLOWANCE = Allowance(Decimal("2.5"), first_cents=1_200_00, cap_cents=30_00)

    @pytest.mark.parametrize(("tax", "kept"), [(500_00, 12_50), (5_000_00, 30_00), (1_200_00, 30_00), (0, 0)])
    def test_what_is_kept_is_the_published_amount(self, tax: int, kept: int) -> None:
        assert self.ALLOWANCE.of(tax) == kept

    def test_a_return_of_500_paid_in_time_leaves_12_50_as_income(self, tmp_path: Path) -> None:
        books = begin(tmp_path / "books")
        add_rate(books, "Florida state", "6")
        answer(books, "work", True)
        choose_filing(books, "monthly", 20)
        told_allowance(books, self.ALLOWANCE, FIRST_DAY)
        picked_up(books, job_for(books, "8333.33"), "check")
        file(books, date(2026, 2, 20), JANUARY)
        entry = pay_return(books, date(2026, 2, 20), JANUARY)[2]
        assert lines_of(books, entry) == written(
            "sales tax payable +500.00", "checking -487.50", "sales tax allowance -12.50"
        )
        books.close()


def test_a_price_with_its_tax_in_it_is_filed_at_the_published_parts(tmp_path: Path) -> None:
    """S: Town of Paradise Valley, Arizona, "Tax Factoring": 100.00 at 9.68 percent is 91.17 and 8.83."""
    books = begin(tmp_path / "books")
    add_rate(books, "Arizona, all together", "9.68")
    answer(books, "goods", True)
    choose_filing(books, "monthly", 20)
    add_to_price_list(books, "Kit", "flat", "100.00", "goods", includes_tax=True)
    picked_up(books, job_for(books, lines=["Kit"]), "cash")
    sheet = sheet_of(books, JANUARY)
    assert (sheet.gross_cents, sheet.taxable_cents) == (91_17, 91_17)
    assert (sheet.due_cents, sheet.collected_cents, sheet.total_cents) == (8_83, 8_83, 8_83)
    books.close()


def test_rounding_of_each_slip_and_of_the_total_may_differ_and_both_are_shown(tmp_path: Path) -> None:
    """S: Streamlined Sales and Use Tax Agreement, section 324: per invoice, the third decimal over four goes up.

    Ten slips of 2.50 at 5 percent collect 0.13 each (0.125); on their total of 25.00 the tax is 1.25.
    """
    books = begin(tmp_path / "books")
    add_rate(books, "Some state", "5")
    answer(books, "work", True)
    choose_filing(books, "monthly", 20)
    for _ in range(10):
        picked_up(books, job_for(books, "2.50"), "cash")
    sheet = sheet_of(books, JANUARY)
    assert (sheet.collected_cents, sheet.due_cents) == (1_30, 1_25)
    assert (sheet.over_collected_cents, sheet.borne_cents, sheet.total_cents) == (5, 0, 1_30)
    books.close()
