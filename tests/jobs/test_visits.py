"""Visits to the house: each drop-off and pickup on its day, none for a parcel, none for what was undone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from ledger.actions import call_off, pick_up
from ledger.books.books import Books
from ledger.jobs.pickup import Sending
from ledger.jobs.records import read_visit_days
from ledger.jobs.visits import Happening, VisitDay, visit_days
from tests import workshop

MONDAY = date(2026, 1, 5)
TUESDAY, WEDNESDAY = MONDAY + timedelta(1), MONDAY + timedelta(2)


def after(*happenings: Happening) -> list[tuple[date, int, int]]:
    return [(each.day, each.visits, each.customers) for each in visit_days(happenings)]


def test_bringing_and_fetching_are_visits_and_what_is_done_between_is_none() -> None:
    found = after(
        Happening(MONDAY, 1, 7, "asked"),
        Happening(MONDAY, 1, 7, "in"),
        Happening(TUESDAY, 1, 7, "ready"),
        Happening(WEDNESDAY, 1, 7, "picked up"),
    )
    assert found == [(MONDAY, 1, 1), (WEDNESDAY, 1, 1)]


def test_one_customer_who_fetches_one_piece_and_brings_another_made_two_visits() -> None:
    found = after(
        Happening(MONDAY, 1, 7, "in"),
        Happening(TUESDAY, 1, 7, "picked up"),
        Happening(TUESDAY, 2, 7, "in"),
        Happening(TUESDAY, 3, 8, "in"),
    )
    assert found == [(MONDAY, 1, 1), (TUESDAY, 3, 2)]


def test_a_piece_that_is_given_back_unfinished_is_fetched() -> None:
    assert after(Happening(MONDAY, 1, 7, "in"), Happening(TUESDAY, 1, 7, "back")) == [(MONDAY, 1, 1), (TUESDAY, 1, 1)]


def test_calling_off_is_a_visit_where_the_piece_was_here() -> None:
    assert after(Happening(MONDAY, 1, 7, "booked"), Happening(TUESDAY, 1, 7, "called off")) == []
    found = after(Happening(MONDAY, 1, 7, "in"), Happening(TUESDAY, 1, 7, "called off"))
    assert found == [(MONDAY, 1, 1), (TUESDAY, 1, 1)]


def test_a_parcel_brings_nobody() -> None:
    found = after(Happening(MONDAY, 1, 7, "in"), Happening(TUESDAY, 1, 7, "picked up", is_posted=True))
    assert found == [(MONDAY, 1, 1)]


def test_a_pickup_that_was_undone_and_entered_again_is_one_visit() -> None:
    found = after(
        Happening(MONDAY, 1, 7, "in"),
        Happening(TUESDAY, 1, 7, "picked up"),
        Happening(TUESDAY, 1, 7, "pickup undone", is_undoing=True),
        Happening(TUESDAY, 1, 7, "picked up"),
    )
    assert found == [(MONDAY, 1, 1), (TUESDAY, 1, 1)]


def test_a_parcel_that_was_undone_does_not_take_the_bringing_with_it() -> None:
    found = after(
        Happening(MONDAY, 1, 7, "in"),
        Happening(TUESDAY, 1, 7, "picked up", is_posted=True),
        Happening(TUESDAY, 1, 7, "pickup undone", is_undoing=True),
    )
    assert found == [(MONDAY, 1, 1)]


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    begun = workshop.begin_taxed(tmp_path / "books", MONDAY)
    yield begun
    begun.close()


def test_the_log_of_jobs_gives_the_days(books: Books) -> None:
    """Two pieces come on Monday, one is fetched and one posted on Tuesday, and the fetching is entered twice."""
    fetched = workshop.job_for(books, "80.00", customer="Ada")
    posted = workshop.job_for(books, "90.00", customer="Ben")
    workshop.job_for(books, "70.00", customer="Cara", status="booked")
    tuesday = workshop.on_day(books, TUESDAY)
    wrong = workshop.picked_up(tuesday, fetched, "cash")
    assert wrong.entry is not None
    workshop.reversed_entry(tuesday, wrong.entry.number)
    workshop.picked_up(tuesday, fetched, "check")
    pick_up.perform(tuesday, replace(workshop.pickup_request(posted, "check"), sending=Sending(carrier="Mail")))
    assert read_visit_days(books, TUESDAY) == (VisitDay(MONDAY, 2, 2), VisitDay(TUESDAY, 1, 1))
    assert read_visit_days(books, MONDAY) == (VisitDay(MONDAY, 2, 2),)


def test_a_parcel_of_work_that_was_given_away_brings_nobody(books: Books) -> None:
    """Nothing is charged, so that there is no entry to know the parcel by."""
    job = workshop.job_for(books, "80.00")
    given = replace(workshop.pickup_request(job, "cash", discount="80.00"), sending=Sending(carrier="Mail"))
    assert pick_up.perform(books, given).entry is None
    assert read_visit_days(books, MONDAY) == (VisitDay(MONDAY, 1, 1),)


def test_calling_off_that_was_undone_is_neither_visit_nor_drop_off(books: Books) -> None:
    job = workshop.job_for(books, "80.00")
    workshop.deposit(books, job, "20.00")
    tuesday = workshop.on_day(books, TUESDAY)
    called_off = call_off.perform(tuesday, call_off.CallOffRequest(job.id, "returned"))
    assert called_off.entry is not None
    assert len(read_visit_days(tuesday, TUESDAY)) == 2
    workshop.reversed_entry(tuesday, called_off.entry.number)
    assert read_visit_days(tuesday, TUESDAY) == (VisitDay(MONDAY, 1, 1),)
