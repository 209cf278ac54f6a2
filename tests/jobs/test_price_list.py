"""The price list is dated: a price holds from a day on, and a job keeps the ones that it was quoted."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.jobs.prices import price_list, price_named
from ledger.jobs.records import read_job
from tests.workshop import add_to_price_list, begin, job_for, on_day, picked_up, previewed

FEBRUARY, MARCH = date(2026, 2, 1), date(2026, 3, 1)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books")
    yield opened
    opened.close()


@pytest.mark.parametrize(
    ("name", "by", "kind", "allowance"),
    [
        ("Batting 80/20", "inch", None, "8"),
        ("Wool batting", "yard", None, "8"),
        ("Wool (batting)", "yard", None, "8"),
        ("BATTING, wool", "inch", None, "8"),
        ("80/20", "inch", "batting", "8"),
        ("Backing", "yard", None, "0"),
        ("Battings rack", "inch", None, "0"),
        ("Binding", "length", None, "0"),
        ("Batting, a piece", "each", None, "0"),
        ("Batting, a piece", "each", "batting", "0"),
        ("Edge-to-edge", "area", None, "0"),
    ],
)
def test_batting_off_the_roll_has_eight_inches_more_and_nothing_else_has(
    books: Books, name: str, by: str, kind: str | None, allowance: str
) -> None:
    assert add_to_price_list(books, name, by, "1", "goods", kind=kind).allowance == Decimal(allowance)


def test_batting_in_centimetres_has_twenty_more(tmp_path: Path) -> None:
    books = begin(tmp_path / "metric", units="cm")
    assert add_to_price_list(books, "Batting", "inch", "1", "goods").allowance == 20
    books.close()


def test_an_allowance_that_is_given_counts_also_zero(books: Books) -> None:
    assert add_to_price_list(books, "Batting", "inch", "1", "goods", allowance=Decimal(0)).allowance == 0
    assert add_to_price_list(books, "Binding", "length", "0.2", "goods", allowance=Decimal(10)).allowance == 10


def test_an_allowance_where_no_length_is_measured_is_refused(books: Books) -> None:
    with pytest.raises(NotPossible, match="no allowance"):
        add_to_price_list(books, "Quilting", "area", "0.02", allowance=Decimal(4))


def test_a_whole_quote_is_the_one_worked_out_by_hand(books: Books) -> None:
    add_to_price_list(books, "Edge-to-edge", "area", "0.02")
    add_to_price_list(books, "Batting", "inch", "0.45", "goods")
    add_to_price_list(books, "Binding", "length", "0.15")
    add_to_price_list(books, "Backing", "yard", "12.99", "goods", allowance=Decimal(8))
    add_to_price_list(books, "Thread", "flat", "4.00", "goods")
    add_to_price_list(books, "Trimming", "hour", "30")
    lines = ["Edge-to-edge", "Batting", "Binding", "Backing", "Thread", ("Trimming", "0.75")]
    job = job_for(books, lines=lines, width="70", length="80")
    assert [each.cents for each in job.lines] == [112_00, 39_60, 45_00, 31_75, 4_00, 22_50]
    assert sum(each.cents for each in job.charges) == 254_85


def test_a_price_holds_from_its_day_and_the_job_keeps_what_it_was_quoted(books: Books) -> None:
    add_to_price_list(books, "Quilting", "area", "0.02")
    add_to_price_list(books, "Quilting", "area", "0.03", from_date=MARCH)
    quoted = job_for(books, lines=["Quilting"], width="50", length="50")
    later = on_day(books, MARCH)
    assert [price_named(books, "quilting", day).rate for day in (FEBRUARY, MARCH)] == [Decimal("0.02"), Decimal("0.03")]
    assert job_for(later, lines=["Quilting"], width="50", length="50").lines[0].cents == 75_00
    assert read_job(later, quoted.id).lines[0].cents == 50_00
    assert picked_up(later, quoted, "cash").settlement.slip.charge_cents == 50_00


def test_of_two_prices_from_one_day_the_later_entered_holds(books: Books) -> None:
    add_to_price_list(books, "Quilting", "area", "0.02")
    add_to_price_list(books, "QUILTING", "area", "0.025")
    assert [each.rate for each in price_list(books, FEBRUARY)] == [Decimal("0.025")]


def test_a_price_of_a_later_day_is_not_in_the_list_yet(books: Books) -> None:
    add_to_price_list(books, "Quilting", "area", "0.02", from_date=MARCH)
    with pytest.raises(NotFound):
        job_for(books, lines=["Quilting"])
    assert price_list(books, FEBRUARY) == ()


def test_the_minimum_and_the_rush_of_a_job_are_what_pickup_takes(books: Books) -> None:
    add_to_price_list(books, "Quilting", "area", "0.02")
    add_to_price_list(books, "Thread", "flat", "4.00", "goods")
    job = job_for(
        books, lines=["Quilting", "Thread"], width="30", length="30", minimum_cents=50_00, rush_percent=Decimal(10)
    )
    assert [each.cents for each in job.charges] == [45_00, 10_00]
    assert previewed(books, job, "cash").due_cents == 55_00


@pytest.mark.parametrize("name", ["", "a=b", "\x1b[0m"])
def test_a_price_needs_a_name(books: Books, name: str) -> None:
    with pytest.raises(NotUnderstood):
        add_to_price_list(books, name, "flat", "1")


def test_a_price_of_a_class_that_nobody_knows_is_refused(books: Books) -> None:
    with pytest.raises(NotFound, match="lesson"):
        add_to_price_list(books, "Lesson", "hour", "40", "lesson")


def test_a_job_without_lines_is_refused_and_so_are_a_hundred_and_one(books: Books) -> None:
    add_to_price_list(books, "Thread", "flat", "4.00", "goods")
    with pytest.raises(NotUnderstood):
        job_for(books)
    with pytest.raises(NotPossible):
        job_for(books, lines=["Thread"] * 101)
    assert books.value("select count(*) from job") == 0
