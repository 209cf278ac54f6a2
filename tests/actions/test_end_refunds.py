"""A refund is a new entry on its own day: charge and tax by jurisdiction, never more than was paid or is left."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ledger.books.books import Books
from ledger.books.closing import close_period
from ledger.errors import NotPossible
from ledger.jobs.records import read_job
from ledger.money import plain_amount
from ledger.quarter.sales_tax import read_sales_tax
from tests.actions.endings import (
    book_income,
    came_back,
    cash_income,
    check_books,
    gift_sold,
    gone,
    owed_parts,
    refunded,
    sale_of,
    slip_of,
    sold,
    tax_held,
    tax_of,
)
from tests.workshop import (
    USD,
    add_customer,
    add_rate,
    add_to_price_list,
    answer,
    balance_of,
    begin,
    begin_taxed,
    copied,
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


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


class TestEntries:
    def test_everything_goes_back_with_its_tax(self, books: Books) -> None:
        job = sold(books, "185.44", "check")
        assert lines_of(books, refunded(on_day(books, LATER), job)) == written(
            "returns and allowances +185.44",
            "sales tax payable +7.97",
            "sales tax payable +1.86",
            "checking -195.27",
        )
        assert (slip_of(books, job), tax_of(books, job)) == ({}, [])
        check_books(on_day(books, LATER))

    def test_fifty_goes_back_with_its_tax_in_it(self, books: Books) -> None:
        job = sold(books, "185.44", "check")
        assert lines_of(books, refunded(books, job, "50.00")) == written(
            "returns and allowances +47.48",
            "sales tax payable +2.04",
            "sales tax payable +0.48",
            "checking -50.00",
        )
        assert slip_of(books, job) == {("work", "taxed"): 185_44 - 47_48}
        assert tax_of(books, job) == [("4.3", 137_96, 5_93), ("1", 137_96, 1_38)]

    @pytest.mark.parametrize(
        ("how", "account"), [("cash", "cash box"), ("transfer", "checking"), ("card", "card settlements")]
    )
    def test_it_goes_back_by_another_way(self, books: Books, how: str, account: str) -> None:
        job = sold(books, "100.00", "cash")
        assert (account, -105_30) in lines_of(books, refunded(books, job, how=how))
        check_books(books)

    def test_the_tip_stays_unless_she_says(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", tip="10.00")
        refunded(books, job)
        assert balance_of(books, "tips") == -10_00
        assert lines_of(books, refunded(books, job, tip="10.00")) == written("tips +10.00", "checking -10.00")
        assert balance_of(books, "tips") == 0
        check_books(books)

    def test_the_tip_can_go_back_with_the_rest(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", tip="10.00")
        assert lines_of(books, refunded(books, job, "52.65", "cash", tip="4.00")) == written(
            "returns and allowances +50.00",
            "sales tax payable +2.15",
            "sales tax payable +0.50",
            "tips +4.00",
            "cash box -56.65",
        )

    def test_it_is_dated_its_own_day_and_the_sale_is_not_changed(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        before = lines_of(books, sale_of(books, job))
        number = refunded(on_day(books, APRIL), job)
        row = books.row("select date, belongs_on, reverses, kind, job from entry where number = ?", (number,))
        assert row is not None
        assert tuple(row) == ("2026-04-02", None, None, "refund", job)
        assert lines_of(books, sale_of(on_day(books, APRIL), job)) == before
        assert read_job(on_day(books, APRIL), job).status == "gone"


class TestWorksheet:
    def test_it_enters_the_worksheet_of_its_own_day(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        refunded(on_day(books, APRIL), job, "52.65")
        first = read_sales_tax(books, date(2026, 1, 1), date(2026, 3, 31))
        second = read_sales_tax(books, date(2026, 4, 1), date(2026, 6, 30))
        assert (first.gross_cents, first.taxable_cents, first.collected_cents) == (100_00, 100_00, 5_30)
        assert (second.gross_cents, second.taxable_cents, second.collected_cents) == (-50_00, -50_00, -2_65)
        assert [(each.base_cents, each.tax_cents) for each in second.by_jurisdiction] == [
            (-50_00, -2_15),
            (-50_00, -50),
        ]

    def test_it_is_booked_after_the_period_of_the_sale_was_closed(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        april = on_day(books, APRIL)
        close_period(april, date(2026, 1, 1), date(2026, 3, 31))
        refunded(april, job)
        check_books(april)
        assert cash_income(books, date(2026, 1, 1), date(2026, 3, 31)) == 100_00
        assert cash_income(books, date(2026, 4, 1), date(2026, 6, 30)) == -100_00

    def test_the_tax_comes_back_at_the_rates_of_the_sale(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        add_rate(books, "Riley county", "2.5", LATER)
        refunded(on_day(books, LATER), job, "52.65")
        assert tax_of(books, job) == [("4.3", 50_00, 2_15), ("1", 50_00, 50)]

    def test_exempt_and_unanswered_charges_go_back_as_they_were_sold(self, tmp_path: Path) -> None:
        books = begin(tmp_path / "books")
        add_rate(books, "Kansas state", "5.0")
        answer(books, "goods", True)
        add_customer(books, "Guild", "charity", "KS-1")
        add_to_price_list(books, "Batting", "flat", "40", "goods")
        add_to_price_list(books, "Quilting", "flat", "60", "work")
        taxed, exempt = (
            job_for(books, lines=["Batting", "Quilting"], customer=customer) for customer in ("Ada Holm", "Guild")
        )
        picked_up(books, taxed, "cash")
        picked_up(books, exempt, "cash")
        refunded(books, taxed, "51.00")
        refunded(books, exempt, "50.00")
        assert slip_of(books, taxed) == {("goods", "taxed"): 20_00, ("work", "unanswered"): 30_00}
        assert tax_of(books, taxed) == [("5", 20_00, 1_00)]
        assert slip_of(books, exempt) == {("goods", "exempt"): 20_00, ("work", "exempt"): 30_00}
        certificates = {row[0] for row in books.rows("select certificate from slip_line where treatment = 'exempt'")}
        assert certificates == {1}
        check_books(books)
        books.close()

    def test_a_price_with_its_tax_in_it_goes_back_as_it_was(self, books: Books) -> None:
        add_to_price_list(books, "Kit", "flat", "105.30", "goods", includes_tax=True)
        job = job_for(books, lines=["Kit"])
        picked_up(books, job, "cash")
        assert lines_of(books, refunded(books, job, "52.65")) == written(
            "returns and allowances +50.00", "sales tax payable +2.15", "sales tax payable +0.50", "checking -52.65"
        )
        refunded(books, job)
        assert (slip_of(books, job), tax_of(books, job)) == ({}, [])


class TestPartlyOwed:
    def test_money_goes_back_up_to_what_was_paid_and_the_rest_is_taken_off_what_is_owed(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", amount="50.00")
        refunded(books, job)
        assert read_job(books, job).owed_cents == 55_30
        assert cash_income(books) == 0
        check_books(books)
        assert lines_of(books, refunded(books, job, how="owed")) == written(
            "returns and allowances +52.52",
            "sales tax payable +2.26",
            "sales tax payable +0.52",
            "owed by customers -55.30",
        )
        assert owed_parts(books, job) == (0, 0)
        assert (book_income(books), cash_income(books), tax_held(books)) == (0, 0, 0)
        check_books(books)

    def test_what_is_owed_keeps_its_parts_within_what_is_still_asked(self, books: Books) -> None:
        # The deposit of 100.00 counts as charge, so that 5.30 of tax is owed; after the refund 2.65 of tax is asked.
        job = job_for(books, "100.00")
        deposit(books, job, "100.00")
        picked_up(books, job, "owed")
        assert owed_parts(books, job) == (0, 5_30)
        refunded(books, job, "52.65", "check")
        assert owed_parts(books, job) == (2_65, 2_65)
        # 100.00 came in and 52.65 went back: 47.35 of a charge of 50.00 is paid.
        assert cash_income(books) == 47_35
        check_books(books)

    def test_a_refund_off_what_is_owed_turns_paid_charge_into_paid_tax(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "100.00")
        picked_up(books, job, "owed")
        refunded(books, job, "5.30", "owed")
        assert owed_parts(books, job) == (0, 0)
        # 100.00 was paid for a charge of 94.97 and its tax of 5.03.
        assert (cash_income(books), tax_held(books)) == (94_97, 5_03)
        check_books(books)

    def test_a_tip_that_is_owed_is_taken_off_with_the_rest(self, books: Books) -> None:
        job = sold(books, "100.00", "owed=105.30", "cash=10.00", tip="10.00")
        assert lines_of(books, refunded(books, job, "105.30", "owed")) == written(
            "returns and allowances +100.00",
            "sales tax payable +4.30",
            "sales tax payable +1.00",
            "owed by customers -105.30",
        )
        refunded(books, job, tip="10.00")
        assert owed_parts(books, job) == (0, 0)
        assert (book_income(books), cash_income(books)) == (0, 0)
        check_books(books)


class TestRefused:
    @pytest.mark.parametrize("amount", ["105.31", "500.00"])
    def test_more_than_was_paid(self, books: Books, amount: str) -> None:
        job = sold(books, "100.00", "cash")
        with pytest.raises(NotPossible, match=r"105\.30 is paid and not given back yet") as refused:
            refunded(books, job, amount)
        assert refused.value.field == "amount"

    def test_more_than_is_left_after_a_first_one(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        refunded(books, job, "60.00")
        with pytest.raises(NotPossible, match=r"45\.30 is paid"):
            refunded(books, job, "45.31")
        refunded(books, job, "45.30")
        with pytest.raises(NotPossible, match=r"^0\.00 is paid .* nothing to give back"):
            refunded(books, job)

    def test_anything_while_nothing_is_paid(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        with pytest.raises(NotPossible, match=r"^0\.00 is paid"):
            refunded(books, job, "1.00")

    def test_more_off_what_is_owed_than_is_owed(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", amount="100.00")
        with pytest.raises(NotPossible, match=r"5\.30 is still owed"):
            refunded(books, job, "5.31", "owed")

    def test_more_of_the_tip_than_there_was_and_the_tip_instead_of_the_price(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", tip="10.00")
        with pytest.raises(NotPossible, match=r"Of the tip, 10\.00") as refused:
            refunded(books, job, tip="10.01")
        assert refused.value.field == "tip"
        with pytest.raises(NotPossible, match=r"105\.30 is paid"):
            refunded(books, job, "105.31")

    def test_a_tip_that_was_never_paid(self, books: Books) -> None:
        job = sold(books, "100.00", "check", tip="10.00")
        came_back(books, job)
        with pytest.raises(NotPossible, match=r"Of the tip, 0\.00"):
            refunded(books, job, tip="10.00")
        refunded(books, job, "105.30", "owed", tip="10.00")
        assert owed_parts(books, job) == (0, 0)
        check_books(books)

    def test_a_job_that_is_not_picked_up(self, books: Books) -> None:
        job = job_for(books, "100.00")
        with pytest.raises(NotPossible, match="has no sale: it is in hand"):
            refunded(books, job)

    def test_work_that_was_given_away(self, books: Books) -> None:
        job = sold(books, "50.00", discount="50.00")
        with pytest.raises(NotPossible, match="has no sale"):
            refunded(books, job)

    def test_a_day_before_the_last_thing_on_the_job(self, books: Books) -> None:
        job = sold(on_day(books, LATER), "100.00", "cash")
        with pytest.raises(NotPossible, match="dated 2026-02-10 already"):
            refunded(on_day(books, date(2026, 2, 9)), job)


class TestUndone:
    def test_its_mirror_brings_everything_back(self, books: Books) -> None:
        job = sold(books, "100.00", "card", fee="3.20")
        number = refunded(books, job, "52.65", "card")
        mirror = reversed_entry(books, number)
        assert lines_of(books, mirror) == sorted((name, -cents) for name, cents in lines_of(books, number))
        assert slip_of(books, job) == {("work", "taxed"): 100_00}
        assert tax_of(books, job) == [("4.3", 100_00, 4_30), ("1", 100_00, 1_00)]
        check_books(books)
        refunded(books, job)
        assert (slip_of(books, job), tax_of(books, job)) == ({}, [])
        check_books(books)

    def test_the_first_of_two_is_undone_and_the_second_stands(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        first = refunded(books, job, "52.65")
        refunded(books, job, "21.06")
        reversed_entry(books, first)
        assert slip_of(books, job) == {("work", "taxed"): 80_00}
        refunded(books, job)
        assert (slip_of(books, job), tax_of(books, job), tax_held(books)) == ({}, [], 0)

    def test_after_what_was_owed_is_paid_no_part_of_it_is_left(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "100.00")
        picked_up(books, job, "owed")
        number = refunded(books, job, "52.65", "check")
        pay(books, job, "5.30")
        reversed_entry(books, number)
        assert owed_parts(books, job) == (0, 0)
        assert (cash_income(books), tax_held(books)) == (100_00, 5_30)
        check_books(books)

    def test_the_pickup_is_not_undone_under_it(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        number = refunded(books, job, "52.65")
        with pytest.raises(NotPossible, match=f"Entry {number} rests on this pickup"):
            reversed_entry(books, sale_of(books, job))


def test_a_sale_paid_with_a_certificate_is_given_back_in_money(books: Books) -> None:
    code = gift_sold(books, "200.00")
    job = job_for(books, "100.00")
    gone(books, job, gifts=(code,))
    assert lines_of(books, refunded(books, job, how="cash")) == written(
        "returns and allowances +100.00", "sales tax payable +4.30", "sales tax payable +1.00", "cash box -105.30"
    )
    # 200.00 came in for the certificate, 105.30 went back, and 94.70 can still be used.
    assert cash_income(books) == 94_70
    check_books(books)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    amounts=st.lists(st.integers(1, 150_00), min_size=1, max_size=3),
    cuts=st.lists(st.integers(1, 99), min_size=1, max_size=5),
)
def test_refunds_in_any_parts_close_exactly(begun: Path, amounts: list[int], cuts: list[int]) -> None:
    with copied(begun) as books:
        for place, cents in enumerate(amounts):
            add_to_price_list(
                books, f"Line {place}", "flat", plain_amount(cents, USD), ["work", "goods", "lessons"][place]
            )
        job = job_for(books, lines=[f"Line {place}" for place in range(len(amounts))])
        total = picked_up(books, job, "cash").settlement.total_cents
        for percent in cuts:
            if total * percent // 100:
                refunded(books, job, plain_amount(total * percent // 100, USD))
                total -= total * percent // 100
            assert sum(slip_of(books, job).values()) + sum(each[2] for each in tax_of(books, job)) == total
            assert all(base >= 0 and tax >= 0 for _, base, tax in tax_of(books, job))
        refunded(books, job)
        assert (slip_of(books, job), tax_of(books, job), tax_held(books)) == ({}, [], 0)
        assert book_income(books) == cash_income(books) == 0


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    books = begin_taxed(tmp_path_factory.mktemp("refunds") / "books")
    answer(books, "lessons", False)
    books.close()
    return books.folder
