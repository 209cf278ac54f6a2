"""Many rows added at once are what they are when they are added one by one, digest by digest."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.prove import prove
from tests.workshop import FIRST_DAY, begin, copied

ROWS = [
    {"account": 1, "map": f'{{"caf\u0065\u0301": {number}}}', "on_date": FIRST_DAY.isoformat()} for number in range(5)
]


def records(books: Books) -> list[tuple[object, ...]]:
    return [tuple(row) for row in books.rows("select * from record order by number")]


def test_the_chain_of_records_is_the_same(tmp_path: Path) -> None:
    begin(tmp_path / "books").close()
    with copied(tmp_path / "books") as one, copied(tmp_path / "books") as other:
        with one.writing() as write:
            ids = write.add_all("statement_map", ROWS)
        with other.writing() as write:
            assert [write.add("statement_map", **row) for row in ROWS] == ids
        assert records(one) == records(other)
        assert prove(one).ok


def test_no_rows_are_no_rows_and_one_that_is_refused_refuses_all(tmp_path: Path) -> None:
    books = begin(tmp_path / "books")
    before = records(books)
    with books.writing() as write:
        assert write.add_all("statement_map", []) == []
    with pytest.raises(sqlite3.IntegrityError), books.writing() as write:
        write.add_all("statement_map", [*ROWS, {"account": 1, "map": "", "on_date": FIRST_DAY.isoformat()}])
    assert records(books) == before
    books.close()
