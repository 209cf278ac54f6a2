"""What a column takes, tried column by column with rows that stand in the sample, on a schema without its triggers."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from ledger.books.connection import connect_in_memory
from ledger.books.migrate import migrate, shipped_migrations
from ledger.books.places import books_file

# How a column is called that holds a day of the calendar.
DATE_NAMES = ("at", "date", "expires", "promised", "since", "through")
DATE_ENDINGS = ("_on", "_date")
# Whole numbers that neither count money nor are a key, a reference or a mark; 10^14 bounds the others.
COUNTERS = {"attachment.bytes", "job_line.line", "record.row"}
# The running sums hold many postings; what bounds them is that SQLite takes no fraction for an overflow.
UNBOUNDED = COUNTERS | {"month_total.cents"}
NO_DATES = ("2026-02-30", "2026-2-3", "2026-02-03 ", "2026-02-03T00:00", "03/02/2026", "now", "", 20260203)
NO_AMOUNTS = ("ten", "1e999", "nan", "", 0.5, 1e999, float("inf"), b"1", 10**14 + 1, -(10**14) - 1)


@dataclass(frozen=True)
class Column:
    table: str
    name: str
    kind: str

    def __str__(self) -> str:
        return f"{self.table}.{self.name}"


class Rows:
    """The rows of the sample in a scratch database that has the tables, without triggers and foreign keys."""

    def __init__(self, file: Path) -> None:
        self.connection = connect_in_memory()
        migrate(self.connection, Path(), shipped_migrations())
        for (trigger,) in self.connection.execute("select name from sqlite_schema where type = 'trigger'").fetchall():
            self.connection.execute(f"drop trigger {trigger}")
        source = sqlite3.connect(file)
        self.tables = [row[1] for row in source.execute("pragma table_list") if not row[1].startswith("sqlite_")]
        for table in self.tables:
            rows = source.execute(f"select * from {table}").fetchall()
            self.connection.executemany(f"insert into {table} values ({', '.join('?' * len(rows[0]))})", rows)
        source.close()

    def columns(self, kind: str) -> list[Column]:
        return [
            Column(table, row[1], row[2])
            for table in self.tables
            for row in self.connection.execute(f"pragma table_info({table})").fetchall()
            if row[2] == kind
        ]

    def is_key(self, column: Column) -> bool:
        """Whether it is part of the primary key, or refers to another table."""
        keys = [row[1] for row in self.connection.execute(f"pragma table_info({column.table})") if row[5]]
        return column.name in keys + [
            row[3] for row in self.connection.execute(f"pragma foreign_key_list({column.table})")
        ]

    def last_row(self, table: str) -> dict[str, Any]:
        found = self.connection.execute(f"select * from {table}")
        rows = found.fetchall()
        assert rows, f"add a row of {table} to tests/books/sample.py"
        return dict(zip((each[0] for each in found.description), rows[-1], strict=True))

    def takes(self, column: Column, value: Any) -> bool:
        """Whether the last row of the table could stand there with this value instead; undone afterwards."""
        self.connection.execute("begin")
        try:
            row = self.last_row(column.table)
            keys = " and ".join(f"{name} is ?" for name in row)
            gone = self.connection.execute(f"delete from {column.table} where {keys}", tuple(row.values())).rowcount
            assert gone == 1
            row[column.name] = value
            places = ", ".join("?" * len(row))
            self.connection.execute(f"insert into {column.table} values ({places})", tuple(row.values()))
        except sqlite3.Error:
            return False
        else:
            return True
        finally:
            self.connection.execute("rollback")


@pytest.fixture(scope="module")
def rows(made_sample: Path) -> Iterator[Rows]:
    scratch = Rows(books_file(made_sample))
    yield scratch
    scratch.connection.close()


def test_every_column_takes_what_stands_in_it(rows: Rows) -> None:
    columns = [*rows.columns("TEXT"), *rows.columns("INTEGER")]
    assert {column.table for column in columns} == set(rows.tables)
    assert [str(column) for column in columns if not rows.takes(column, rows.last_row(column.table)[column.name])] == []


def test_no_text_holds_a_character_that_ends_it_for_other_programs(rows: Rows) -> None:
    taken = [
        str(column)
        for column in rows.columns("TEXT")
        for text in ("before\0after", f"{'0' * 64}\0")
        if rows.takes(column, text)
    ]
    assert taken == []


def test_a_date_is_a_day_of_the_calendar_written_in_one_way(rows: Rows) -> None:
    dates = [column for column in rows.columns("TEXT") if is_date(column)]
    assert len(dates) > 30
    assert [str(column) for column in dates if not rows.takes(column, "2026-02-28")] == []
    assert [f"{column}: {text}" for column in dates for text in NO_DATES if rows.takes(column, text)] == []


def test_an_amount_is_a_bounded_whole_number(rows: Rows) -> None:
    numbers = [column for column in rows.columns("INTEGER") if not rows.is_key(column)]
    amounts = [column for column in numbers if rows.takes(column, 10**14) and str(column) not in UNBOUNDED]
    assert {"posting.cents", "tax_line.base", "job.value", "payment.fee", "owed_part.tax"} <= set(map(str, amounts))
    assert [f"{column}: {value!r}" for column in amounts for value in NO_AMOUNTS if rows.takes(column, value)] == []


def test_whatever_counts_without_a_bound_is_known(rows: Rows) -> None:
    numbers = [column for column in rows.columns("INTEGER") if not rows.is_key(column)]
    assert {str(column) for column in numbers if rows.takes(column, 10**15)} == UNBOUNDED


def test_a_posting_always_moves_something(rows: Rows) -> None:
    assert not rows.takes(Column("posting", "cents", "INTEGER"), 0)
    assert rows.takes(Column("posting", "cents", "INTEGER"), 1)


def test_no_column_takes_a_fraction_or_bytes(rows: Rows) -> None:
    taken = [
        f"{column}: {value!r}"
        for kind in ("TEXT", "INTEGER")
        for column in rows.columns(kind)
        for value in ([b"1"] if kind == "TEXT" else [b"1", 0.5])
        if rows.takes(column, value)
    ]
    assert taken == []


def test_no_table_has_columns_of_another_kind(rows: Rows) -> None:
    assert [str(column) for kind in ("REAL", "BLOB", "ANY", "INT") for column in rows.columns(kind)] == []


def is_date(column: Column) -> bool:
    return column.name in DATE_NAMES or column.name.endswith(DATE_ENDINGS)
