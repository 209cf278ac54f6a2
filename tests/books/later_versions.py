"""Two versions more, as they might come, for tests of what happens on the way to them."""

from __future__ import annotations

from pathlib import Path

import pytest

from ledger.books import opening, prove
from ledger.books.connection import connect, connect_in_memory
from ledger.books.migrate import Migrations, migrate, newest_version, shipped_migrations
from ledger.books.places import books_file
from ledger.books.schema import schema_digest, shipped_digests

NEXT = (
    """-- A note beside an entry; written once.
create table note (
    id integer primary key,
    entry integer not null references entry (number),
    text text not null check (instr(text, char(0)) = 0) -- of one line; or two
) strict;
--guard note id
""",
    "alter table job add column colour text;\ncreate index job_by_colour on job (colour);\n",
)
LAST = ("create table spare (id integer primary key) strict;\n--guard spare id\n",)


def with_later_versions() -> Migrations:
    return shipped_migrations() | {newest_version() + 1: NEXT, newest_version() + 2: LAST}


def ship(patch: pytest.MonkeyPatch, migrations: Migrations) -> None:
    """Let the program be one that ships these migrations."""
    made = connect_in_memory()
    migrate(made, Path(), migrations)
    digests = shipped_digests() | {max(migrations): schema_digest(made)}
    made.close()
    for module in (opening, prove):
        patch.setattr(module, "newest_version", lambda: max(migrations))
        patch.setattr(module, "shipped_migrations", lambda: migrations)
        patch.setattr(module, "shipped_digests", lambda: digests)


def cut_off_before_the_journal_went(folder: Path, migrations: Migrations) -> None:
    """Books as a kill leaves them that comes after the new pages were written and before the journal was removed."""
    journal = books_file(folder).with_name("books.sqlite3-journal")
    connection = connect(books_file(folder))
    connection.execute("pragma synchronous = off")  # so that the journal counts as it stands, without a last mark
    kept: list[bytes] = []

    def keep_the_journal(statement: str) -> None:
        if statement.casefold().startswith("commit"):
            kept.append(journal.read_bytes())

    connection.set_trace_callback(keep_the_journal)
    migrate(connection, folder, migrations)
    connection.close()
    journal.write_bytes(kept[0])
