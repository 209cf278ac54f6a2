"""A household statement is looked through: what is not picked is never stored, and the file itself is not kept."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import pick_line, read_statement
from ledger.actions.pick_line import PickRequest
from ledger.actions.read_statement import ReadRequest
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible
from tests.actions.bank_desk import DAY, kept, undone
from tests.bank.files import csv
from tests.workshop import begin, lines_of, on_day, purse_sums, transferred, written

SECRETS = ("Pharmacy on the hill", "Doctor Quibble", "1987.65")
ROWS = (
    "2026-01-10,Pharmacy on the hill,-1987.65",
    "2026-01-12,Thimble shop,-12.00",
    "2026-01-12,Thimble shop,-12.00",
    "2026-01-15,Doctor Quibble,-80.00",
    "2026-01-20,To the workshop,-300.00",
)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    books = begin(tmp_path / "books", opening_cents=500_00)
    transferred(on_day(books, date(2026, 1, 20)), "put-in", "300.00", "household checking", "checking")
    yield on_day(books, DAY)
    books.close()


@pytest.fixture
def statement(books: Books) -> ReadRequest:
    return ReadRequest(kept(books, csv(*ROWS), "household.csv"), "household checking")


def stored(books: Books) -> bytes:
    """Every byte of the folder, the journal's last state included."""
    return b"".join(path.read_bytes() for path in sorted(books.folder.rglob("*")) if path.is_file())


def test_looking_through_stores_nothing_and_tells_what_the_books_have(books: Books, statement: ReadRequest) -> None:
    before = stored(books)
    looked, lines = pick_line.look_through(books, statement)
    assert looked.preview.rows == 5
    assert [each.entry for each in lines] == [None, None, None, None, 2]
    assert stored(books) == before


def test_it_cannot_be_read_whole(books: Books, statement: ReadRequest) -> None:
    before = stored(books)
    with pytest.raises(NotPossible, match="household's"):
        read_statement.perform(books, statement)
    assert stored(books) == before


def test_what_is_not_picked_is_in_no_byte_of_the_books(books: Books, statement: ReadRequest) -> None:
    done = pick_line.perform(books, PickRequest(statement, 2, "thread"))
    content = stored(books)
    assert b"Thimble shop" in content, "the check can see what is there"
    assert b"household.csv" not in content
    for secret in SECRETS:
        assert secret.encode() not in content
        assert secret.casefold().encode() not in content
        assert secret.encode("utf-16-le") not in content
    assert books.value("select count(*) from statement_line") == 1
    assert books.value("select count(*) from statement where document is not null") == 0
    (kept,) = books.rows("select label, first_date, last_date, ending from statement")
    assert tuple(kept) == ("picked from a statement", "2026-01-12", "2026-01-12", None)
    assert 1987_65 not in [row[0] for row in books.rows("select abs(cents) from posting")]
    assert lines_of(books, done.entry) == written("owner's contributions -12.00", "thread 12.00")
    assert lines_of(books, done.entry, "personal") == written("household checking -12.00", "workshop mirror 12.00")
    assert prove(books).ok


def test_a_line_is_picked_once_and_its_twin_stays_to_be_picked(books: Books, statement: ReadRequest) -> None:
    first = pick_line.perform(books, PickRequest(statement, 2, "thread"))
    with pytest.raises(NotPossible, match=f"entry {first.entry} already"):
        pick_line.perform(books, PickRequest(statement, 2, "thread"))
    second = pick_line.perform(books, PickRequest(statement, 3, "thread"))
    assert [each.entry for each in pick_line.look_through(books, statement)[1]] == [
        None,
        first.entry,
        second.entry,
        None,
        2,
    ]
    with pytest.raises(NotPossible, match="entry 2 already"):
        pick_line.perform(books, PickRequest(statement, 5, "thread"))
    with pytest.raises(NotFound):
        pick_line.perform(books, PickRequest(statement, 6, "thread"))


def test_part_of_a_line_may_be_the_households_and_the_workshop_may_owe_it(books: Books, statement: ReadRequest) -> None:
    done = pick_line.perform(books, PickRequest(statement, 2, "thread", home_cents=5_00, owed=True))
    assert lines_of(books, done.entry) == written("owed to owner -7.00", "thread 7.00")
    assert set(purse_sums(books).values()) == {0}


def test_what_was_picked_by_mistake_is_undone_and_may_be_picked_again(books: Books, statement: ReadRequest) -> None:
    done = pick_line.perform(books, PickRequest(statement, 2, "thread"))
    assert len(undone(books, done.line.id).reversed_by) == 1
    again = pick_line.perform(books, PickRequest(statement, 2, "batting"))
    assert again.line.id == done.line.id
    assert lines_of(books, again.entry) == written("batting 12.00", "owner's contributions -12.00")


def test_a_workshop_account_is_not_looked_through(books: Books, statement: ReadRequest) -> None:
    with pytest.raises(NotPossible, match="the workshop's"):
        pick_line.look_through(books, ReadRequest(statement.file, "checking"))
