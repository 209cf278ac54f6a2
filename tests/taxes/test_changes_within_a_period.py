"""Rates, districts and answers that change within a period: each pickup keeps what held on its day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import pick_up
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.payments import PaidPart
from ledger.jobs.pickup import PickupRequest, Sending
from ledger.taxes.rate_gaps import rate_gaps
from ledger.taxes.rules import choose_sourcing
from ledger.taxes.worksheet import OUT_OF_STATE
from tests.taxes.filings import APRIL, QUARTER, file, sheet_of, sold
from tests.workshop import (
    add_rate,
    answer,
    begin,
    begin_taxed,
    choose_filing,
    job_for,
    on_day,
    picked_up,
    previewed,
    reversed_entry,
)

JANUARY, FEBRUARY, MARCH = date(2026, 1, 12), date(2026, 2, 3), date(2026, 3, 2)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    choose_filing(opened, "quarterly", 25)
    yield opened
    opened.close()


def lines(books: Books) -> list[tuple[str, Decimal, int, int]]:
    sheet = sheet_of(on_day(books, APRIL), QUARTER)
    return [(each.levy.name, each.percent, each.taxable_cents, each.due_cents) for each in sheet.taxed]


def test_a_rate_that_changes_gives_two_lines(books: Books) -> None:
    sold(books, "100.00", JANUARY)
    add_rate(books, "Riley county", "1.6", FEBRUARY)
    sold(books, "200.00", MARCH)
    assert lines(books) == [
        ("Kansas state", Decimal("4.3"), 300_00, 12_90),
        ("Riley county", Decimal("1.0"), 100_00, 1_00),
        ("Riley county", Decimal("1.6"), 200_00, 3_20),
    ]


def test_the_greater_of_due_and_collected_is_taken_of_both_lines_together(books: Books) -> None:
    """Of two rates of one jurisdiction what is above on one line makes up for what is below on the other."""
    for day, amount in ((JANUARY, "185.44"), (JANUARY, "185.44"), (MARCH, "185.44")):
        if day == MARCH:
            add_rate(books, "Riley county", "1.6", FEBRUARY)
        sold(books, amount, day)
    sheet = sheet_of(on_day(books, APRIL), QUARTER)
    county = [each for each in sheet.taxed if each.levy.name == "Riley county"]
    state = [each for each in sheet.taxed if each.levy.name == "Kansas state"]
    greater = sum(
        max(sum(each.due_cents for each in of), sum(each.collected_cents for each in of)) for of in (state, county)
    )
    assert sheet.owed_cents == greater


def test_a_district_that_starts_later_levies_from_its_day(books: Books) -> None:
    sold(books, "100.00", JANUARY)
    add_rate(books, "Transit district", "0.5", FEBRUARY)
    sold(books, "200.00", MARCH)
    assert lines(books)[-1] == ("Transit district", Decimal("0.5"), 200_00, 1_00)


def test_a_class_whose_answer_changes_keeps_each_day_its_own(books: Books) -> None:
    sold(books, "100.00", JANUARY)
    answer(books, "work", False, FEBRUARY)
    sold(books, "200.00", MARCH)
    sheet = sheet_of(on_day(books, APRIL), QUARTER)
    assert (sheet.gross_cents, sheet.taxable_cents, sheet.collected_cents) == (300_00, 100_00, 5_30)
    assert [(each.reason, each.cents) for each in sheet.not_taxed] == [("work", 200_00)]


class TestQuotes:
    def warnings(self, books: Books, job: int, day: date) -> tuple[str, ...]:
        found: tuple[str, ...] = previewed(on_day(books, day), job, "cash").warnings
        return found

    def test_a_new_rate_is_said_at_pickup(self, books: Books) -> None:
        job = job_for(books, "100.00").id
        add_rate(books, "Riley county", "1.6", FEBRUARY)
        (said,) = self.warnings(books, job, MARCH)
        assert "5.30 %" in said
        assert "5.90 %" in said

    def test_a_new_answer_that_moves_the_total_is_said_too(self, books: Books) -> None:
        job = job_for(books, "100.00").id
        answer(books, "work", False, FEBRUARY)
        (said,) = self.warnings(books, job, MARCH)
        assert "105.30" in said
        assert "100.00 today" in said

    def test_an_answer_that_moves_nothing_is_not(self, books: Books) -> None:
        job = job_for(books, "100.00").id
        answer(books, "delivery", False, FEBRUARY)
        assert self.warnings(books, job, MARCH) == ()


class TestShippedOutOfState:
    @pytest.fixture
    def books(self, books: Books) -> Books:
        with books.writing() as write:
            choose_sourcing(books, write, "destination", "the revenue office")
        return books

    def sent(self, books: Books, tracking: str | None) -> None:
        job = job_for(on_day(books, JANUARY), "100.00").id
        sending = Sending("Elsewhere, Ohio", "the post", tracking)
        pick_up.perform(on_day(books, JANUARY), PickupRequest(job, (PaidPart("cash"),), sending=sending))

    def test_it_is_a_deduction_of_its_own(self, books: Books) -> None:
        self.sent(books, "9400-1")
        sheet = sheet_of(on_day(books, APRIL), QUARTER)
        assert [(each.reason, each.cents) for each in sheet.exempt] == [(OUT_OF_STATE, 100_00)]
        assert sheet.not_taxed == ()

    def test_what_is_not_taxed_at_home_either_is_no_shipment(self, books: Books) -> None:
        answer(books, "work", False)
        self.sent(books, "9400-1")
        sheet = sheet_of(on_day(books, APRIL), QUARTER)
        assert [each.reason for each in sheet.exempt] == ["not taxed"]

    def test_undone_and_handed_over_here_it_is_taxed_and_no_shipment(self, books: Books) -> None:
        self.sent(books, None)
        reversed_entry(on_day(books, JANUARY), 1)
        picked_up(on_day(books, JANUARY), 1, "cash")
        sheet = sheet_of(on_day(books, APRIL), QUARTER)
        assert (sheet.taxable_cents, sheet.exempt) == (100_00, ())
        assert not any("no proof" in each for each in file(books, APRIL).remarks)

    @pytest.mark.parametrize(("tracking", "is_asked"), [(None, True), ("9400-1", False)])
    def test_without_a_proof_it_is_asked_for(self, books: Books, tracking: str | None, is_asked: bool) -> None:
        self.sent(books, tracking)
        assert any("no proof" in each for each in file(books, APRIL).remarks) is is_asked


class TestGaps:
    def test_days_without_a_rate_between_two_are_found(self, tmp_path: Path) -> None:
        books = begin(tmp_path / "books")
        add_rate(books, "Some county", "1", JANUARY, date(2026, 1, 31))
        add_rate(books, "Some county", "2", date(2026, 2, 15))
        (gap,) = rate_gaps(books)
        assert (gap.jurisdiction, gap.start, gap.end) == ("Some county", date(2026, 2, 1), date(2026, 2, 14))
        books.close()

    def test_they_stand_on_the_worksheet_that_they_lie_in(self, books: Books) -> None:
        add_rate(books, "Transit district", "0.5", JANUARY, date(2026, 1, 31))
        add_rate(books, "Transit district", "0.5", MARCH)
        assert any("«Transit district» has no rate" in each for each in file(books, APRIL).remarks)

    def test_one_rate_after_the_other_leaves_none(self, books: Books) -> None:
        add_rate(books, "Riley county", "1.6", FEBRUARY)
        add_rate(books, "Transit district", "0.5", JANUARY, date(2026, 1, 31))
        add_rate(books, "Transit district", "0.6", date(2026, 2, 1))
        assert rate_gaps(books) == ()

    def test_two_rates_for_one_day_are_refused(self, books: Books) -> None:
        add_rate(books, "Transit district", "0.5", JANUARY, MARCH)
        with pytest.raises(NotPossible, match="overlaps"):
            add_rate(books, "Transit district", "0.6", FEBRUARY)
