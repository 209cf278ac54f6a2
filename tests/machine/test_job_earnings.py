"""What a job earns: on plain figures, and out of the books."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.actions import log_hours, refund
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotUnderstood
from ledger.jobs.refund import RefundRequest
from ledger.machine.job_earnings import Earning, Fastest, JobEarnings, LineSold, Material, job_earnings
from ledger.machine.job_earnings_record import hours_by_job, read_job_earnings
from tests.workshop import add_to_price_list, begin_taxed, job_for, on_day, picked_up, reversed_entry, spent

F = Fraction
OPEN = LineSold(1, "Ada", "Open", 100_00, F(5000), is_by_area=True)
DENSE = LineSold(2, "Ben", "Dense", 90_00, F(3000), is_by_area=True)
BATTING = LineSold(1, "Ada", "Cotton batting", 30_00, F(5000), is_batting=True, is_goods=True)
BACKING = LineSold(2, "Ben", "Wide backing", 40_00, F(3000), is_goods=True)
LINES = (OPEN, DENSE, BATTING, BACKING)
SPENT: dict[Material, int] = {"batting": 20_00, "backing": 35_00, "thread": 16_00}


def kind(found: JobEarnings, what: str) -> Earning:
    return next(each for each in found.by_kind if each.what == what)


def test_material_goes_to_what_was_sold_of_it_and_thread_to_the_area_quilted() -> None:
    found = job_earnings(LINES, SPENT, {}, {}, 0)
    assert {each.what: each.material_cents for each in found.by_kind} == {
        "Open": 10_00,  # 5,000 of 8,000 square inches
        "Dense": 6_00,
        "Cotton batting": 20_00,
        "Wide backing": 35_00,
    }
    assert {each.what: (each.income_cents, each.material_cents) for each in found.by_customer} == {
        "Ada": (130_00, 30_00),
        "Ben": (130_00, 41_00),
    }


def test_material_of_which_nothing_was_sold_goes_to_every_line_by_what_it_brought() -> None:
    found = job_earnings([OPEN, DENSE], {"batting": 19_00}, {}, {}, 0)
    assert [each.material_cents for each in found.by_kind] == [10_00, 9_00]


def test_a_card_fee_goes_to_its_own_job() -> None:
    found = job_earnings(LINES, {}, {1: 2_60}, {}, 0)
    assert {each.what: each.fee_cents for each in found.by_kind if each.fee_cents} == {
        "Open": 2_00,
        "Cotton batting": 60,
    }
    assert kind(found, "Open").left_cents == 98_00


def test_an_hour_is_that_of_the_jobs_at_which_hours_were_logged() -> None:
    other = LineSold(3, "Ada", "Open", 500_00, F(9000), is_by_area=True)
    found = job_earnings([*LINES, other], {}, {}, {1: F(4), 2: F(5, 2)}, 0)
    assert (kind(found, "Open").hours, kind(found, "Open").an_hour_cents) == (4, 25_00)
    assert (kind(found, "Dense").hours, kind(found, "Dense").an_hour_cents) == (F(5, 2), 36_00)
    assert kind(found, "Cotton batting").an_hour_cents is None


def test_the_area_is_that_of_the_pieces_each_once() -> None:
    found = job_earnings(LINES, {}, {}, {}, 0)
    assert kind(found, "Open").a_thousand_inches_cents == 20_00
    assert kind(found, "Dense").a_thousand_inches_cents == 30_00
    ada = next(each for each in found.by_customer if each.what == "Ada")
    assert (ada.jobs, ada.square_inches, ada.a_thousand_inches_cents) == (1, 5000, 26_00)


def test_by_area_the_machine_is_paid_off_fastest_by_what_leaves_the_most_for_it() -> None:
    assert job_earnings(LINES, {}, {}, {}, 1_000_00).fastest == Fastest("Dense", "area", 12)
    assert job_earnings([BATTING], {}, {}, {}, 1_000_00).fastest is None, "no time at the frame"
    assert job_earnings([], {}, {}, {}, 1_000_00) == JobEarnings((), (), None)


def test_where_hours_are_logged_they_decide() -> None:
    found = job_earnings(LINES, {}, {}, {1: F(2), 2: F(4)}, 1_000_00)
    assert found.fastest == Fastest("Open", "hour", 10)


@given(
    st.lists(
        st.builds(
            LineSold,
            job=st.integers(1, 4),
            customer=st.sampled_from(["Ada", "Ben"]),
            kind=st.sampled_from(["Open", "Batting", "Binding"]),
            cents=st.integers(-5_00, 300_00),
            square_inches=st.just(F(4000)),
            is_batting=st.booleans(),
            is_goods=st.booleans(),
            is_by_area=st.booleans(),
        ),
        min_size=1,
        max_size=8,
    ),
    st.dictionaries(st.sampled_from(["batting", "backing", "thread"]), st.integers(0, 500_00)),
)
def test_nothing_is_lost_or_made_in_the_spreading(lines: list[LineSold], materials: dict[Material, int]) -> None:
    found = job_earnings(lines, materials, {1: 3_17}, {}, 0)
    income = sum(each.cents for each in lines)
    for rows in (found.by_kind, found.by_customer):
        assert sum(each.income_cents for each in rows) == income
    if any(each.cents > 0 for each in lines):
        assert sum(each.material_cents for each in found.by_kind) == sum(materials.values())


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", machine_price_cents=10_000_00, machine_date=date(2026, 1, 5))
    add_to_price_list(opened, "Open", "area", "0.02")
    add_to_price_list(opened, "Border", "each", "12")
    yield opened
    opened.close()


DAY, YEAR_START, YEAR_END = date(2026, 3, 10), date(2026, 1, 1), date(2026, 12, 31)


def test_out_of_the_books_it_is_what_was_sold_less_what_went_back(books: Books) -> None:
    at = on_day(books, DAY)
    job = job_for(at, lines=["Open", ("Border", "2")], width="50", length="60")
    picked_up(at, job, "card", fee="2.00")
    spent(at, "15.00", "thread", "checking")
    found = read_job_earnings(at, YEAR_START, DAY)
    assert (kind(found, "Open").income_cents, kind(found, "Border").income_cents) == (60_00, 24_00)
    assert (kind(found, "Open").material_cents, kind(found, "Open").square_inches) == (15_00, 3000)
    assert sum(each.fee_cents for each in found.by_kind) == 2_00
    refund.perform(at, RefundRequest(job.id, 10_00, "cash"))
    less = read_job_earnings(at, YEAR_START, DAY)
    assert sum(each.income_cents for each in less.by_kind) == 84_00 - 9_50  # the rest of it was tax, 5.3 %


def test_a_sale_that_was_undone_is_none_and_other_days_do_not_count(books: Books) -> None:
    at = on_day(books, DAY)
    sealed = picked_up(at, job_for(at, lines=["Open"]), "cash").entry
    assert sealed is not None
    assert read_job_earnings(at, YEAR_START, date(2026, 3, 9)).by_kind == ()
    assert len(read_job_earnings(at, YEAR_START, DAY).by_kind) == 1
    reversed_entry(at, sealed.number)
    assert read_job_earnings(at, YEAR_START, DAY).by_kind == ()


class TestHours:
    def test_hours_add_up_and_the_last_can_be_taken_back(self, books: Books) -> None:
        job = job_for(books, "50.00").id
        assert log_hours.perform(books, log_hours.HoursRequest(job, Decimal("2.5"))) == Decimal("2.5")
        assert log_hours.perform(on_day(books, DAY), log_hours.HoursRequest(job, Decimal(1))) == Decimal("3.5")
        assert hours_by_job(books, date(2026, 3, 9)) == {job: Decimal("2.5")}
        assert log_hours.perform(on_day(books, DAY), log_hours.HoursRequest(job, None)) == Decimal("2.5")
        assert log_hours.perform(on_day(books, DAY), log_hours.HoursRequest(job, None)) == 0
        with pytest.raises(NotFound):
            log_hours.perform(on_day(books, DAY), log_hours.HoursRequest(job, None))
        assert prove(books).ok

    def test_a_job_that_there_is_not_and_more_hours_than_a_day_has_are_refused(self, books: Books) -> None:
        with pytest.raises(NotFound):
            log_hours.perform(books, log_hours.HoursRequest(99, Decimal(1)))
        job = job_for(books, "50.00").id
        with pytest.raises(NotUnderstood) as refusal:
            log_hours.perform(books, log_hours.HoursRequest(job, Decimal("24.1")))
        assert refusal.value.field == "hours"

    def test_they_say_what_an_hour_earned(self, books: Books) -> None:
        at = on_day(books, DAY)
        job = job_for(at, lines=["Open"], width="50", length="60")
        log_hours.perform(at, log_hours.HoursRequest(job.id, Decimal("1.5")))
        picked_up(at, job, "cash")
        found = read_job_earnings(at, YEAR_START, DAY)
        assert kind(found, "Open").an_hour_cents == 40_00
        assert found.fastest == Fastest("Open", "hour", 166)  # 9,940 at 60 a job
