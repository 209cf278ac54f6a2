"""A return filed and paid: what is kept, what is booked, the allowance, and what is paid above or below."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible
from ledger.taxes.allowance import Allowance
from ledger.taxes.filed_returns import credit_left, read_filed
from ledger.taxes.tax_payable import tax_payable_off_cents
from ledger.taxes.worksheet_text import worksheet_digest, worksheet_from_text
from tests.taxes.filings import (
    APRIL,
    QUARTER,
    file,
    open_sheet,
    pay_return,
    sheet_of,
    sold,
    told_allowance,
    unfile,
    worked_out,
)
from tests.workshop import (
    FIRST_DAY,
    add_customer,
    answer,
    balance_of,
    begin,
    begin_taxed,
    choose_filing,
    crossing_sum,
    lines_of,
    on_day,
    purse_sums,
    reversed_entry,
    transferred,
    written,
)

FEBRUARY = date(2026, 2, 3)
DUE = date(2026, 4, 27)  # 25 April 2026 is a Saturday
LATE = date(2026, 5, 2)
ALLOWANCE = Allowance(Decimal("2.5"), first_cents=1_200_00, then_percent=Decimal(1), cap_cents=40_00)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=5_000_00)
    choose_filing(opened, "quarterly", 25)
    yield opened
    assert tax_payable_off_cents(opened, date(2026, 12, 31)) == 0
    assert set(purse_sums(opened).values()) == {0}
    assert crossing_sum(opened) == 0
    assert prove(opened).ok
    opened.close()


class TestFiling:
    def test_the_worksheet_is_kept_as_it_stood_with_its_digest(self, books: Books) -> None:
        sold(books, "185.44", FEBRUARY)
        before = sheet_of(on_day(books, APRIL), QUARTER)
        file(books, APRIL)
        (filed,) = read_filed(on_day(books, APRIL))
        assert worksheet_from_text(filed.worksheet) == before
        assert filed.digest == worksheet_digest(filed.worksheet)
        assert (filed.due_on, filed.through.filed_on) == (DUE, APRIL)

    def test_what_is_due_above_what_was_collected_is_hers_to_bear(self, books: Books) -> None:
        """185.44 at 4.3 and 1.0 percent: 9.83 in all, split 7.97 and 1.86; on the totals 7.97 and 1.85 are due."""
        for _ in range(2):
            sold(books, "185.44", FEBRUARY)
        sheet = sheet_of(on_day(books, APRIL), QUARTER)
        assert [(each.due_cents, each.collected_cents) for each in sheet.taxed] == [(15_95, 15_94), (3_71, 3_72)]
        assert (sheet.due_cents, sheet.collected_cents, sheet.owed_cents) == (19_66, 19_66, 19_67)
        assert (sheet.borne_cents, sheet.over_collected_cents) == (1, 1)
        file(books, APRIL)
        (filed,) = read_filed(on_day(books, APRIL))
        assert filed.entry is not None
        assert lines_of(books, filed.entry) == written("licenses and taxes +0.01", "sales tax payable -0.01")

    def test_nothing_is_booked_where_the_totals_agree(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        assert file(books, APRIL).draft is None

    def test_a_period_without_sales_has_a_worksheet_a_due_date_and_can_be_filed(self, books: Books) -> None:
        found = worked_out(books, QUARTER)
        assert (found.worksheet.total_cents, found.due_on) == (0, DUE)
        file(books, APRIL)
        (filed,) = read_filed(on_day(books, APRIL))
        assert (filed.owed_cents, filed.left_cents) == (0, 0)
        with pytest.raises(NotPossible, match="Nothing is left"):
            pay_return(books, APRIL)

    def test_filing_twice_is_refused(self, books: Books) -> None:
        file(books, APRIL)
        with pytest.raises(NotPossible, match="was filed on 2026-04-10"):
            file(books, APRIL)
        assert len(read_filed(on_day(books, APRIL))) == 1

    def test_a_period_that_runs_is_not_filed(self, books: Books) -> None:
        with pytest.raises(NotPossible, match="runs until 2026-03-31"):
            file(books, date(2026, 3, 31))

    def test_a_period_before_the_books_is_not_filed(self, books: Books) -> None:
        with pytest.raises(NotPossible, match="the day these books began"):
            file(books, APRIL, "2025-Q4")

    @pytest.mark.parametrize("period", ["2026-01", "2026", "2026-01..2026-02"])
    def test_days_that_are_no_filing_period_are_refused(self, books: Books, period: str) -> None:
        with pytest.raises(NotPossible, match="no filing period"):
            file(books, date(2027, 1, 5), period)

    def test_an_earlier_return_that_is_missing_is_told(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        remarks = file(books, date(2026, 7, 3), "2026-Q2").remarks
        assert any("No return is filed for 2026-Q1" in each for each in remarks)

    def test_a_class_that_nobody_was_asked_about_is_named(self, tmp_path: Path) -> None:
        other = begin(tmp_path / "other")
        choose_filing(other, "quarterly", 25)
        sold(other, "60.00", FEBRUARY)
        sheet = sheet_of(on_day(other, APRIL), QUARTER)
        assert (sheet.gross_cents, sheet.taxable_cents, sheet.unanswered_cents) == (60_00, 0, 60_00)
        assert sheet.unanswered == ("work",)
        assert any("«work»" in each for each in file(other, APRIL).remarks)
        other.close()

    def test_until_she_said_how_often_a_return_is_shown_and_not_filed(self, tmp_path: Path) -> None:
        other = begin_taxed(tmp_path / "other")
        sold(other, "100.00", FEBRUARY)
        for period in ("2026-02", QUARTER, "2026"):
            found = worked_out(on_day(other, APRIL), period)
            assert (found.worksheet.total_cents, found.due_on) == (5_30, None)
        with pytest.raises(NotPossible, match="is not in the books"):
            file(other, APRIL)
        other.close()


class TestPaying:
    def test_paying_clears_what_is_owed(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        entry = pay_return(books, APRIL)[2]
        assert lines_of(books, entry) == written("sales tax payable +5.30", "checking -5.30")
        assert balance_of(on_day(books, APRIL), "sales tax payable") == 0

    def test_a_return_that_is_not_filed_is_not_paid(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        with pytest.raises(NotPossible, match="not filed yet"):
            pay_return(books, APRIL)

    def test_paying_more_is_kept_as_a_credit_for_the_next_return(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        paid = pay_return(books, APRIL, amount="8.00")[1]
        assert (paid.left_cents, paid.credit_cents) == (0, 2_70)
        sold(books, "100.00", date(2026, 5, 4))
        sheet = sheet_of(on_day(books, date(2026, 7, 3)), "2026-Q2")
        assert (sheet.owed_cents, sheet.carried_cents, sheet.total_cents) == (5_30, 2_70, 2_60)
        file(books, date(2026, 7, 3), "2026-Q2")
        entry = pay_return(books, date(2026, 7, 3), "2026-Q2")[2]
        assert lines_of(books, entry) == written("sales tax payable +2.60", "checking -2.60")
        assert credit_left(read_filed(on_day(books, date(2026, 7, 3)))) == 0

    def test_a_part_leaves_the_rest_owed(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        assert pay_return(books, APRIL, amount="5.00")[1].left_cents == 30
        assert pay_return(books, LATE)[1].cents == 30

    def test_the_household_pays_as_a_contribution(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        entry = pay_return(books, APRIL, from_name="household checking")[2]
        assert lines_of(books, entry) == written("sales tax payable +5.30", "owner's contributions -5.30")
        assert lines_of(books, entry, "personal") == written("workshop mirror +5.30", "household checking -5.30")

    def test_it_is_paid_from_the_tax_savings_too(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        transferred(books, "move", "5.30", "checking", "tax savings")
        file(books, APRIL)
        pay_return(books, APRIL, from_name="tax savings")
        assert balance_of(on_day(books, APRIL), "tax savings") == 0

    @pytest.mark.parametrize("account", ["sales tax payable", "job income", "owed to owner"])
    def test_an_account_that_holds_no_money_is_refused(self, books: Books, account: str) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        with pytest.raises(NotPossible, match="Nothing is paid from"):
            pay_return(books, APRIL, from_name=account)

    def test_an_account_that_there_is_not_is_refused(self, books: Books) -> None:
        file(books, APRIL)
        with pytest.raises(NotFound):
            pay_return(books, APRIL, from_name="chequing")

    def test_undone_the_payment_is_owed_again(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        entry = pay_return(books, APRIL)[2]
        reversed_entry(on_day(books, APRIL), entry)
        assert pay_return(books, APRIL)[1].cents == 5_30


class TestAllowance:
    @pytest.fixture
    def books(self, books: Books) -> Books:
        told_allowance(books, ALLOWANCE, FIRST_DAY)
        sold(books, "50000.00", FEBRUARY)
        return books

    def test_its_steps_and_its_cap(self) -> None:
        """2.5 percent of the first 1,200.00, 1 percent of the rest, at most 40.00."""
        assert [ALLOWANCE.of(each) for each in (1_200_00, 1_300_00, 5_000_00, -1)] == [30_00, 31_00, 40_00, 0]

    def test_filed_and_paid_on_the_due_date_it_is_kept_as_income(self, books: Books) -> None:
        file(books, DUE)
        paid = pay_return(books, DUE)[1]
        assert (paid.cents, paid.allowance_cents, paid.left_cents) == (2_610_00, 40_00, 0)
        assert balance_of(on_day(books, DUE), "sales tax allowance") == -40_00

    def test_filed_late_there_is_none(self, books: Books) -> None:
        assert sheet_of(on_day(books, LATE), QUARTER).allowance_cents == 0
        file(books, LATE)
        assert pay_return(books, LATE)[1].cents == 2_650_00

    def test_filed_in_time_and_paid_late_it_is_lost_and_said(self, books: Books) -> None:
        file(books, APRIL)
        paid = pay_return(books, LATE)[1]
        assert (paid.cents, paid.allowance_cents, paid.lost_allowance_cents) == (2_650_00, 0, 40_00)

    def test_it_is_kept_with_the_payment_that_settles_the_return(self, books: Books) -> None:
        file(books, APRIL)
        assert pay_return(books, APRIL, amount="1000.00")[1].allowance_cents == 0
        second = pay_return(books, APRIL)[1]
        assert (second.cents, second.allowance_cents, second.left_cents) == (1_610_00, 40_00, 0)

    def test_a_part_in_time_and_the_rest_late_keep_nothing(self, books: Books) -> None:
        file(books, APRIL)
        pay_return(books, APRIL, amount="1000.00")
        assert pay_return(books, LATE)[1].cents == 1_650_00

    def test_paid_in_full_in_time_it_is_a_credit(self, books: Books) -> None:
        file(books, APRIL)
        paid = pay_return(books, APRIL, amount="2650.00")[1]
        assert (paid.allowance_cents, paid.credit_cents) == (40_00, 40_00)

    def test_a_second_percent_needs_a_first_step(self) -> None:
        with pytest.raises(NotPossible, match="rest of what"):
            Allowance(Decimal(2), then_percent=Decimal(1))


class TestUndo:
    def test_the_last_filing_can_be_taken_back_and_filed_again(self, books: Books) -> None:
        for _ in range(2):
            sold(books, "185.44", FEBRUARY)
        file(books, APRIL)
        unfile(books, APRIL)
        then = on_day(books, APRIL)
        assert read_filed(then) == ()
        assert balance_of(then, "licenses and taxes") == 0
        assert open_sheet(then, QUARTER).owed_cents == 19_67
        file(books, APRIL)
        assert len(read_filed(then)) == 1

    def test_what_was_paid_stands_in_the_way(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        pay_return(books, APRIL)
        with pytest.raises(NotPossible, match="was paid"):
            unfile(books, APRIL)

    def test_only_the_last_one_is_taken_back(self, books: Books) -> None:
        file(books, APRIL)
        file(books, date(2026, 7, 3), "2026-Q2")
        with pytest.raises(NotPossible, match="2026-Q2 was filed after it"):
            unfile(books, date(2026, 7, 3))

    def test_nothing_is_taken_back_where_nothing_is_filed(self, books: Books) -> None:
        with pytest.raises(NotFound):
            unfile(books, APRIL)

    def test_its_entry_is_not_undone_by_hand(self, books: Books) -> None:
        for _ in range(2):
            sold(books, "185.44", FEBRUARY)
        file(books, APRIL)
        (filed,) = read_filed(on_day(books, APRIL))
        assert filed.entry is not None
        with pytest.raises(NotPossible, match="belongs to a return"):
            reversed_entry(on_day(books, APRIL), filed.entry)


def test_exempt_buyers_are_told_by_reason(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    answer(books, "other", False)
    choose_filing(books, "quarterly", 25)
    for name, reason in (("Oak Guild", "charity"), ("Mill shop", "resale"), ("Elm Guild", "charity")):
        add_customer(books, name, reason, f"{name}-1")
        sold(books, "40.00", FEBRUARY, customer=name)
    sold(books, "100.00", FEBRUARY)
    sheet = sheet_of(on_day(books, APRIL), QUARTER)
    assert [(each.reason, each.cents) for each in sheet.exempt] == [("charity", 80_00), ("resale", 40_00)]
    assert (sheet.gross_cents, sheet.taxable_cents) == (220_00, 100_00)
    books.close()
