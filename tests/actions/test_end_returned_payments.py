"""A check that comes back undoes the payment alone: sale, tax, custody and visit stand, and the job owes again."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import returned_payment
from ledger.actions.take_money import MoneyRequest, take_balance
from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible
from ledger.jobs.records import read_custody, read_job
from ledger.jobs.returned import ReturnedRequest
from ledger.quarter.sales_tax import read_sales_tax
from tests.actions.endings import (
    book_income,
    called_off,
    came_back,
    cash_income,
    check_books,
    given_up,
    gone,
    handed_back,
    money,
    owed_parts,
    paid_together,
    refunded,
    sale_of,
    slip_of,
    sold,
    tax_held,
)
from tests.workshop import (
    add_customer,
    add_rate,
    answer,
    balance_of,
    begin,
    begin_taxed,
    cents,
    deposit,
    job_for,
    lines_of,
    on_day,
    pay,
    picked_up,
    reversed_entry,
    written,
)

LATER, APRIL = date(2026, 2, 10), date(2026, 4, 2)
FIRST_QUARTER = (date(2026, 1, 1), date(2026, 3, 31))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


@pytest.fixture
def job(books: Books) -> int:
    """Picked up for 185.44 and its tax with a deposit of 50.00 by check, the rest by another check."""
    job = job_for(books, "185.44")
    deposit(books, job, "50.00")
    picked_up(books, job, "check", number="1021")
    return job.id


class TestEntries:
    def test_the_last_check_comes_back_and_the_bank_takes_a_fee(self, books: Books, job: int) -> None:
        assert lines_of(books, came_back(books, job, fee="12.00")) == written(
            "owed by customers +145.27", "checking -145.27", "bank charges +12.00", "checking -12.00"
        )
        assert owed_parts(books, job) == (135_44, 9_83)
        check_books(books)

    def test_sale_tax_custody_and_visit_stand(self, books: Books, job: int) -> None:
        before = (slip_of(books, job), tax_held(books), read_custody(books, books.today), sale_of(books, job))
        came_back(on_day(books, APRIL), job)
        april = on_day(books, APRIL)
        assert before == (slip_of(books, job), tax_held(april), read_custody(books, books.today), sale_of(april, job))
        assert read_job(april, job).status == "gone"
        assert read_sales_tax(books, *FIRST_QUARTER).collected_cents == 9_83
        assert read_sales_tax(books, date(2026, 4, 1), date(2026, 6, 30)).collected_cents == 0

    def test_her_charge_for_it_is_income_of_its_class_with_its_tax(self, books: Books, job: int) -> None:
        came_back(books, job, fee="12.00", charge="25.00")
        charge = books.value("select max(number) from entry")
        assert lines_of(books, charge) == written(
            "owed by customers +26.33", "other income -25.00", "sales tax payable -1.08", "sales tax payable -0.25"
        )
        assert slip_of(books, job)[("other", "taxed")] == 25_00
        assert read_job(books, job).owed_cents == 171_60
        check_books(books)

    def test_her_charge_is_not_taxed_where_its_class_is_not(self, books: Books, job: int) -> None:
        answer(books, "other", False)
        came_back(books, job, charge="25.00")
        assert balance_of(books, "other income") == -25_00
        assert read_job(books, job).owed_cents == 170_27
        assert slip_of(books, job)[("other", "not taxed")] == 25_00

    def test_her_charge_is_of_the_class_that_she_says(self, books: Books, job: int) -> None:
        answer(books, "Bank matters", False)
        returned_payment.perform(books, ReturnedRequest(job, charge_cents=25_00, charge_class="BANK matters"))
        assert slip_of(books, job)[("bank matters", "not taxed")] == 25_00
        with pytest.raises(NotFound, match="no class called"):
            returned_payment.preview(books, ReturnedRequest(job, charge_class="fees"))

    def test_her_charge_without_an_answer_takes_no_tax_and_says_so(self, tmp_path: Path) -> None:
        books = begin(tmp_path / "unanswered")
        add_rate(books, "Kansas state", "5.0")
        job = sold(books, "100.00", "check")
        done = returned_payment.perform_and_tell(books, ReturnedRequest(job, charge_cents=25_00))
        assert done.returned.charge_tax is not None
        assert done.returned.charge_tax.unanswered == ("other",)
        assert read_job(books, job).owed_cents == 125_00
        books.close()

    def test_her_charge_to_an_exempt_customer_carries_the_certificate(self, books: Books) -> None:
        add_customer(books, "Guild", "charity", "KS-1")
        job = sold(books, "100.00", "check", customer="Guild")
        came_back(books, job, charge="25.00")
        assert slip_of(books, job) == {("work", "exempt"): 100_00, ("other", "exempt"): 25_00}
        assert books.value("select count(*) from slip_line where certificate = 1") == 2
        assert read_job(books, job).owed_cents == 125_00

    def test_a_card_payment_is_charged_back_with_the_companys_fee(self, books: Books) -> None:
        job = sold(books, "100.00", "card", fee="3.20")
        assert lines_of(books, came_back(books, job, "card", fee="15.00")) == written(
            "owed by customers +105.30", "card settlements -105.30", "card fees +15.00", "card settlements -15.00"
        )
        check_books(books)


class TestCashMethod:
    def test_income_goes_with_the_check_and_comes_with_the_next_payment(self, books: Books) -> None:
        job = sold(books, "100.00", "check")
        april = on_day(books, APRIL)
        came_back(april, job)
        assert cash_income(books, *FIRST_QUARTER) == 100_00
        assert cash_income(books, date(2026, 4, 1), APRIL) == -100_00
        assert book_income(books, date(2026, 4, 1), APRIL) == 0
        pay(april, job, "105.30", "cash")
        assert cash_income(books, date(2026, 4, 1), APRIL) == 0
        check_books(april)

    def test_a_part_payment_that_comes_back_owes_its_own_charge_and_tax_again(self, books: Books, job: int) -> None:
        owed = sold(books, "100.00", "owed")
        pay(books, owed, "33.33")
        assert owed_parts(books, owed) == (68_35, 3_62)
        came_back(books, owed)
        assert owed_parts(books, owed) == (100_00, 5_30)
        check_books(books)


class TestDeposits:
    def test_before_pickup_the_deposit_is_held_no_more(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "50.00")
        assert lines_of(books, came_back(books, job, fee="12.00")) == written(
            "customer deposits +50.00", "checking -50.00", "bank charges +12.00", "checking -12.00"
        )
        again = read_job(books, job.id)
        assert (again.deposit_cents, again.owed_cents, again.status) == (0, 0, "in-hand")
        assert cash_income(books) == 0
        check_books(books)

    def test_after_pickup_it_is_owed_again(self, books: Books) -> None:
        job = job_for(books, "185.44")
        deposit(books, job, "50.00")
        picked_up(books, job, "cash")
        assert lines_of(books, came_back(books, job)) == written("owed by customers +50.00", "checking -50.00")
        assert owed_parts(books, job) == (50_00, 0)
        # 145.27 in cash paid 135.44 of the charge and all of the tax.
        assert (cash_income(books), tax_held(books)) == (135_44, 9_83)
        check_books(books)

    def test_one_that_paid_the_whole_sale_owes_its_tax_as_tax(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "105.30")
        picked_up(books, job)
        came_back(books, job)
        assert owed_parts(books, job) == (100_00, 5_30)
        assert cash_income(books) == 0
        check_books(books)

    def test_of_one_above_the_total_what_is_still_held_is_held_no_more(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "200.00")
        picked_up(books, job)
        assert lines_of(books, came_back(books, job)) == written(
            "customer deposits +94.70", "owed by customers +105.30", "checking -200.00"
        )
        assert (owed_parts(books, job), cash_income(books), money(books)) == ((100_00, 5_30), 0, 0)
        check_books(books)

    def test_of_one_above_the_total_what_was_handed_back_is_owed_and_was_no_income(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "200.00")
        gone(books, job, back="cash")
        came_back(books, job)
        # 94.70 went out in cash against a check that was worth nothing; only 100.00 of the 200.00 owed is a charge.
        assert owed_parts(books, job) == (100_00, 100_00)
        assert (cash_income(books), money(books)) == (0, -94_70)
        check_books(books)
        pay(books, job, "200.00", "cash")
        assert (cash_income(books), tax_held(books), money(books)) == (100_00, 5_30, 105_30)
        check_books(books)

    @pytest.mark.parametrize(("deposit_is", "income"), [("returned", 0), ("kept", 0), ("certificate", 0)])
    def test_after_the_job_was_called_off_it_is_owed(self, books: Books, deposit_is: str, income: int) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "50.00")
        called_off(books, job, deposit_is)
        came_back(books, job)
        again = read_job(books, job.id)
        assert (again.deposit_cents, again.owed_cents) == (0, 50_00)
        assert cash_income(books) == income
        check_books(books)
        pay(books, job, "50.00", "cash")
        assert cash_income(books) == (0 if deposit_is == "returned" else 50_00)
        check_books(books)

    def test_a_part_that_was_handed_back_before_pickup_is_owed(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "50.00")
        handed_back(books, job, "20.00", "cash")
        assert lines_of(books, came_back(books, job)) == written(
            "customer deposits +30.00", "owed by customers +20.00", "checking -50.00"
        )
        assert (cash_income(books), money(books)) == (0, -20_00)
        check_books(books)
        picked_up(books, job, "cash")
        pay(books, job, "20.00", "cash")
        assert (cash_income(books), tax_held(books), money(books)) == (100_00, 5_30, 105_30)
        check_books(books)


class TestWhichCheck:
    def test_the_last_one_that_still_holds_unless_its_number_is_given(self, books: Books, job: int) -> None:
        assert lines_of(books, came_back(books, job))[1] == ("owed by customers", 145_27)
        assert ("owed by customers", 50_00) in lines_of(books, came_back(books, job))
        with pytest.raises(NotFound, match="No check that still holds"):
            came_back(books, job)
        assert (cash_income(books), money(books)) == (0, 0)
        check_books(books)

    def test_the_one_with_the_number(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        for amount, number in (("30.00", "11"), ("20.00", "12")):
            take_balance(books, MoneyRequest(job, cents(amount), "check", number=number))
        assert ("owed by customers", 30_00) in lines_of(books, came_back(books, job, number="11"))
        assert owed_parts(books, job) == (81_01, 4_29)
        with pytest.raises(NotFound, match="with number 11"):
            came_back(books, job, number="11")

    def test_two_checks_in_one_pickup_bear_the_tax_in_proportion(self, books: Books) -> None:
        job = sold(books, "100.00", "check=30.00", "check")
        came_back(books, job)
        assert owed_parts(books, job) == (71_51, 3_79)
        came_back(books, job)
        assert owed_parts(books, job) == (100_00, 5_30)
        check_books(books)

    def test_one_check_for_several_jobs_is_told_on_each(self, books: Books) -> None:
        first, second = (sold(books, price, "owed") for price in ("100.00", "50.00"))
        assert paid_together(books, "Ada Holm", "140.00", number="77") == [first, second]
        done = returned_payment.perform_and_tell(books, ReturnedRequest(second, number="77"))
        assert done.paid.also_paid == (first,)
        again = returned_payment.perform_and_tell(books, ReturnedRequest(first, number="77"))
        assert again.paid.also_paid == ()
        assert [owed_parts(books, job) for job in (first, second)] == [(100_00, 5_30), (50_00, 2_65)]
        check_books(books)

    def test_cash_does_not_come_back(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        for how in ("check", "card"):
            with pytest.raises(NotFound, match=f"No {how} that still holds"):
                came_back(books, job, how)


class TestWithOtherEndings:
    def test_after_a_refund_what_was_handed_back_is_owed_and_was_no_income(self, books: Books) -> None:
        job = sold(books, "100.00", "check")
        refunded(books, job, "52.65", "cash")
        came_back(books, job)
        assert owed_parts(books, job) == (50_00, 55_30)
        assert (cash_income(books), money(books)) == (0, -52_65)
        check_books(books)

    def test_a_part_of_that_pays_what_was_no_income_first(self, books: Books) -> None:
        job = sold(books, "100.00", "check")
        refunded(books, job, "52.65", "cash")
        came_back(books, job)
        pay(books, job, "60.00", "cash")
        assert owed_parts(books, job) == (42_65, 2_65)
        assert (cash_income(books), money(books)) == (7_35, 7_35)
        check_books(books)

    def test_given_up_after_that_only_the_tax_of_the_sale_is_tax(self, books: Books) -> None:
        job = sold(books, "100.00", "check")
        refunded(books, job, "52.65", "cash")
        came_back(books, job)
        assert lines_of(books, given_up(books, job)) == written(
            "balances written off +102.65", "licenses and taxes +2.65", "owed by customers -105.30"
        )
        # 52.65 went out in cash for nothing; the tax of the half that stands is hers to pay.
        assert (cash_income(books), balance_of(books, "licenses and taxes")) == (-52_65, 2_65)
        check_books(books)

    def test_with_goods_taken_for_a_part_the_rest_bears_the_tax(self, books: Books) -> None:
        job = job_for(books, "100.00")
        gone(books, job, "check", barter=("backing", "60.00"))
        came_back(books, job)
        assert owed_parts(books, job) == (40_00, 5_30)
        assert cash_income(books) == 60_00
        check_books(books)

    def test_with_a_tip_in_it_the_whole_check_is_owed(self, books: Books) -> None:
        job = sold(books, "100.00", "check", tip="10.00")
        came_back(books, job)
        assert owed_parts(books, job) == (110_00, 5_30)
        assert cash_income(books) == 0
        check_books(books)

    def test_a_payment_on_a_debt_given_up_is_owed_again(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        given_up(books, job)
        pay(books, job, "105.30")
        came_back(books, job)
        assert owed_parts(books, job) == (100_00, 5_30)
        assert cash_income(books) == 0
        check_books(books)


class TestUndone:
    def test_the_bank_was_wrong_and_its_mirror_brings_the_payment_back(self, books: Books, job: int) -> None:
        number = came_back(books, job, fee="12.00")
        mirror = reversed_entry(books, number)
        assert lines_of(books, mirror) == sorted((name, -cents) for name, cents in lines_of(books, number))
        assert owed_parts(books, job) == (0, 0)
        check_books(books)
        came_back(books, job)
        assert owed_parts(books, job) == (135_44, 9_83)
        check_books(books)

    def test_it_is_not_undone_once_the_debt_was_paid_or_given_up(self, books: Books, job: int) -> None:
        number = came_back(books, job)
        paid = pay(books, job, "145.27", "cash")
        with pytest.raises(NotPossible, match=f"Undo entry {paid} first"):
            reversed_entry(books, number)
        reversed_entry(books, paid)
        written_off = given_up(books, job)
        with pytest.raises(NotPossible, match=f"Undo entry {written_off} first"):
            reversed_entry(books, number)
        reversed_entry(books, written_off)
        reversed_entry(books, number)
        assert owed_parts(books, job) == (0, 0)
        check_books(books)

    def test_a_payment_that_came_back_is_not_undone_a_second_time(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        paid = pay(books, job, "105.30")
        number = came_back(books, job)
        with pytest.raises(NotPossible, match=f"came back with entry {number}"):
            reversed_entry(books, paid)
        check_books(books)

    def test_a_charge_that_was_paid_is_not_taken_back(self, books: Books, job: int) -> None:
        came_back(books, job, charge="25.00")
        charge = books.value("select max(number) from entry")
        pay(books, job, "171.60", "cash")
        with pytest.raises(NotPossible, match="was paid, given back or given up since"):
            reversed_entry(books, charge)

    def test_a_charge_is_taken_back_with_its_tax(self, books: Books, job: int) -> None:
        came_back(books, job, charge="25.00")
        reversed_entry(books, books.value("select max(number) from entry"))
        assert owed_parts(books, job) == (135_44, 9_83)
        assert (tax_held(books), balance_of(books, "other income")) == (9_83, 0)
        check_books(books)
