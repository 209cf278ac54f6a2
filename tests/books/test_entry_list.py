"""The list of entries that the database filters and orders is the one that plain functions make of all entries."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from ledger.actions import spend
from ledger.books.books import Books
from ledger.books.entries import Wanted, read_entries, read_entry
from ledger.books.entry_list import ENTRY_COLUMNS, EntryList
from ledger.lists.lines import LinesInMemory
from ledger.lists.listing import Arrangement, Manner, words_of
from tests import workshop as w

WORDS = (
    "",
    "zoe",
    "THREAD",
    "o",
    "1",
    "12",
    "31.8",
    "31.80",
    "0.07",
    "2026",
    "2026-01-2",
    "jan",
    "x",
    "naive b",
    "%_*",
)
FIRST = date(2026, 1, 5)
TODAY = FIRST + timedelta(days=30)
SHOPS = ("Zoë & Co", "zoe", "Ada Brook", "Ärmel", "Straße 7", "b%_*", "Ada Brook")


def shown_day(day: date) -> str:
    return f"{day:%b} {day.day}, {day.year}"


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Books]:
    begun = w.begin(tmp_path_factory.mktemp("entries") / "books", FIRST, opening_cents=900_00)
    for number, who in enumerate(SHOPS * 3):
        # Some on one day, and one on an earlier day than the one before it.
        day = w.on_day(begun, FIRST + timedelta(days=number * 7 % 30))
        spend.perform(day, spend.SpendRequest(7 + number % 5 * 31_73, "thread", "checking", who, why="Naïve thread"))
        w.transferred(day, "move", "12.00", "checking", "cash box")
    w.reversed_entry(w.on_day(begun, TODAY), 5)
    w.transferred(w.on_day(begun, TODAY + timedelta(days=1)), "move", "1.00", "checking", "cash box")
    today = w.on_day(begun, TODAY)
    yield today
    today.close()


def as_plain_functions_have_it(books: Books, arrangement: Arrangement) -> LinesInMemory:
    every = tuple(EntryList(books, shown_day=shown_day).every())
    return LinesInMemory(ENTRY_COLUMNS, every, Manner(books.currency, shown_day), arrangement)


def test_the_whole_list_has_every_entry_up_to_today_the_newest_first(books: Books) -> None:
    entries = read_entries(books, Wanted(through=TODAY))
    found = EntryList(books)
    lines = found.page(0, found.count)
    assert [line.key for line in lines] == [entry.number for entry in reversed(entries)]
    of_each = {entry.number: entry for entry in entries}
    for line in lines:
        entry = of_each[line.key]
        assert line.values[:2] == (entry.number, entry.on)
        assert line.values[2] == sum(each.cents for each in entry.postings if each.cents > 0)
        assert line.values[3] == entry.who


@pytest.mark.parametrize("typed", WORDS)
def test_what_the_database_finds_is_what_plain_functions_find(books: Books, typed: str) -> None:
    wanted = Arrangement(words_of(typed))
    expected = as_plain_functions_have_it(books, wanted)
    found = EntryList(books, wanted, shown_day=shown_day)
    assert found.count == expected.count
    assert list(found.every()) == list(expected.every())


@pytest.mark.parametrize("descending", [False, True])
@pytest.mark.parametrize("column", [None, 0, 1, 2, 3, 4])
@pytest.mark.parametrize("typed", ["", "a"])
def test_pages_places_and_days_are_those_of_the_whole_order(
    books: Books, column: int | None, descending: bool, typed: str
) -> None:
    wanted = Arrangement(words_of(typed), column, descending and column is not None)
    expected = as_plain_functions_have_it(books, wanted)
    found = EntryList(books, shown_day=shown_day).arranged(wanted)
    assert [found.page(first, 7) for first in range(0, 50, 7)] == [expected.page(first, 7) for first in range(0, 50, 7)]
    assert [found.place_of(number) for number in range(50)] == [expected.place_of(number) for number in range(50)]
    for days in range(-2, 40):
        day = FIRST + timedelta(days=days)
        assert found.place_of_day(day) == expected.place_of_day(day), day


def test_an_empty_list_has_no_day(tmp_path: Path) -> None:
    books = w.begin(tmp_path / "books", FIRST)
    assert (EntryList(books).count, EntryList(books).page(0, 10), EntryList(books).place_of_day(FIRST)) == (0, (), None)
    books.close()


def test_a_mixed_receipt_moved_what_was_paid_and_a_correction_is_marked(tmp_path: Path) -> None:
    books = w.begin(tmp_path / "books", FIRST, opening_cents=900_00)
    request = spend.SpendRequest(31_80, "thread", "household checking", "Corner shop", home_cents=9_30)
    entry = spend.perform(books, request)[1].number
    w.reversed_entry(books, entry)
    lines = EntryList(books).page(0, 2)
    assert [line.values[2] for line in lines] == [31_80, 31_80]
    assert [read_entry(books, line.key).moved_cents for line in lines] == [31_80, 31_80]
    assert [getattr(line.values[4], "words", "")[:2] for line in lines] == ["x ", "x "]
    assert [line.values[8:] for line in lines] == [(entry, None), (None, entry + 1)]
    books.close()
