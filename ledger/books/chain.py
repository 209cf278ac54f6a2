"""The two chains of digests: the entries, and every other row."""

from __future__ import annotations

import re
import sqlite3
from dataclasses import dataclass

from ledger.books.connection import is_broken
from ledger.books.digests import GENESIS, entry_digest, is_value, record_digest, sealed_parts

HEAD_DIGITS = 12


@dataclass(frozen=True)
class Head:
    """The last link of the entries: print it, since a chain does not show that its last links were cut off."""

    number: int
    digest: str

    def __str__(self) -> str:
        return f"{self.number} {self.digest[:HEAD_DIGITS]}"


def head(connection: sqlite3.Connection) -> Head:
    """The last sealed entry; number 0 where there is none yet."""
    row = connection.execute("select number, digest from seal order by number desc limit 1").fetchone()
    return Head(row[0], row[1]) if row else Head(0, GENESIS)


def first_broken_link(connection: sqlite3.Connection, last: int | None = None) -> int | None:
    """The number of the first entry whose seal does not follow from its rows, among the last ones or all."""
    newest = head(connection).number
    return broken_link_between(connection, 1 if last is None else max(1, newest - last + 1), newest)


def broken_link_between(connection: sqlite3.Connection, first: int, last: int) -> int | None:
    """The same among the entries with these numbers and those between them."""
    before = connection.execute("select digest from seal where number = ?", (first - 1,)).fetchone()
    previous = before[0] if before else GENESIS
    expected = first
    for number, link, digest in connection.execute(
        "select number, previous, digest from seal where number between ? and ? order by number", (first, last)
    ):
        if number != expected or link != previous or not _is_as_sealed(connection, number, previous, digest):
            return int(min(number, expected))
        previous, expected = digest, number + 1
    return None


def broken_records(connection: sqlite3.Connection) -> list[str]:
    """Sentences for each row outside the entries that is not what was recorded, or was never recorded."""
    findings: list[str] = []
    tables = _recorded_tables(connection)
    previous, expected = GENESIS, 1
    for number, table, row, digest in connection.execute("select number, of_table, row, digest from record order by 1"):
        if number != expected:
            findings.append(f"record {expected} is missing")
        if table not in tables or not _is_as_recorded(connection, previous, table, row, digest):
            findings.append(f"row {row} of {table} is not what was recorded")
        previous, expected = digest if is_value(digest) else GENESIS, number + 1
    for table in sorted(tables):
        extra = connection.execute(
            f"select id from {table} where id not in (select row from record where of_table = ?)", (table,)
        ).fetchall()
        findings.extend(f"row {row[0]} of {table} was never recorded" for row in extra)
    return findings


def _is_as_sealed(connection: sqlite3.Connection, number: int, previous: str, digest: str) -> bool:
    try:
        entry = connection.execute("select * from entry where number = ?", (number,)).fetchone()
        parts = sealed_parts(connection, number)
    except sqlite3.DatabaseError as error:
        if not is_broken(error):
            raise
        return False
    if entry is None:
        return False
    kept = [*entry, *(value for part in parts for line in part for value in line)]
    return all(map(is_value, kept)) and digest == entry_digest(previous, dict(entry), *parts)


def _is_as_recorded(connection: sqlite3.Connection, previous: str, table: str, row: int, digest: str) -> bool:
    try:
        kept = connection.execute(f"select * from {table} where id = ?", (row,)).fetchone()
    except sqlite3.DatabaseError as error:
        if not is_broken(error):
            raise
        return False
    return kept is not None and all(map(is_value, kept)) and digest == record_digest(previous, table, dict(kept))


# What an entry's own digest covers, and what only repeats the postings.
_OUTSIDE_RECORDS = {"entry", "posting", "slip_line", "tax_line", "seal", "month_total", "record"}


def _recorded_tables(connection: sqlite3.Connection) -> set[str]:
    """Tables whose rows stand on the chain of records; a foreign table is the schema's finding, not this one's."""
    rows = connection.execute("select name from sqlite_schema where type = 'table' and name not like 'sqlite_%'")
    return {row[0] for row in rows if re.fullmatch("[a-z_]+", row[0] or "")} - _OUTSIDE_RECORDS
