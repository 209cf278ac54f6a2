"""A receipt that turns up when its period is closed: it goes into the open one and carries its own day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import spend
from ledger.books.books import Books
from ledger.books.closing import close_period
from ledger.books.entries import read_entry
from ledger.errors import NotPossible
from ledger.quarter.late import read_late
from tests.books.calling import done
from tests.workshop import begin_taxed, on_day

MARCH, APRIL = date(2026, 3, 12), date(2026, 4, 20)
RECEIPT = spend.SpendRequest(7_50, "thread", "checking", "Corner shop", belongs_on=MARCH)


@pytest.fixture
def books(tmp_path: Path) -> Books:
    opened = on_day(begin_taxed(tmp_path / "books", opening_cents=500_00), APRIL)
    close_period(opened, date(2026, 1, 1), date(2026, 3, 31))
    return opened


def test_it_is_dated_today_belongs_to_its_day_and_stands_in_the_next_packet(books: Books) -> None:
    _, sealed = spend.perform(books, RECEIPT)
    entry = read_entry(books, sealed.number)
    assert (entry.on, entry.belongs_on) == (APRIL, MARCH)
    (late,) = read_late(books, date(2026, 4, 1), APRIL)
    assert (late.entry, late.why) == (sealed.number, "belongs to 2026-03-12, before this period")


@pytest.mark.parametrize("day", [APRIL, date(2026, 4, 21)])
def test_a_day_that_is_not_earlier_is_refused(books: Books, day: date) -> None:
    with pytest.raises(NotPossible, match="is not late") as refused:
        spend.perform(books, replace(RECEIPT, belongs_on=day))
    assert refused.value.field == "belongs_on"


def test_the_command_says_the_day_with_an_option(books: Books) -> None:
    books.close()
    words = (
        "spend",
        "7.50",
        "--category",
        "thread",
        "--from",
        "checking",
        "--who",
        "Mill",
        "--belongs-on",
        "2026-03-12",
    )
    entry = done(books.folder, APRIL.isoformat(), *words)["entry"]
    told = done(books.folder, APRIL.isoformat(), "entries", "--since", "2026-04-20")["entries"]
    assert [(each["number"], each["date"], each["belongs_on"]) for each in told] == [
        (entry, "2026-04-20", "2026-03-12")
    ]
