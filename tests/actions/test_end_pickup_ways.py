"""Tips, rush, coupons, gifts of work, barter, parcels, certificates that ran out: what is booked and warned of."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.pickup import Sending
from ledger.jobs.records import read_job
from ledger.jobs.shipments import read_shipment
from ledger.quarter.questions import find_questions
from ledger.quarter.sales_tax import read_sales_tax
from ledger.taxes import rules
from tests.actions.endings import (
    cash_income,
    check_books,
    gone,
    refunded,
    sale_of,
    slip_of,
    sold,
    tax_held,
    tax_of,
    voided,
)
from tests.workshop import (
    add_to_price_list,
    answer,
    balance_of,
    begin_taxed,
    deposit,
    job_for,
    lines_of,
    picked_up,
    spent,
    written,
)

FEBRUARY, APRIL = date(2026, 2, 10), date(2026, 4, 2)
FIRST_QUARTER, SECOND_QUARTER = (date(2026, 1, 1), date(2026, 3, 31)), (date(2026, 4, 1), date(2026, 6, 30))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


class TestDiscountsAndTips:
    def test_a_percent_and_an_amount_with_a_coupon(self, books: Books) -> None:
        job = job_for(books, "120.00")
        settled = gone(books, job, "cash", percent="10", coupon="guild show", discount="8.00", tip="5.00").settlement
        assert (settled.slip.discount_cents, settled.slip.charge_cents, settled.slip.tax_cents) == (20_00, 100_00, 5_30)
        assert lines_of(books, sale_of(books, job)) == written(
            "cash box +110.30", "job income -100.00", "tips -5.00", "sales tax payable -4.30", "sales tax payable -1.00"
        )
        text = books.value("select text from entry where number = ?", (sale_of(books, job),))
        assert text == "Pickup: Log cabin top (guild show)"
        check_books(books)

    def test_a_percent_is_rounded_once_half_up(self, books: Books) -> None:
        settled = gone(books, job_for(books, "0.50"), "cash", percent="33").settlement
        assert settled.slip.discount_cents == 17

    @pytest.mark.parametrize(("percent", "discount"), [("50", "60.01"), ("100", "0.01"), ("0", "120.01")])
    def test_more_than_the_work_comes_to_is_refused(self, books: Books, percent: str, discount: str) -> None:
        with pytest.raises(NotPossible, match="discount is more than"):
            gone(books, job_for(books, "120.00"), "cash", percent=percent, discount=discount)

    def test_a_rush_is_income_with_its_tax(self, books: Books) -> None:
        job = job_for(books, "100.00", rush_percent=Decimal(25))
        picked_up(books, job, "cash")
        assert tax_of(books, job) == [("4.3", 125_00, 5_38), ("1", 125_00, 1_25)]
        check_books(books)


class TestGivenAway:
    def test_it_is_no_income_and_its_materials_stay_an_expense(self, books: Books) -> None:
        spent(books, "40.00", "batting", "checking")
        job = job_for(books, "85.00")
        done = gone(books, job, percent="100", coupon="raffle for the library")
        assert done.entry is None
        assert (cash_income(books), balance_of(books, "batting")) == (0, 40_00)
        assert any("value of your own time is no deduction" in each for each in done.settlement.warnings)
        assert any("Publication 526" in each for each in done.settlement.warnings)
        assert read_job(books, job.id).status == "gone"
        check_books(books)

    def test_a_deposit_for_it_goes_back(self, books: Books) -> None:
        job = job_for(books, "85.00")
        deposit(books, job, "30.00")
        gone(books, job, percent="100", back="cash")
        assert lines_of(books, sale_of(books, job)) == written("customer deposits +30.00", "cash box -30.00")
        assert (cash_income(books), slip_of(books, job)) == (0, {})
        check_books(books)


class TestBarter:
    def test_goods_pay_for_the_work_and_its_tax(self, books: Books) -> None:
        job = job_for(books, "60.00")
        done = gone(books, job, barter=("backing", "63.18"))
        assert lines_of(books, sale_of(books, job)) == written(
            "backing +63.18", "job income -60.00", "sales tax payable -2.58", "sales tax payable -0.60"
        )
        assert any("Publication 525" in each and "accountant" in each for each in done.settlement.warnings)
        assert cash_income(books) == 60_00
        check_books(books)

    def test_the_rest_is_paid_or_owed(self, books: Books) -> None:
        job = job_for(books, "100.00")
        settled = gone(books, job, "cash=20.00", "owed", barter=("backing", "60.00")).settlement
        assert (settled.paid_cents, settled.paid.owed_cents) == (80_00, 25_30)
        assert cash_income(books) == 100_00 - settled.owed_charge_cents
        check_books(books)

    def test_goods_worth_more_than_is_due_are_refused(self, books: Books) -> None:
        with pytest.raises(NotPossible, match=r"more than 63\.18 due") as refused:
            gone(books, job_for(books, "60.00"), barter=("backing", "63.19"))
        assert refused.value.field == "barter"


class TestDepositAbove:
    def test_what_is_left_is_held_or_handed_back(self, books: Books) -> None:
        held, back = (job_for(books, "40.00") for _ in range(2))
        for job in (held, back):
            deposit(books, job, "100.00")
        picked_up(books, held)
        gone(books, back, back="check")
        assert (read_job(books, held.id).deposit_cents, read_job(books, back.id).deposit_cents) == (57_88, 0)
        assert lines_of(books, sale_of(books, back)) == written(
            "customer deposits +100.00",
            "checking -57.88",
            "job income -40.00",
            "sales tax payable -1.72",
            "sales tax payable -0.40",
        )
        # What is held was received: on the cash method it counts.
        assert (cash_income(books), tax_held(books)) == (40_00 + 57_88 + 40_00, 4_24)
        check_books(books)

    def test_asked_for_where_nothing_is_left_it_changes_nothing(self, books: Books) -> None:
        job = job_for(books, "40.00")
        deposit(books, job, "10.00")
        assert gone(books, job, "cash", back="cash").settlement.deposit_back_cents == 0
        check_books(books)


class TestSent:
    @pytest.fixture
    def by_destination(self, books: Books) -> Books:
        with books.writing() as write:
            rules.choose_sourcing(books, write, "destination", "the revenue office")
            rules.add_rate(books, write, "Salina city", Decimal("9.25"), books.today, place="Salina")
        return books

    def test_parcel_and_insurance_are_kept(self, books: Books) -> None:
        job = job_for(books, "50.00")
        gone(books, job, "cash", sending=Sending("Salina", "Prairie Parcel", "PP 1", 400_00))
        assert read_shipment(books, job.id) == Sending("Salina", "Prairie Parcel", "PP 1", 400_00)
        assert read_shipment(books, sold(books, "10.00", "cash")) is None

    def test_until_she_asked_her_own_rates_are_taken(self, books: Books) -> None:
        job = job_for(books, "100.00")
        assert gone(books, job, "cash", sending=Sending("Salina")).settlement.warnings == ()
        assert tax_of(books, job) == [("4.3", 100_00, 4_30), ("1", 100_00, 1_00)]

    def test_the_rates_of_the_place_where_it_arrives(self, by_destination: Books) -> None:
        job = job_for(by_destination, "100.00")
        assert gone(by_destination, job, "cash", sending=Sending("  SALINA")).settlement.warnings == ()
        assert tax_of(by_destination, job) == [("9.25", 100_00, 9_25)]
        check_books(by_destination)

    def test_at_a_place_without_rates_nothing_is_taken_and_it_is_said(self, by_destination: Books) -> None:
        job = job_for(by_destination, "100.00")
        done = gone(by_destination, job, "cash", sending=Sending("Selina"))
        assert [each for each in done.settlement.warnings if "«Selina», so no tax was taken" in each]
        assert slip_of(by_destination, job) == {("work", "not taxed"): 100_00}
        assert find_questions(by_destination, *FIRST_QUARTER) == (
            "A piece was sent to Selina without sales tax: do you have to register there? Ask the revenue office.",
        )
        voided(by_destination, job)
        assert find_questions(by_destination, *FIRST_QUARTER) == ()

    def test_without_a_place_it_is_said_whose_rates_were_taken(self, by_destination: Books) -> None:
        done = gone(by_destination, job_for(by_destination, "100.00"), "cash", sending=Sending())
        assert [each for each in done.settlement.warnings if "without --place the rates of your own place" in each]

    def test_fetched_it_is_taxed_here(self, by_destination: Books) -> None:
        job = job_for(by_destination, "100.00")
        assert picked_up(by_destination, job, "cash").settlement.warnings == ()
        assert tax_of(by_destination, job) == [("4.3", 100_00, 4_30), ("1", 100_00, 1_00)]

    def test_a_name_levies_at_one_place_alone(self, by_destination: Books) -> None:
        with by_destination.writing() as write:
            for name, place, said in (
                ("Kansas state", "Salina", "levies at your own place"),
                ("Salina city", None, "levies at Salina"),
                ("salina CITY", "Wichita", "levies at Salina"),
            ):
                with pytest.raises(NotPossible, match=said):
                    rules.add_rate(by_destination, write, name, Decimal(1), FEBRUARY, place=place)
            rules.add_rate(by_destination, write, "salina CITY", Decimal(9), FEBRUARY, place="SALINA")
        assert [each.percent for each in rules.rates_on(by_destination, FEBRUARY, "Salina")] == [Decimal(9)]
        assert rules.places_with_rates(by_destination, by_destination.today) == ("Salina",)
        assert rules.places_with_rates(by_destination, date(2026, 1, 1)) == ()


class TestSplitCharges:
    def test_a_parcel_bears_tax_as_far_as_the_other_lines_do(self, books: Books) -> None:
        with books.writing() as write:
            rules.answer_class(books, write, "delivery", True, "the office", books.today, is_split=True)
        answer(books, "work", False)
        add_to_price_list(books, "Batting", "flat", "40.00", "goods")
        add_to_price_list(books, "Quilting", "flat", "60.00", "work")
        answer(books, "lessons", True, date(2025, 1, 1), date(2025, 12, 31))
        add_to_price_list(books, "Lesson", "flat", "100.00", "lessons")
        add_to_price_list(books, "Parcel", "flat", "10.00", "delivery")
        job = job_for(books, lines=["Batting", "Quilting", "Lesson", "Parcel"])
        picked_up(books, job, "cash")
        # 40 of 200 is taxed, 60 is not, and nobody was asked about the 100 for the lesson.
        assert slip_of(books, job) == {
            ("goods", "taxed"): 40_00,
            ("work", "not taxed"): 60_00,
            ("lessons", "unanswered"): 100_00,
            ("delivery", "taxed"): 2_00,
            ("delivery", "not taxed"): 3_00,
            ("delivery", "unanswered"): 5_00,
        }
        assert [each[1] for each in tax_of(books, job)] == [42_00, 42_00]
        assert read_sales_tax(books, *FIRST_QUARTER).unanswered_cents == 105_00
        refunded(books, job)
        assert (slip_of(books, job), tax_of(books, job)) == ({}, [])
        check_books(books)
