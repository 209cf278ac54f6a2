"""Bring a books file from the schema version in its header to the newest one, in one transaction.

A migration is every file `migrations/000N_*.sql`, in the order of their names, run one statement at a time; version N
is set inside the same transaction, so that a file is wholly old or wholly new. Migrations add tables, columns that may
be null, indexes and triggers; a guarded table is never built anew. What its columns take is held by
tests/books/test_column_laws.py: a date is checked with `date(x, '+0 days') is x` (with `=` any word passes, since the
comparison is null), text is without char(0), an amount is bounded.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

from ledger.books.connection import APPLICATION_ID
from ledger.books.guards import GUARD_LINE, guard_statements
from ledger.books.transaction import transaction

Migrations = dict[int, tuple[str, ...]]


def shipped_migrations() -> Migrations:
    """The text of each shipped file, by version."""
    folder = files("ledger.books").joinpath("migrations")
    names = sorted(each.name for each in folder.iterdir() if each.name.endswith(".sql"))
    versions = sorted({int(name.split("_")[0]) for name in names})
    return {
        version: tuple(
            folder.joinpath(name).read_text(encoding="utf-8") for name in names if int(name.split("_")[0]) == version
        )
        for version in versions
    }


def newest_version() -> int:
    folder = files("ledger.books").joinpath("migrations")
    return max(int(each.name.split("_")[0]) for each in folder.iterdir() if each.name.endswith(".sql"))


def migrate(connection: sqlite3.Connection, folder: Path, migrations: Migrations) -> None:
    """Run every migration that is newer than the file, all of them or none."""
    with transaction(connection, folder):
        # Read under the write lock: another window may have been the first to migrate.
        version = connection.execute("pragma user_version").fetchone()[0]
        if version == 0:
            connection.execute(f"pragma application_id = {APPLICATION_ID}")
        for newer in sorted(each for each in migrations if each > version):
            for text in migrations[newer]:
                for statement in statements_of(text):
                    connection.execute(statement)
            connection.execute(f"pragma user_version = {newer}")


def statements_of(text: str) -> Iterator[str]:
    """The statements of a migration, each `--guard` line replaced by the triggers it stands for."""
    waiting = ""
    for line in text.splitlines():
        if line.startswith(GUARD_LINE):
            yield from guard_statements(line.removeprefix(GUARD_LINE))
        elif not line.startswith("--"):
            waiting += line + "\n"
            if sqlite3.complete_statement(waiting):
                yield waiting.strip()
                waiting = ""
    assert not waiting.strip(), "a migration ends in the middle of a statement"
