"""Wrong tax is put right by an entry of its own day, with the customer's money or without, as often as need be."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.closing import close_period
from ledger.errors import NotPossible
from ledger.jobs.customers import ensure_customer
from ledger.jobs.pickup import Sending
from ledger.jobs.records import read_job
from ledger.quarter.sales_tax import read_sales_tax
from ledger.taxes.certificates import keep_certificate
from ledger.taxes.rules import add_rate as add_rate_at
from ledger.taxes.rules import answer_class, choose_sourcing
from tests.actions.endings import (
    book_income,
    came_back,
    cash_income,
    check_books,
    given_up,
    gone,
    money,
    owed_parts,
    paid_out,
    refunded,
    sale_of,
    slip_of,
    sold,
    tax_held,
    tax_of,
    tax_put_right,
)
from tests.workshop import (
    add_rate,
    add_to_price_list,
    answer,
    balance_of,
    begin,
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

FEBRUARY, APRIL = date(2026, 2, 10), date(2026, 4, 2)
FIRST_QUARTER, SECOND_QUARTER = (date(2026, 1, 1), date(2026, 3, 31)), (date(2026, 4, 1), date(2026, 6, 30))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


@pytest.fixture
def unanswered(tmp_path: Path) -> Iterator[Books]:
    """Books with a rate of 5.3 % in two parts, and no class answered yet."""
    opened = begin(tmp_path / "unanswered")
    add_rate(opened, "Kansas state", "4.3")
    add_rate(opened, "Riley county", "1.0")
    yield opened
    opened.close()


class TestTooLittle:
    def test_an_unanswered_class_that_is_taxed_is_owed_by_the_customer(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        answer(unanswered, "work", True)
        february = on_day(unanswered, FEBRUARY)
        assert lines_of(unanswered, tax_put_right(february, job)) == written(
            "owed by customers +5.30", "sales tax payable -4.30", "sales tax payable -1.00"
        )
        assert slip_of(unanswered, job) == {("work", "taxed"): 100_00}
        assert tax_of(unanswered, job) == [("4.3", 100_00, 4_30), ("1", 100_00, 1_00)]
        assert (owed_parts(february, job), cash_income(february)) == ((0, 5_30), 100_00)
        pay(february, job, "5.30")
        assert (cash_income(february), tax_held(february), money(february)) == (100_00, 5_30, 105_30)
        check_books(february)

    def test_the_workshop_bears_it_as_an_expense(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        answer(unanswered, "work", True)
        assert lines_of(unanswered, tax_put_right(unanswered, job, "workshop")) == written(
            "licenses and taxes +5.30", "sales tax payable -4.30", "sales tax payable -1.00"
        )
        assert (read_job(unanswered, job).owed_cents, cash_income(unanswered)) == (0, 100_00)
        check_books(unanswered)

    @pytest.mark.parametrize(
        ("how", "account"), [("cash", "cash box"), ("check", "checking"), ("card", "card settlements")]
    )
    def test_the_customer_pays_it_now(self, unanswered: Books, how: str, account: str) -> None:
        job = sold(unanswered, "100.00", "cash")
        answer(unanswered, "work", True)
        assert (account, 5_30) in lines_of(unanswered, tax_put_right(unanswered, job, how))
        assert (cash_income(unanswered), tax_held(unanswered)) == (100_00, 5_30)
        check_books(unanswered)

    def test_a_check_for_it_comes_back_and_owes_the_tax_alone(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        answer(unanswered, "work", True)
        tax_put_right(unanswered, job, "check")
        came_back(unanswered, job)
        assert (owed_parts(unanswered, job), cash_income(unanswered)) == ((0, 5_30), 100_00)
        check_books(unanswered)

    def test_a_rate_that_was_entered_late(self, books: Books) -> None:
        job = sold(on_day(books, FEBRUARY), "100.00", "cash")
        add_rate(books, "Riley county", "2.5", date(2026, 2, 1))
        tax_put_right(on_day(books, APRIL), job)
        assert tax_of(books, job) == [("4.3", 100_00, 4_30), ("2.5", 100_00, 2_50)]
        assert owed_parts(on_day(books, APRIL), job) == (0, 1_50)
        check_books(on_day(books, APRIL))


class TestTooMuch:
    def test_it_goes_back_to_the_customer(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        answer(books, "work", False)
        assert lines_of(books, tax_put_right(books, job, "cash")) == written(
            "sales tax payable +4.30", "sales tax payable +1.00", "cash box -5.30"
        )
        assert slip_of(books, job) == {("work", "not taxed"): 100_00}
        assert (tax_of(books, job), cash_income(books), tax_held(books), money(books)) == ([], 100_00, 0, 100_00)
        check_books(books)

    def test_by_card_it_is_taken_off_the_next_payout(self, books: Books) -> None:
        job = sold(books, "100.00", "card")
        answer(books, "work", False)
        tax_put_right(books, job, "card")
        paid_out(books, "100.00")
        check_books(books)

    def test_it_is_taken_off_what_is_owed(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", amount="50.00")
        answer(books, "work", False)
        tax_put_right(books, job)
        # 50.00 is paid on a charge of 100.00, and none of it is tax any more.
        assert (owed_parts(books, job), cash_income(books)) == ((50_00, 0), 50_00)
        check_books(books)

    def test_handed_back_while_some_is_owed_no_tax_stays_owed(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", amount="50.00")
        answer(books, "work", False)
        tax_put_right(books, job, "check")
        assert (owed_parts(books, job), cash_income(books), money(books)) == ((55_30, 0), 44_70, 44_70)
        check_books(books)

    @pytest.mark.parametrize(
        ("paid", "borne", "do"),
        [
            ("cash", "owed", "Hand it back"),
            ("cash", "workshop", "leave the tax as it is"),
            ("owed", "cash", "--borne owed"),
        ],
    )
    def test_it_never_goes_to_whoever_did_not_pay_it(self, books: Books, paid: str, borne: str, do: str) -> None:
        job = sold(books, "100.00", paid)
        answer(books, "work", False)
        with pytest.raises(NotPossible, match=r"5\.30 was taken too much") as refused:
            tax_put_right(books, job, borne)
        assert do in refused.value.do
        assert refused.value.field == "borne"

    def test_a_certificate_that_came_late_makes_the_sale_exempt(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", customer="Guild")
        february = on_day(books, FEBRUARY)
        with february.writing() as write:
            party = ensure_customer(february, write, "Guild").party.id
            kept = keep_certificate(february, write, party, "charity", "KS-1", None, from_date=date(2026, 1, 1))
        tax_put_right(february, job, "cash")
        assert slip_of(books, job) == {("work", "exempt"): 100_00}
        exempt = books.rows("select certificate from slip_line where treatment = 'exempt'")
        assert [row[0] for row in exempt] == [kept]
        check_books(february)


class TestBackAndForth:
    def test_from_unanswered_to_taxed_and_back(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        answer(unanswered, "work", True)
        tax_put_right(unanswered, job, "workshop")
        answer(unanswered, "work", False)
        tax_put_right(unanswered, job, "workshop")
        assert (slip_of(unanswered, job), tax_of(unanswered, job)) == ({("work", "not taxed"): 100_00}, [])
        assert (tax_held(unanswered), balance_of(unanswered, "licenses and taxes")) == (0, 0)
        check_books(unanswered)

    def test_what_the_workshop_bore_is_all_that_comes_back_to_it(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        answer(unanswered, "work", True)
        tax_put_right(unanswered, job, "cash")
        answer(unanswered, "work", False)
        with pytest.raises(NotPossible, match="never the workshop's"):
            tax_put_right(unanswered, job, "workshop")

    def test_right_tax_is_not_put_right(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        with pytest.raises(NotPossible, match="is what the rates and answers in the books make it"):
            tax_put_right(books, job)

    def test_the_same_in_all_goes_to_other_jurisdictions(self, books: Books) -> None:
        job = sold(on_day(books, FEBRUARY), "100.00", "cash")
        add_rate(books, "Riley county", "0.5", date(2026, 2, 1))
        add_rate(books, "Manhattan city", "0.5", date(2026, 2, 1))
        assert lines_of(books, tax_put_right(on_day(books, FEBRUARY), job)) == written(
            *("sales tax payable +4.30", "sales tax payable +1.00"),
            *("sales tax payable -4.30", "sales tax payable -0.50", "sales tax payable -0.50"),
        )
        assert read_job(on_day(books, FEBRUARY), job).owed_cents == 0
        check_books(on_day(books, FEBRUARY))

    def test_after_a_refund_what_is_left_is_taxed(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        refunded(unanswered, job, "40.00")
        answer(unanswered, "work", True)
        tax_put_right(unanswered, job, "cash")
        assert tax_of(unanswered, job) == [("4.3", 60_00, 2_58), ("1", 60_00, 60)]
        refunded(unanswered, job)
        assert (slip_of(unanswered, job), tax_of(unanswered, job), cash_income(unanswered)) == ({}, [], 0)
        check_books(unanswered)

    def test_undone_the_sale_is_as_it_was(self, books: Books) -> None:
        job = sold(books, "100.00", "card")
        answer(books, "work", False)
        reversed_entry(books, tax_put_right(books, job, "card"))
        assert slip_of(books, job) == {("work", "taxed"): 100_00}
        assert tax_of(books, job) == [("4.3", 100_00, 4_30), ("1", 100_00, 1_00)]
        check_books(books)

    @pytest.mark.parametrize("ending", ["refund", "put tax right", "give up"])
    def test_not_under_what_was_worked_out_from_it(self, unanswered: Books, ending: str) -> None:
        job = sold(unanswered, "100.00", "owed")
        answer(unanswered, "work", True)
        number = tax_put_right(unanswered, job)
        if ending == "put tax right":
            answer(unanswered, "work", False)
        later = {
            "refund": lambda: refunded(unanswered, job, "10.00", "owed"),
            "put tax right": lambda: tax_put_right(unanswered, job),
            "give up": lambda: given_up(unanswered, job),
        }[ending]()
        with pytest.raises(NotPossible, match=f"Entry {later} rests on this retax"):
            reversed_entry(unanswered, number)

    def test_nor_once_its_tax_was_paid(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        answer(unanswered, "work", True)
        number = tax_put_right(unanswered, job)
        paid = pay(unanswered, job, "5.30")
        with pytest.raises(NotPossible, match=f"Undo entry {paid} first"):
            reversed_entry(unanswered, number)

    def test_a_debt_that_was_given_up_is_undone_first(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        number = given_up(books, job)
        answer(books, "work", False)
        with pytest.raises(NotPossible, match="was given up, and its tax with it"):
            tax_put_right(books, job)
        reversed_entry(books, number)
        tax_put_right(books, job)
        check_books(books)


class TestWorksheet:
    def test_the_day_of_the_entry_shows_it_after_the_quarter_of_the_sale_was_closed(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        april = on_day(unanswered, APRIL)
        close_period(april, *FIRST_QUARTER)
        answer(april, "work", True)
        tax_put_right(april, job)
        first, second = (read_sales_tax(april, *quarter) for quarter in (FIRST_QUARTER, SECOND_QUARTER))
        assert (first.gross_cents, first.unanswered_cents, first.collected_cents) == (100_00, 100_00, 0)
        assert (second.gross_cents, second.unanswered_cents, second.taxable_cents) == (0, -100_00, 100_00)
        assert (second.collected_cents, first.unanswered, second.unanswered) == (5_30, ("work",), ())
        check_books(april)

    def test_within_one_quarter_nothing_is_left_unanswered(self, unanswered: Books) -> None:
        job = sold(unanswered, "100.00", "cash")
        answer(unanswered, "work", True)
        tax_put_right(unanswered, job)
        assert read_sales_tax(unanswered, *FIRST_QUARTER).unanswered == ()


class TestWhichRules:
    def test_those_of_the_day_of_the_sale(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        answer(books, "work", False, FEBRUARY)
        add_rate(books, "Riley county", "2.5", FEBRUARY)
        with pytest.raises(NotPossible, match="is what the rates"):
            tax_put_right(on_day(books, APRIL), job)

    def test_those_of_the_place_that_the_piece_was_sent_to(self, books: Books) -> None:
        with books.writing() as write:
            choose_sourcing(books, write, "destination", "the revenue office")
        job = job_for(books, "100.00")
        gone(books, job, "cash", sending=Sending("Denver", "Prairie Parcel"))
        assert tax_of(books, job) == []
        with pytest.raises(NotPossible, match="is what the rates"):
            tax_put_right(books, job)
        with books.writing() as write:
            add_rate_at(books, write, "Colorado state", Decimal("2.9"), date(2026, 1, 1), level="state", place="Denver")
        tax_put_right(books, job)
        assert tax_of(books, job) == [("2.9", 100_00, 2_90)]
        check_books(books)

    def test_a_charge_that_was_split_is_split_again_as_one(self, books: Books) -> None:
        with books.writing() as write:
            answer_class(books, write, "delivery", True, "the office", books.today, is_split=True)
        answer(books, "work", False)
        add_to_price_list(books, "Batting", "flat", "33.33", "goods")
        add_to_price_list(books, "Quilting", "flat", "66.67", "work")
        add_to_price_list(books, "Parcel", "flat", "9.99", "delivery")
        job = job_for(books, lines=["Batting", "Quilting", "Parcel"])
        picked_up(books, job, "cash")
        assert slip_of(books, job)[("delivery", "taxed")] == 3_33
        with pytest.raises(NotPossible, match="is what the rates"):
            tax_put_right(books, job)
        answer(books, "goods", False)
        tax_put_right(books, job, "cash")
        assert slip_of(books, job) == {
            ("goods", "not taxed"): 33_33,
            ("work", "not taxed"): 66_67,
            ("delivery", "not taxed"): 9_99,
        }
        check_books(books)

    def test_prices_with_their_tax_in_them_are_refunded_and_entered_again(self, books: Books) -> None:
        add_to_price_list(books, "Kit", "flat", "105.30", "goods", includes_tax=True)
        job = job_for(books, lines=["Kit"])
        picked_up(books, job, "cash")
        answer(books, "goods", False)
        with pytest.raises(NotPossible, match="have their tax in them"):
            tax_put_right(books, job)

    def test_deposit_and_tip_are_no_part_of_it(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "50.00")
        picked_up(books, job, "cash", tip="10.00")
        answer(books, "work", False)
        before = lines_of(books, sale_of(books, job))
        tax_put_right(books, job, "cash")
        assert lines_of(books, sale_of(books, job)) == before
        assert (book_income(books), cash_income(books)) == (110_00, 110_00)
        check_books(books)
