"""Other people's pieces in the house: their declared value today, and the most that ever was here on one day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.books.books import Books
from ledger.jobs.custody import Custody, Movement, custody
from ledger.jobs.records import read_custody
from tests.workshop import begin, job_for, move, on_day, picked_up, reversed_entry

MONDAY = date(2026, 1, 5)
TUESDAY, WEDNESDAY = MONDAY + timedelta(1), MONDAY + timedelta(2)
Move = tuple[date, int, str]


def after(*moves: Move, values: Sequence[int] = (100_00, 250_00, 40_00)) -> Custody:
    return custody([Movement(day, job, what, values[job - 1]) for day, job, what in moves])


def test_pieces_come_and_go() -> None:
    here = after((MONDAY, 1, "in"), (TUESDAY, 2, "in"), (WEDNESDAY, 1, "picked up"))
    assert here == Custody(1, 250_00, 350_00, TUESDAY)


def test_nothing_was_ever_here() -> None:
    assert after() == Custody(0, 0, 0, None)


def test_a_piece_in_and_out_on_one_day_counts_that_day() -> None:
    here = after((MONDAY, 1, "in"), (MONDAY, 1, "picked up"), (MONDAY, 2, "in"))
    assert here == Custody(1, 250_00, 350_00, MONDAY)


def test_a_piece_that_left_yesterday_does_not_count_today() -> None:
    here = after((MONDAY, 1, "in"), (TUESDAY, 1, "back"), (WEDNESDAY, 2, "in"))
    assert here == Custody(1, 250_00, 250_00, WEDNESDAY)


def test_the_first_of_several_days_with_the_most_is_the_one_that_is_named() -> None:
    here = after((MONDAY, 1, "in"), (TUESDAY, 1, "picked up"), (WEDNESDAY, 1, "in"))
    assert (here.highest_cents, here.highest_on) == (100_00, MONDAY)


@pytest.mark.parametrize("out", ["picked up", "back", "called off"])
def test_a_piece_that_goes_and_comes_again_on_one_day_is_one_piece(out: str) -> None:
    back_in = "pickup undone" if out == "picked up" else "in"
    here = after((MONDAY, 1, "in"), (TUESDAY, 1, out), (TUESDAY, 1, back_in))
    assert here == Custody(1, 100_00, 100_00, MONDAY)


moves_of_a_week = st.lists(
    st.tuples(
        st.integers(0, 4).map(lambda offset: MONDAY + timedelta(offset)),
        st.integers(1, 3),
        st.sampled_from(["in", "picked up", "back", "pickup undone"]),
    ),
    max_size=20,
).map(lambda moves: sorted(moves, key=lambda each: each[0]))


@given(moves_of_a_week)
def test_it_agrees_with_a_day_book_of_who_was_seen_on_which_day(moves: list[Move]) -> None:
    values = (100_00, 250_00, 40_00)
    here: set[int] = set()
    most, most_on = 0, None
    for offset in range(5):
        day = MONDAY + timedelta(offset)
        seen = set(here)
        for _, job, what in (each for each in moves if each[0] == day):
            (here.add if what in ("in", "pickup undone") else here.discard)(job)
            seen |= here
        worth = sum(values[job - 1] for job in seen)
        if worth > most:
            most, most_on = worth, day
    assert after(*moves, values=values) == Custody(len(here), sum(values[job - 1] for job in here), most, most_on)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books")
    yield opened
    opened.close()


def test_the_books_know_what_is_in_the_house_on_any_day(books: Books) -> None:
    first = job_for(books, "80.00", value=900_00)
    second = job_for(on_day(books, TUESDAY), "80.00", value=350_00, status="booked")
    move(on_day(books, WEDNESDAY), second, "in")
    picked_up(on_day(books, WEDNESDAY), first, "cash")
    assert read_custody(books, MONDAY) == Custody(1, 900_00, 900_00, MONDAY)
    assert read_custody(books, TUESDAY) == Custody(1, 900_00, 900_00, MONDAY)
    assert read_custody(books, WEDNESDAY) == Custody(1, 350_00, 1_250_00, WEDNESDAY)


def test_a_pickup_that_is_undone_brings_the_piece_back_and_raises_no_peak(books: Books) -> None:
    job = job_for(books, "80.00", value=900_00)
    sale = picked_up(on_day(books, TUESDAY), job, "cash").entry
    assert sale is not None
    reversed_entry(on_day(books, TUESDAY), sale.number)
    assert read_custody(books, TUESDAY) == Custody(1, 900_00, 900_00, MONDAY)


def test_work_given_away_takes_the_piece_out_of_the_house(books: Books) -> None:
    job = job_for(books, "0", value=900_00)
    assert picked_up(books, job).entry is None
    assert read_custody(books, MONDAY) == Custody(0, 0, 900_00, MONDAY)
