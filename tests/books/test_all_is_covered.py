"""Every column of every row is under a digest or added up again: whatever is changed behind the triggers is found."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import replace

import pytest

from ledger.books.books import Books
from ledger.books.connection import connect
from ledger.books.places import books_file
from ledger.books.prove import prove

pytestmark = pytest.mark.slow


@pytest.fixture
def unguarded(books: Books) -> Iterator[Books]:
    """The sample on a connection without triggers, checks and foreign keys."""
    connection = connect(books_file(books.folder))
    connection.execute("pragma foreign_keys = off")
    connection.execute("begin")
    for (name,) in connection.execute("select name from sqlite_schema where type = 'trigger'").fetchall():
        connection.execute(f"drop trigger {name}")
    connection.execute("commit")
    yield replace(books, connection=connection)
    connection.close()


def test_a_value_changed_anywhere_is_found(unguarded: Books) -> None:
    tried, missed = 0, []
    for table, columns in tables(unguarded.connection).items():
        for column, kind in columns.items():
            for change in changes_of(column, kind):
                update = f"update {table} set {column} = {change} where {column} is not {change} and {is_last(table)}"
                changed = checks_after(unguarded, update)
                tried += changed is not None
                if changed == set():
                    missed.append(f"{table}.{column} = {change}")
    assert missed == []
    assert tried > 150


def test_a_row_taken_away_anywhere_is_found(unguarded: Books) -> None:
    missed = []
    for table in tables(unguarded.connection):
        for place in ("asc", "desc"):
            gone = f"delete from {table} where {is_last(table, place)}"
            if table == "record" and place == "desc":
                continue  # then the row that it recorded was never recorded, which the next test holds
            if checks_after(unguarded, gone) == set():
                missed.append(gone)
    assert missed == []


def test_a_row_without_its_record_is_found(unguarded: Books) -> None:
    assert checks_after(unguarded, "delete from record where number = (select max(number) from record)") == {"records"}


def checks_after(books: Books, statement: str) -> set[str] | None:
    """The checks of `prove` that find something after a statement, None where it changes nothing; undone afterwards."""
    connection = books.connection
    connection.execute("pragma ignore_check_constraints = on")
    connection.execute("begin")
    try:
        if connection.execute(statement).rowcount == 0:
            return None
        connection.execute("pragma ignore_check_constraints = off")
        return {each.check for each in prove(books).findings} - {"schema"}
    except sqlite3.IntegrityError:
        return None  # a key that cannot be null, or is taken
    finally:
        connection.execute("rollback")


def tables(connection: sqlite3.Connection) -> dict[str, dict[str, str]]:
    names = [row[1] for row in connection.execute("pragma table_list") if not row[1].startswith("sqlite_")]
    return {
        name: {row[1]: row[2] for row in connection.execute(f"pragma table_info({name})").fetchall()} for name in names
    }


def changes_of(column: str, kind: str) -> list[str]:
    if kind == "TEXT":
        return [f"(coalesce({column}, '') || 'x')", "null"]
    return [f"(coalesce({column}, 0) + 1000)", "null"]


def is_last(table: str, place: str = "desc") -> str:
    key = {"month_total": "account, month", "posting": "entry, line"}.get(table)
    if table in ("slip_line", "tax_line"):
        key = "entry, line"
    if key is None:
        return f"rowid = (select rowid from {table} order by rowid {place} limit 1)"
    first, second = key.split(", ")
    return f"({key}) = (select {key} from {table} order by {first} {place}, {second} {place} limit 1)"
