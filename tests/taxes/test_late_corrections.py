"""What comes late to a filed return: it goes into the next one or an amended one, as her state told her."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import give_up, refund, retax, void
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotPossible
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.periods import parse_period
from ledger.taxes.filed_returns import credit_left, read_filed
from ledger.taxes.returns import returns_book
from ledger.taxes.rules import answer_bad_debts
from ledger.taxes.tax_payable import tax_payable_off_cents
from tests.taxes.filings import (
    APRIL,
    JULY,
    QUARTER,
    file,
    open_sheet,
    pay_return,
    sheet_of,
    sold,
    told_below_zero,
    told_corrections,
    unfile,
    worked_out,
)
from tests.workshop import (
    FIRST_DAY,
    add_customer,
    answer,
    balance_of,
    begin_taxed,
    choose_filing,
    lines_of,
    on_day,
    reversed_entry,
    written,
)

FEBRUARY = date(2026, 2, 3)
MAY = date(2026, 5, 6)
NEXT = "2026-Q2"


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=5_000_00)
    choose_filing(opened, "quarterly", 25)
    yield opened
    assert tax_payable_off_cents(opened, date(2026, 12, 31)) == 0
    assert prove(opened).ok
    opened.close()


def retaxed(books: Books, job: int, day: date, borne: str = "workshop") -> None:
    retax.perform(on_day(books, day), RetaxRequest(job, "the answer was wrong", borne))  # type: ignore[arg-type]


def sale_of(books: Books, job: int) -> int:
    return int(books.value("select min(number) from entry where job = ? and kind = 'pickup'", (job,)))


class TestNextReturn:
    def test_a_sale_entered_late_goes_into_the_next_return(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        sold(books, "60.00", FEBRUARY)  # entered after the filing, for a day before it
        then = on_day(books, MAY)
        assert sheet_of(then, QUARTER).gross_cents == 100_00
        assert sheet_of(then, NEXT).gross_cents == 60_00
        found = worked_out(then, NEXT)
        assert found.earlier == (sale_of(books, 2),)

    def test_the_filed_period_names_what_came_late_and_where_it_goes(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        sold(books, "60.00", FEBRUARY)
        book = returns_book(on_day(books, MAY), parse_period(QUARTER))
        (late,) = book.late_entries(parse_period(QUARTER))
        assert (late.tax_cents, late.goes_to.period.label, late.goes_to.sequence) == (3_18, NEXT, 0)

    def test_tax_put_right_after_the_filing_goes_into_the_next_return(self, books: Books) -> None:
        answer(books, "work", False)
        job = sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        answer(books, "work", True)
        retaxed(books, job, MAY)
        sheet = sheet_of(on_day(books, MAY), NEXT)
        assert (sheet.collected_cents, sheet.taxable_cents, sheet.gross_cents) == (5_30, 100_00, 0)

    def test_before_the_filing_it_stays_in_the_period_of_the_sale(self, books: Books) -> None:
        answer(books, "work", False)
        job = sold(books, "100.00", FEBRUARY)
        answer(books, "work", True)
        retaxed(books, job, date(2026, 4, 2))
        assert sheet_of(on_day(books, APRIL), QUARTER).collected_cents == 5_30
        assert sheet_of(on_day(books, APRIL), NEXT).collected_cents == 0

    def test_a_pickup_undone_before_the_filing_is_in_no_return(self, books: Books) -> None:
        job = sold(books, "100.00", FEBRUARY, "owed")
        reversed_entry(on_day(books, date(2026, 4, 2)), sale_of(books, job))
        assert sheet_of(on_day(books, APRIL), QUARTER).gross_cents == 0
        assert sheet_of(on_day(books, APRIL), NEXT).gross_cents == 0

    def test_a_refund_belongs_to_its_own_day(self, books: Books) -> None:
        job = sold(books, "100.00", FEBRUARY)
        refund.perform(on_day(books, date(2026, 4, 2)), RefundRequest(job, cents=10_53))
        assert sheet_of(on_day(books, APRIL), QUARTER).collected_cents == 5_30
        sheet = sheet_of(on_day(books, APRIL), NEXT)
        assert [(each.reason, each.cents) for each in sheet.deductions] == [("refunds", 10_00)]
        assert (sheet.collected_cents, sheet.total_cents) == (-53, -53)

    def test_what_came_late_to_two_filed_returns_goes_into_the_third(self, books: Books) -> None:
        file(books, APRIL)
        file(books, JULY, NEXT)
        sold(books, "60.00", FEBRUARY)
        assert sheet_of(on_day(books, JULY), "2026-Q3").gross_cents == 60_00

    def test_it_stays_in_the_return_that_took_it(self, books: Books) -> None:
        file(books, APRIL)
        sold(books, "60.00", FEBRUARY)
        file(books, JULY, NEXT)
        told_corrections(books, "amended", JULY)
        assert open_sheet(on_day(books, JULY), QUARTER).gross_cents == 0
        assert sheet_of(on_day(books, JULY), NEXT).gross_cents == 60_00


class TestAmended:
    @pytest.fixture
    def books(self, books: Books) -> Books:
        told_corrections(books, "amended", FIRST_DAY)
        return books

    def test_an_amended_return_has_the_whole_period_less_what_was_filed(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        pay_return(books, APRIL)
        sold(books, "60.00", FEBRUARY)
        sheet = open_sheet(on_day(books, MAY), QUARTER)
        assert (sheet.gross_cents, sheet.owed_cents, sheet.owed_before_cents, sheet.total_cents) == (
            *(160_00, 8_48, 5_30),
            3_18,
        )
        file(books, MAY, QUARTER, is_amended=True)
        entry = pay_return(books, MAY)[2]
        assert lines_of(books, entry) == written("sales tax payable +3.18", "checking -3.18")

    def test_the_rounding_that_was_booked_before_counts(self, books: Books) -> None:
        """185.44 twice bears 0.01 (see the first filing); a third time the totals are 0.03 above for the state."""
        for _ in range(2):
            sold(books, "185.44", FEBRUARY)
        file(books, APRIL)
        sold(books, "185.44", FEBRUARY)
        file(books, MAY, QUARTER, is_amended=True)
        first, second = read_filed(on_day(books, MAY))
        assert first.sales_tax_cents + second.sales_tax_cents == open_sheet(on_day(books, MAY), QUARTER).owed_cents

    def test_nothing_new_is_nothing_to_amend(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        with pytest.raises(NotPossible, match="Nothing came"):
            file(books, MAY, QUARTER, is_amended=True)

    def test_the_first_return_is_no_amended_one(self, books: Books) -> None:
        with pytest.raises(NotPossible, match="not filed yet"):
            file(books, APRIL, QUARTER, is_amended=True)

    def test_less_tax_is_a_credit(self, books: Books) -> None:
        job = sold(books, "100.00", FEBRUARY, "owed")
        file(books, APRIL)
        pay_return(books, APRIL)
        answer(books, "work", False)
        retaxed(books, job, MAY, "owed")
        sheet = open_sheet(on_day(books, MAY), QUARTER)
        assert (sheet.owed_cents, sheet.total_cents) == (0, -5_30)
        file(books, MAY, QUARTER, is_amended=True)
        assert credit_left(read_filed(on_day(books, MAY))) == 5_30
        assert sheet_of(on_day(books, MAY), NEXT).carried_cents == 5_30


class TestBelowZero:
    def below_zero(self, books: Books) -> None:
        job = sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        pay_return(books, APRIL)
        refund.perform(on_day(books, MAY), RefundRequest(job))

    def test_it_is_carried_forward_until_she_asked(self, books: Books) -> None:
        self.below_zero(books)
        remarks = file(books, JULY, NEXT).remarks
        assert any("below zero" in each for each in remarks)
        sold(books, "300.00", JULY)
        sheet = sheet_of(on_day(books, JULY), "2026-Q3")
        assert (sheet.owed_cents, sheet.carried_cents, sheet.total_cents) == (15_90, 5_30, 10_60)

    def test_carried_twice_it_is_used_once(self, books: Books) -> None:
        self.below_zero(books)
        file(books, JULY, NEXT)
        october, january = date(2026, 10, 5), date(2027, 1, 5)
        file(books, october, "2026-Q3")
        then = on_day(books, october)
        assert credit_left(read_filed(then)) == 5_30
        sold(books, "20.00", october)
        file(books, january, "2026-Q4")
        assert credit_left(read_filed(on_day(books, january))) == 5_30 - 1_06

    def test_claimed_back_it_comes_in_and_is_not_carried(self, books: Books) -> None:
        told_below_zero(books, "claim", FIRST_DAY)
        self.below_zero(books)
        file(books, JULY, NEXT)
        assert sheet_of(on_day(books, JULY), "2026-Q3").carried_cents == 0
        entry = pay_return(books, JULY, NEXT)[2]
        assert lines_of(books, entry) == written("checking +5.30", "sales tax payable -5.30")
        assert balance_of(on_day(books, JULY), "sales tax payable") == 0
        with pytest.raises(NotPossible, match="Nothing is left"):
            pay_return(books, JULY, NEXT)

    def test_no_more_comes_back_than_was_claimed(self, books: Books) -> None:
        told_below_zero(books, "claim", FIRST_DAY)
        self.below_zero(books)
        file(books, JULY, NEXT)
        with pytest.raises(NotPossible, match="claimed back"):
            pay_return(books, JULY, NEXT, amount="5.31")

    def test_a_payment_in_a_credit_that_was_used_is_not_undone(self, books: Books) -> None:
        sold(books, "100.00", FEBRUARY)
        file(books, APRIL)
        entry = pay_return(books, APRIL, amount="8.00")[2]
        sold(books, "100.00", MAY)
        file(books, JULY, NEXT)
        with pytest.raises(NotPossible, match="credit that 2026-Q2 used"):
            reversed_entry(on_day(books, JULY), entry)


class TestPickupThatWasFiled:
    def test_it_is_not_undone(self, books: Books) -> None:
        job = sold(books, "100.00", FEBRUARY, "owed")
        file(books, APRIL)
        with pytest.raises(NotPossible, match="filed with the return of 2026-Q1"):
            void.perform(on_day(books, APRIL), void.VoidRequest(job, "the wrong piece"))

    def test_it_is_undone_once_the_filing_is_taken_back(self, books: Books) -> None:
        job = sold(books, "100.00", FEBRUARY, "owed")
        file(books, APRIL)
        unfile(books, APRIL)
        void.perform(on_day(books, APRIL), void.VoidRequest(job, "the wrong piece"))
        assert sheet_of(on_day(books, APRIL), QUARTER).gross_cents == 0


def test_a_bad_debt_is_a_deduction_of_its_own(books: Books) -> None:
    with books.writing() as write:
        answer_bad_debts(books, write, True, "the revenue office")
    job = sold(books, "100.00", FEBRUARY, "owed")
    file(books, APRIL)
    give_up.perform(on_day(books, MAY), give_up.GiveUpRequest(job, "moved away"))
    sheet = sheet_of(on_day(books, MAY), NEXT)
    assert [(each.reason, each.cents) for each in sheet.deductions] == [("bad debts", 100_00)]
    assert (sheet.taxable_cents, sheet.collected_cents) == (-100_00, -5_30)


def test_exempt_sales_given_back_are_taken_off_their_reason(books: Books) -> None:
    add_customer(books, "Oak Guild", "charity", "O-1")
    job = sold(books, "100.00", FEBRUARY, customer="Oak Guild")
    refund.perform(on_day(books, FEBRUARY), RefundRequest(job, cents=30_00))
    sheet = sheet_of(on_day(books, FEBRUARY), QUARTER)
    assert [(each.reason, each.cents) for each in sheet.exempt] == [("charity", 70_00)]
    assert (sheet.gross_cents, sheet.taxable_cents) == (100_00, 0)
    assert [(each.reason, each.cents) for each in sheet.deductions] == [("refunds", 30_00)]
