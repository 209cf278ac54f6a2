"""What can follow what: statuses, dates in their order, nothing twice."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible
from ledger.jobs.job import status_after
from ledger.jobs.records import read_job
from tests.workshop import (
    FIRST_DAY,
    add_to_price_list,
    begin_taxed,
    deposit,
    entries_of,
    job_for,
    move,
    on_day,
    pay,
    picked_up,
    previewed,
    reversed_entry,
)

NEXT_DAY, BEFORE = FIRST_DAY + timedelta(1), FIRST_DAY - timedelta(1)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


@pytest.mark.parametrize(
    ("events", "status"),
    [
        (["asked"], "asked"),
        (["booked"], "booked"),
        (["asked", "in"], "in-hand"),
        (["in", "ready"], "ready"),
        (["in", "ready", "picked up"], "gone"),
        (["in", "ready", "picked up", "pickup undone"], "ready"),
        (["in", "picked up", "pickup undone"], "in-hand"),
        (["in", "picked up", "pickup undone", "picked up", "pickup undone"], "in-hand"),
        (["in", "back"], "booked"),
        (["in", "back", "in", "ready"], "ready"),
        (["booked", "called off"], "called-off"),
    ],
)
def test_the_status_is_read_from_the_events(events: list[str], status: str) -> None:
    assert status_after(events) == status


@pytest.mark.parametrize(
    ("status", "event"),
    [("asked", "ready"), ("asked", "back"), ("booked", "ready"), ("booked", "back"), ("in-hand", "in")],
)
def test_what_cannot_follow_is_refused_and_changes_nothing(books: Books, status: str, event: str) -> None:
    job = job_for(books, "80.00", status=status)
    with pytest.raises(NotPossible):
        move(books, job, event)
    assert read_job(books, job.id).status == status


@pytest.mark.parametrize("status", ["asked", "booked"])
def test_a_piece_that_is_not_here_is_not_picked_up(books: Books, status: str) -> None:
    job = job_for(books, "80.00", status=status)
    with pytest.raises(NotPossible, match="not here"):
        picked_up(books, job, "cash")
    move(books, job, "in")
    assert picked_up(books, job, "cash").entry is not None


def test_a_piece_is_picked_up_once(books: Books) -> None:
    job = job_for(books, "80.00")
    picked_up(books, job, "cash")
    for paid in ("cash", "owed"):
        with pytest.raises(NotPossible, match="picked up already"):
            picked_up(books, job, paid)
    assert len(list(entries_of(books))) == 1


def test_a_piece_that_is_gone_neither_moves_nor_takes_a_deposit(books: Books) -> None:
    job = job_for(books, "80.00")
    picked_up(books, job, "cash")
    for event in ("in", "ready", "back"):
        with pytest.raises(NotPossible):
            move(books, job, event)
    with pytest.raises(NotPossible):
        deposit(books, job, "10.00")


def test_an_act_is_not_dated_before_something_that_happened_to_the_job_already(books: Books) -> None:
    job = job_for(books, "80.00")
    later = on_day(books, date(2026, 3, 1))
    paid = deposit(later, job, "20.00")
    for act in (
        lambda: picked_up(on_day(books, date(2026, 2, 28)), job, "cash"),
        lambda: previewed(on_day(books, date(2026, 2, 28)), job, "cash"),
        lambda: move(on_day(books, NEXT_DAY), job, "ready"),
        lambda: deposit(on_day(books, NEXT_DAY), job, "5.00"),
        lambda: reversed_entry(on_day(books, NEXT_DAY), paid),
    ):
        with pytest.raises(NotPossible, match="2026-03-01"):
            act()
    assert len(list(entries_of(books))) == 1


def test_a_balance_is_not_paid_before_the_sale_that_left_it_owed(books: Books) -> None:
    job = job_for(books, "80.00")
    picked_up(on_day(books, date(2026, 3, 1)), job, "owed")
    with pytest.raises(NotPossible):
        pay(on_day(books, date(2026, 2, 28)), job, "84.24")


def test_nothing_is_dated_before_the_books_began(books: Books) -> None:
    add_to_price_list(books, "Quilting", "flat", "80", from_date=BEFORE)
    with pytest.raises(NotPossible, match="began"):
        job_for(on_day(books, BEFORE), lines=["Quilting"])


def test_a_promise_for_a_day_that_has_passed_is_refused(books: Books) -> None:
    with pytest.raises(NotPossible, match="passed"):
        job_for(books, "80.00", promised=BEFORE)


def test_a_job_that_there_is_not_is_answered_with_those_that_there_are(books: Books) -> None:
    with pytest.raises(NotFound, match="Take one in"):
        read_job(books, 1)
    job_for(books, "80.00")
    with pytest.raises(NotFound, match="from 1 to 1"):
        picked_up(books, 2, "cash")


def test_an_undone_pickup_is_picked_up_again_from_where_it_was(books: Books) -> None:
    job = job_for(books, "80.00")
    move(books, job, "ready")
    first = picked_up(books, job, "cash")
    assert first.entry is not None
    reversed_entry(books, first.entry.number)
    assert read_job(books, job.id).status == "ready"
    second = picked_up(on_day(books, NEXT_DAY), job, "check")
    assert second.entry is not None
    assert (read_job(books, job.id).status, read_job(on_day(books, NEXT_DAY), job.id).status) == ("ready", "gone")
