"""What somebody with any SQLite program could do to a books file: plain statements, round our code."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from ledger.books.digests import GENESIS, entry_digest, sealed_parts

Line = tuple[str, int]


def content_of(file: Path) -> list[object]:
    """Every row of every table, the statements of the schema, and the two numbers in the header."""
    connection = sqlite3.connect(file)
    connection.text_factory = bytes
    try:
        schema = connection.execute("select type, name, tbl_name, sql from sqlite_schema").fetchall()
        tables = sorted(row[1].decode() for row in schema if row[0] == b"table")
        rows = [sorted(connection.execute(f'select * from "{table}"').fetchall(), key=repr) for table in tables]
        marks = [connection.execute(f"pragma {name}").fetchone() for name in ("user_version", "application_id")]
        return [sorted(schema, key=repr), rows, marks]
    finally:
        connection.close()


@contextmanager
def triggers_away(connection: sqlite3.Connection) -> Iterator[None]:
    """The triggers dropped, and afterwards put back to the letter, so that the schema tells nothing."""
    triggers = connection.execute("select name, sql from sqlite_schema where type = 'trigger'").fetchall()
    for name, _ in triggers:
        connection.execute(f"drop trigger {name}")
    yield
    for _, sql in triggers:
        connection.execute(sql)


def last_seal(connection: sqlite3.Connection) -> tuple[int, str]:
    row = connection.execute("select number, digest from seal order by number desc limit 1").fetchone()
    return (row[0], row[1]) if row else (0, GENESIS)


def write_entry(
    connection: sqlite3.Connection,
    lines: Sequence[Line] = (("checking", 100), ("tips", -100)),
    *,
    number: int | None = None,
    day: str = "2026-03-20",
    reverses: int | None = None,
) -> int:
    """An entry with its postings, accounts by role, not sealed yet; its number."""
    number = number or last_seal(connection)[0] + 1
    connection.execute(
        "insert into entry (number, date, text, kind, reverses, version) values (?, ?, 'Tips', 'other', ?, 1)",
        (number, day, reverses),
    )
    for line, (role, cents) in enumerate(lines, start=1):
        account, purse = connection.execute("select id, purse from account where role = ?", (role,)).fetchone()
        connection.execute("insert into posting values (?, ?, ?, ?, ?)", (number, line, account, purse, cents))
    return number


def write_seal(
    connection: sqlite3.Connection, number: int, *, previous: str | None = None, digest: str | None = None
) -> None:
    """The seal that belongs to an entry as it stands, or one with a link or a digest of one's own."""
    before = connection.execute("select digest from seal where number = ?", (number - 1,)).fetchone()
    previous = previous or (before[0] if before else GENESIS)
    if digest is None:
        found = connection.execute("select * from entry where number = ?", (number,))
        fields = dict(zip((each[0] for each in found.description), found.fetchone(), strict=True))
        digest = entry_digest(previous, fields, *sealed_parts(connection, number))
    connection.execute("insert into seal values (?, ?, ?)", (number, previous, digest))
