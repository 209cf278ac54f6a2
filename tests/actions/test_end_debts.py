"""Balances owed: paid in parts and over several jobs, since when, given up with its tax or without, paid after all."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import take_owed
from ledger.books.books import Books
from ledger.books.closing import close_period
from ledger.errors import NotFound, NotPossible
from ledger.jobs.debts import read_owed_jobs
from ledger.jobs.records import read_job
from ledger.money import plain_amount
from ledger.quarter.sales_tax import read_sales_tax
from ledger.taxes.rules import answer_bad_debts
from tests.actions.endings import (
    book_income,
    called_off,
    came_back,
    cash_income,
    check_books,
    given_up,
    owed_parts,
    paid_together,
    refunded,
    sold,
    tax_held,
)
from tests.workshop import (
    USD,
    balance_of,
    begin_taxed,
    deposit,
    job_for,
    lines_of,
    on_day,
    pay,
    picked_up,
    reversed_entry,
    written,
)

FEBRUARY, MARCH, APRIL, MAY = date(2026, 2, 10), date(2026, 3, 3), date(2026, 4, 2), date(2026, 5, 4)
FIRST_QUARTER, SECOND_QUARTER = (date(2026, 1, 1), date(2026, 3, 31)), (date(2026, 4, 1), date(2026, 6, 30))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


@pytest.fixture
def job(books: Books) -> int:
    """Picked up for 185.44 and its tax, a deposit of 50.00, the rest owed."""
    job = job_for(books, "185.44")
    deposit(books, job, "50.00")
    picked_up(books, job, "owed")
    return job.id


def claimable(books: Books, claimed: bool = True) -> None:
    with books.writing() as write:
        answer_bad_debts(books, write, claimed, "the revenue office")


class TestPaidLater:
    def test_in_parts_each_with_its_share_of_the_tax(self, books: Books, job: int) -> None:
        assert lines_of(books, pay(books, job, "100.00")) == written("checking +100.00", "owed by customers -100.00")
        assert owed_parts(books, job) == (135_44 - 93_23, 9_83 - 6_77)
        pay(on_day(books, APRIL), job, "45.27", "cash")
        assert owed_parts(on_day(books, APRIL), job) == (0, 0)
        assert cash_income(books, *FIRST_QUARTER) == 50_00 + 93_23
        assert cash_income(books, *SECOND_QUARTER) == 42_21
        check_books(on_day(books, APRIL))

    @pytest.mark.parametrize("amount", ["145.28", "1000.00"])
    def test_more_than_is_owed_is_refused(self, books: Books, job: int, amount: str) -> None:
        with pytest.raises(NotPossible, match=r"owes 145\.27"):
            pay(books, job, amount)

    def test_a_job_that_was_called_off_takes_no_payment(self, books: Books) -> None:
        job = job_for(books, "100.00")
        called_off(books, job)
        with pytest.raises(NotPossible, match="nothing to pay on it"):
            pay(books, job, "10.00")
        with pytest.raises(NotPossible, match="called off"):
            deposit(books, job, "10.00")


class TestSeveralJobs:
    def test_the_oldest_debt_is_paid_first(self, books: Books) -> None:
        first = sold(books, "100.00", "owed")
        second = sold(on_day(books, FEBRUARY), "50.00", "owed")
        third = sold(on_day(books, MARCH), "20.00", "owed")
        march = on_day(books, MARCH)
        assert paid_together(march, "ada  HOLM", "130.00", number="501") == [first, second]
        assert [read_job(march, each).owed_cents for each in (first, second, third)] == [0, 27_95, 21_06]
        assert paid_together(march, "Ada Holm", "49.01", "cash") == [second, third]
        assert read_owed_jobs(march) == ()
        check_books(march)

    def test_a_card_fee_is_spread_over_them(self, books: Books) -> None:
        sold(books, "100.00", "owed")
        sold(books, "50.00", "owed")
        take_owed.perform(books, take_owed.OwedMoneyRequest("Ada Holm", 157_95, "card", 4_00))
        assert (balance_of(books, "card fees"), balance_of(books, "card settlements")) == (4_00, 153_95)
        check_books(books)

    def test_more_than_all_of_it_is_refused_and_nothing_is_booked(self, books: Books, job: int) -> None:
        sold(books, "10.00", "owed")
        before = books.value("select count(*) from entry")
        with pytest.raises(NotPossible, match=r"Ada Holm owes 155\.80 in all"):
            paid_together(books, "Ada Holm", "155.81")
        assert books.value("select count(*) from entry") == before

    def test_another_customers_debt_is_not_paid(self, books: Books, job: int) -> None:
        other = sold(books, "10.00", "owed", customer="Ben Oort")
        assert paid_together(books, "Ben Oort", "10.53") == [other]
        assert read_job(books, job).owed_cents == 145_27
        with pytest.raises(NotPossible, match=r"Ben Oort owes 0\.00 in all\. There is nothing to pay"):
            paid_together(books, "Ben Oort", "1.00")
        with pytest.raises(NotFound, match="no customer called"):
            paid_together(books, "Cara Quill", "1.00")


class TestSinceWhen:
    def owed(self, books: Books) -> list[tuple[int, date, str]]:
        return [(each.job, each.since, plain_amount(each.cents, USD)) for each in read_owed_jobs(books)]

    def test_the_day_of_the_pickup_for_what_was_never_paid(self, books: Books) -> None:
        first = sold(books, "100.00", "owed")
        second = sold(on_day(books, FEBRUARY), "50.00", "owed", customer="Ben Oort")
        pay(on_day(books, MARCH), first, "5.30")
        assert self.owed(on_day(books, APRIL)) == [(first, books.today, "100.00"), (second, FEBRUARY, "52.65")]
        assert self.owed(on_day(books, FEBRUARY)) == [(first, books.today, "105.30"), (second, FEBRUARY, "52.65")]
        assert self.owed(books) == [(first, books.today, "105.30")]

    def test_the_day_on_which_a_paid_debt_came_back(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        pay(on_day(books, FEBRUARY), job, "105.30")
        assert self.owed(on_day(books, FEBRUARY)) == []
        came_back(on_day(books, MARCH), job)
        assert self.owed(on_day(books, APRIL)) == [(job, MARCH, "105.30")]


class TestGivenUp:
    def test_without_an_answer_its_tax_is_hers_to_pay(self, books: Books, job: int) -> None:
        assert lines_of(books, given_up(books, job)) == written(
            "balances written off +135.44", "licenses and taxes +9.83", "owed by customers -145.27"
        )
        assert read_sales_tax(books, *FIRST_QUARTER).collected_cents == 9_83
        check_books(books)

    def test_where_her_state_lets_her_its_tax_is_claimed_in_the_worksheet_of_the_day(
        self, books: Books, job: int
    ) -> None:
        april = on_day(books, APRIL)
        claimable(books)
        close_period(april, *FIRST_QUARTER)
        assert lines_of(books, given_up(april, job)) == written(
            "balances written off +135.44",
            "sales tax payable +7.97",
            "sales tax payable +1.86",
            "owed by customers -145.27",
        )
        first, second = (read_sales_tax(books, *quarter) for quarter in (FIRST_QUARTER, SECOND_QUARTER))
        assert (first.collected_cents, second.collected_cents) == (9_83, -9_83)
        assert [(each.base_cents, each.tax_cents) for each in second.by_jurisdiction] == [
            (-185_44, -7_97),
            (-185_44, -1_86),
        ]
        check_books(april)

    def test_an_answer_of_no_is_an_answer(self, books: Books, job: int) -> None:
        claimable(books, False)
        assert ("licenses and taxes", 9_83) in lines_of(books, given_up(books, job))

    def test_it_is_no_deduction_on_the_cash_method(self, books: Books, job: int) -> None:
        before = cash_income(books)
        given_up(books, job)
        assert cash_income(books) == before == 50_00
        assert book_income(books) == 50_00

    def test_half_paid_and_the_rest_given_up(self, books: Books) -> None:
        claimable(books)
        job = sold(books, "100.00", "cash", amount="52.65")
        assert lines_of(books, given_up(books, job)) == written(
            "balances written off +50.00",
            "sales tax payable +2.15",
            "sales tax payable +0.50",
            "owed by customers -52.65",
        )
        assert read_sales_tax(books, *FIRST_QUARTER).by_jurisdiction[0].base_cents == 50_00
        assert (cash_income(books), book_income(books), tax_held(books)) == (50_00, 50_00, 2_65)
        check_books(books)

    def test_nothing_owed_is_nothing_to_give_up(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        with pytest.raises(NotPossible, match="Nothing is owed"):
            given_up(books, job)

    def test_a_charge_for_a_returned_check_is_given_up_with_its_tax(self, books: Books) -> None:
        claimable(books)
        job = sold(books, "100.00", "check")
        came_back(books, job, charge="25.00")
        assert lines_of(books, given_up(books, job)) == written(
            "balances written off +125.00",
            "sales tax payable +5.38",
            "sales tax payable +1.25",
            "owed by customers -131.63",
        )
        assert (tax_held(books), cash_income(books), book_income(books)) == (0, 0, 0)
        check_books(books)

    def test_what_was_paid_of_it_can_still_be_refunded_and_no_more(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", amount="52.65")
        given_up(books, job)
        with pytest.raises(NotPossible, match=r"52\.65 is paid"):
            refunded(books, job, "52.66")
        refunded(books, job)
        assert cash_income(books) == 0
        check_books(books)


class TestPaidAfterAll:
    def test_its_charge_is_income_and_its_tax_is_due_again(self, books: Books) -> None:
        claimable(books)
        job = sold(books, "100.00", "owed")
        given_up(on_day(books, APRIL), job)
        may = on_day(books, MAY)
        assert lines_of(books, pay(may, job, "105.30")) == written(
            "checking +105.30", "balances written off -100.00", "sales tax payable -4.30", "sales tax payable -1.00"
        )
        assert read_sales_tax(books, *SECOND_QUARTER).by_jurisdiction[0].base_cents == 0
        assert (cash_income(may), book_income(may), tax_held(may)) == (100_00, 100_00, 5_30)
        check_books(may)

    def test_without_a_claim_its_tax_was_paid_over_and_comes_back_to_her(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        given_up(books, job)
        assert lines_of(books, pay(books, job, "105.30")) == written(
            "checking +105.30", "balances written off -100.00", "licenses and taxes -5.30"
        )
        assert (cash_income(books), balance_of(books, "licenses and taxes")) == (100_00, 0)
        check_books(books)

    def test_it_follows_how_it_was_given_up_and_not_what_she_was_told_since(self, books: Books) -> None:
        first, second = (sold(books, "100.00", "owed") for _ in range(2))
        given_up(books, first)
        claimable(books)
        given_up(books, second)
        claimable(books, False)
        assert ("licenses and taxes", -5_30) in lines_of(books, pay(books, first, "105.30"))
        assert ("sales tax payable", -4_30) in lines_of(books, pay(books, second, "105.30"))
        check_books(books)

    def test_parts_of_it_close_the_claim_exactly(self, books: Books) -> None:
        claimable(books)
        job = sold(books, "185.44", "owed")
        given_up(books, job)
        for amount in ("33.33", "0.01", "77.77", "84.16"):
            pay(books, job, amount, "cash")
        totals = read_sales_tax(books, *FIRST_QUARTER)
        assert [(each.base_cents, each.tax_cents) for each in totals.by_jurisdiction] == [
            (185_44, 7_97),
            (185_44, 1_86),
        ]
        assert (cash_income(books), tax_held(books)) == (185_44, 9_83)
        with pytest.raises(NotPossible, match="nothing to pay on it"):
            pay(books, job, "0.01")
        check_books(books)

    def test_more_than_was_given_up_is_refused(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        given_up(books, job)
        with pytest.raises(NotPossible, match=r"owed, before it was given up, 105\.30\. Take that much or less"):
            pay(books, job, "105.31")


class TestUndone:
    def test_the_debt_is_owed_again(self, books: Books, job: int) -> None:
        claimable(books)
        number = given_up(books, job)
        reversed_entry(books, number)
        assert owed_parts(books, job) == (135_44, 9_83)
        assert tax_held(books) == 9_83
        check_books(books)

    def test_not_while_money_that_came_in_on_it_stands(self, books: Books, job: int) -> None:
        number = given_up(books, job)
        paid = pay(books, job, "20.00")
        with pytest.raises(NotPossible, match=f"entry {paid}"):
            reversed_entry(books, number)
        reversed_entry(books, paid)
        reversed_entry(books, number)
        assert owed_parts(books, job) == (135_44, 9_83)
        check_books(books)

    def test_a_payment_of_an_owed_balance(self, books: Books, job: int) -> None:
        paid = pay(books, job, "100.00", "card", fee="3.00")
        reversed_entry(books, paid)
        assert owed_parts(books, job) == (135_44, 9_83)
        check_books(books)
