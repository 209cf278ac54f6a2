"""A class that is untaxed, or taxed at another rate, between two days that she entered with whom she asked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import refund
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible
from ledger.jobs.refund import RefundRequest
from ledger.jobs.sales import read_receipt
from ledger.taxes.rules import answers_on, rates_on
from ledger.taxes.tax_holidays import NewHoliday, add_holiday
from tests.taxes.filings import JULY, OFFICE, sheet_of
from tests.workshop import (
    add_rate,
    add_to_price_list,
    answer,
    begin_taxed,
    choose_filing,
    job_for,
    on_day,
    picked_up,
)

BEFORE, FIRST, LAST, AFTER = date(2026, 5, 1), date(2026, 5, 2), date(2026, 5, 4), date(2026, 5, 5)
QUARTER = "2026-Q2"


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    choose_filing(opened, "quarterly", 25)
    add_to_price_list(opened, "Quilting", "flat", "100.00")
    add_to_price_list(opened, "Batting", "flat", "40.00", "goods")
    yield opened
    assert prove(opened).ok
    opened.close()


def holiday(books: Books, percent: str | None = None, of: str | None = None, **days: date) -> None:
    start, end = days.get("start", FIRST), days.get("end", LAST)
    value = Decimal(percent) if percent is not None else None
    with books.writing() as write:
        add_holiday(books, write, NewHoliday("goods", "School supplies", OFFICE, start, end, value, of))


def tax_on(books: Books, day: date, *lines: str) -> int:
    then = on_day(books, day)
    done = picked_up(then, job_for(then, lines=lines or ("Quilting", "Batting")), "cash")
    return done.settlement.slip.tax_cents


class TestUntaxed:
    def test_it_holds_from_the_first_day_through_the_last(self, books: Books) -> None:
        holiday(books)
        assert [tax_on(books, day) for day in (BEFORE, FIRST, LAST, AFTER)] == [7_42, 5_30, 5_30, 7_42]

    def test_the_answer_before_it_holds_again_after_it(self, books: Books) -> None:
        holiday(books)
        assert answers_on(books, AFTER)["goods"] is True

    def test_the_worksheet_tells_it_by_name(self, books: Books) -> None:
        holiday(books)
        tax_on(books, FIRST)
        sheet = sheet_of(on_day(books, JULY), QUARTER)
        assert [(each.reason, each.cents) for each in sheet.exempt] == [("sales tax holiday: School supplies", 40_00)]
        assert sheet.taxable_cents == 100_00

    def test_a_refund_after_it_gives_no_tax_back(self, books: Books) -> None:
        holiday(books)
        then = on_day(books, FIRST)
        job = picked_up(then, job_for(then, lines=["Batting"]), "cash").settlement.job.id
        refunded = refund.perform(on_day(books, AFTER), RefundRequest(job))[0]
        assert (refunded.charge_cents, refunded.tax_cents) == (40_00, 0)


class TestAnotherRate:
    def test_the_state_drops_out_and_the_county_goes_on(self, books: Books) -> None:
        """100.00 at 5.3 percent is 5.30; 40.00 at the county's 1.0 percent alone is 0.40."""
        holiday(books, "0", "Kansas state")
        assert [tax_on(books, day) for day in (BEFORE, FIRST, AFTER)] == [7_42, 5_70, 7_42]

    def test_a_reduced_rate_is_a_line_of_its_own(self, books: Books) -> None:
        holiday(books, "2", "Kansas state")
        assert tax_on(books, FIRST) == 6_50  # 5.30 and 40.00 at 3.0 percent
        sheet = sheet_of(on_day(books, JULY), QUARTER)
        assert [(each.levy.name, each.percent, each.taxable_cents, each.collected_cents) for each in sheet.taxed] == [
            ("Kansas state", Decimal("4.3"), 100_00, 4_30),
            ("Kansas state", Decimal(2), 40_00, 80),
            ("Riley county", Decimal("1.0"), 140_00, 1_40),
        ]
        assert (sheet.due_cents, sheet.owed_cents) == (6_50, 6_50)

    def test_alone_on_a_slip_it_is_taxed_at_its_own_rate(self, books: Books) -> None:
        holiday(books, "2", "Kansas state")
        assert tax_on(books, FIRST, "Batting") == 1_20

    def test_the_usual_rate_stands_beside_it(self, books: Books) -> None:
        holiday(books, "2", "Kansas state")
        assert [each.percent for each in rates_on(books, FIRST)] == [Decimal("4.3"), Decimal("1.0")]
        add_rate(books, "Kansas state", "4.5", date(2026, 5, 3))  # no overlap with the rate of one class
        assert tax_on(books, LAST, "Quilting") == 5_50

    def test_a_refund_gives_each_jurisdiction_back_what_it_levied_on(self, books: Books) -> None:
        holiday(books, "2", "Kansas state")
        then = on_day(books, FIRST)
        job = picked_up(then, job_for(then, lines=["Quilting", "Batting"]), "cash").settlement.job.id
        refund.perform(on_day(books, AFTER), RefundRequest(job, cents=73_25))  # half of it
        sheet = sheet_of(on_day(books, JULY), QUARTER)
        assert [(each.taxable_cents, each.due_cents, each.collected_cents) for each in sheet.taxed] == [
            (50_00, 2_15, 2_15),
            (20_00, 40, 40),
            (70_00, 70, 70),
        ]

    def test_the_receipt_can_be_printed_again_from_the_books(self, books: Books) -> None:
        holiday(books, "2", "Kansas state")
        then = on_day(books, FIRST)
        job = picked_up(then, job_for(then, lines=["Quilting", "Batting"]), "cash").settlement.job.id
        work = read_receipt(on_day(books, AFTER), job).work
        assert (work.subtotal_cents, work.taxed_cents, work.tax_cents, work.total_cents) == (
            140_00,
            140_00,
            6_50,
            146_50,
        )

    def test_the_receipt_tells_each_rate_and_no_sum_of_them(self, books: Books) -> None:
        holiday(books, "2", "Kansas state")
        then = on_day(books, FIRST)
        page = picked_up(then, job_for(then, lines=["Quilting", "Batting"]), "cash").receipt.read_text(encoding="utf-8")
        for part in ("Kansas state 4.3", "Kansas state 2", "Riley county 1", "6.50"):
            assert part in page, page
        assert "7.3" not in page

    def test_a_price_with_its_tax_in_it_has_the_tax_of_that_day_in_it(self, books: Books) -> None:
        holiday(books, "2", "Kansas state")
        add_to_price_list(books, "Kit", "flat", "103.00", "goods", includes_tax=True)
        then = on_day(books, FIRST)
        slip = picked_up(then, job_for(then, lines=["Kit"]), "cash").settlement.slip
        assert (slip.charge_cents, slip.tax_cents) == (100_00, 3_00)


class TestRefused:
    def test_one_that_ends_before_it_begins(self, books: Books) -> None:
        with pytest.raises(NotPossible, match="ends before it begins"):
            holiday(books, start=LAST, end=FIRST)

    def test_two_of_one_class_on_one_day(self, books: Books) -> None:
        holiday(books)
        with pytest.raises(NotPossible, match="«School supplies» holds for goods"):
            holiday(books, start=LAST, end=AFTER)

    def test_a_rate_of_nobody_and_a_jurisdiction_without_one(self, books: Books) -> None:
        for percent, of in (("2", None), (None, "Kansas state")):
            with pytest.raises(NotPossible, match="somebody"):
                holiday(books, percent, of)

    def test_a_jurisdiction_that_there_is_not(self, books: Books) -> None:
        with pytest.raises(NotFound, match="Kansas"):
            holiday(books, "2", "Kansas stat")

    def test_the_class_of_a_customer_who_is_exempt_stays_exempt(self, books: Books) -> None:
        answer(books, "work", True)
        holiday(books)
        assert tax_on(books, FIRST, "Quilting") == 5_30
