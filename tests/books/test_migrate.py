"""Migrations: wholly old or wholly new, one statement at a time, and never backwards."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.connection import APPLICATION_ID, connect, connect_in_memory, read_version
from ledger.books.guards import guard_statements
from ledger.books.migrate import Migrations, migrate, newest_version, shipped_migrations, statements_of
from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import prove
from ledger.books.schema import schema_digest
from ledger.errors import BooksNotUsable
from tests.books import sample
from tests.books.later_versions import NEXT, cut_off_before_the_journal_went, ship, with_later_versions
from tests.books.plain_sql import content_of

NOW = newest_version()
BROKEN = (*NEXT, "create table note (id integer primary key) strict;\n")


@pytest.fixture
def later() -> Migrations:
    return with_later_versions()


def version_of(connection: sqlite3.Connection) -> int:
    return int(connection.execute("pragma user_version").fetchone()[0])


def test_the_statements_of_a_migration_are_told_apart() -> None:
    text = """-- comment; with a semicolon
create table a (
    x text default ';' -- another;
) strict;
create trigger b before insert on a
when new.x is null
begin
    select raise(abort, 'no; never');
    select raise(abort, 'end;') where new.x = 'end;';
end;
--guard a x; y, z
create index c on a (x);
"""
    statements = list(statements_of(text))
    assert [each.split("\n")[0] for each in statements] == [
        "create table a (",
        "create trigger b before insert on a",
        "create trigger a_is_written_once before insert on a",
        "create trigger a_never_changes before update on a",
        "create trigger a_never_goes before delete on a",
        "create index c on a (x);",
    ]
    assert statements[1].endswith("end;")
    assert statements[2] == (
        "create trigger a_is_written_once before insert on a\n"
        "when exists (select 1 from a where (x = new.x) or (y = new.y and z = new.z))\n"
        "begin select raise(abort, 'a row of a is written once'); end"
    )
    assert statements[2:5] == guard_statements("a x; y, z\n")


@pytest.mark.parametrize("text", ["create table a (x)", "create trigger b before insert on a begin select 1;"])
def test_a_migration_that_ends_in_the_middle_is_a_defect(text: str) -> None:
    with pytest.raises(AssertionError, match="middle of a statement"):
        list(statements_of(text))


def test_every_shipped_statement_is_one_statement() -> None:
    connection = connect_in_memory()
    texts = [text for version in shipped_migrations().values() for text in version]
    statements = [statement for text in texts for statement in statements_of(text)]
    for statement in statements:
        connection.execute(statement)  # raises where two stand in one
    connection.close()
    assert len(statements) > 100


def test_a_new_file_gets_every_version_the_mark_and_the_number(tmp_path: Path, later: Migrations) -> None:
    with closing(connect(tmp_path / "new.sqlite3", create=True)) as connection:
        migrate(connection, tmp_path, later)
        assert version_of(connection) == NOW + 2
        assert connection.execute("pragma application_id").fetchone()[0] == APPLICATION_ID
        assert connection.execute("select count(*) from note").fetchone()[0] == 0
    assert read_version(tmp_path / "new.sqlite3") == NOW + 2


def test_older_books_are_brought_to_the_newest_version_with_all_that_is_in_them(
    sample_folder: Path, later: Migrations
) -> None:
    with closing(connect(books_file(sample_folder))) as connection:
        rows = connection.execute("select * from posting").fetchall()
        migrate(connection, sample_folder, later)
        assert version_of(connection) == NOW + 2
        assert connection.execute("select * from posting").fetchall() == rows
        assert connection.execute("select distinct colour from job").fetchone()[0] is None
        made = connect_in_memory()
        migrate(made, sample_folder, later)
        assert schema_digest(connection) == schema_digest(made)
        made.close()


def test_books_of_the_newest_version_are_left_alone(sample_folder: Path) -> None:
    before = books_file(sample_folder).read_bytes()
    with closing(connect(books_file(sample_folder))) as connection:
        migrate(connection, sample_folder, shipped_migrations())
    assert books_file(sample_folder).read_bytes() == before


@pytest.mark.parametrize("texts", [BROKEN, (*NEXT, "select nothing from nowhere;\n")])
def test_a_migration_that_fails_leaves_the_books_wholly_old(texts: tuple[str, ...], sample_folder: Path) -> None:
    before = content_of(books_file(sample_folder))
    with closing(connect(books_file(sample_folder))) as connection:
        with pytest.raises(sqlite3.OperationalError):
            migrate(connection, sample_folder, shipped_migrations() | {NOW + 1: texts})
        assert version_of(connection) == NOW
    assert content_of(books_file(sample_folder)) == before
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert prove(books).ok


def test_a_later_version_that_fails_takes_the_earlier_one_with_it(sample_folder: Path) -> None:
    before = content_of(books_file(sample_folder))
    with closing(connect(books_file(sample_folder))) as connection, pytest.raises(sqlite3.OperationalError):
        migrate(connection, sample_folder, shipped_migrations() | {NOW + 1: NEXT, NOW + 2: BROKEN})
    assert content_of(books_file(sample_folder)) == before


def test_two_windows_that_open_older_books_at_once_migrate_them_once(sample_folder: Path, later: Migrations) -> None:
    """The other window is the first to migrate just as this one asks for the lock."""
    this, other = connect(books_file(sample_folder)), connect(books_file(sample_folder))

    def let_the_other_be_first(statement: str) -> None:
        if statement.startswith("begin") and version_of(other) == NOW:
            migrate(other, sample_folder, later)

    this.set_trace_callback(let_the_other_be_first)
    migrate(this, sample_folder, later)
    assert version_of(this) == NOW + 2
    this.close()
    other.close()


def test_books_of_a_newer_version_are_not_opened(sample_folder: Path) -> None:
    with closing(sqlite3.connect(books_file(sample_folder))) as connection:
        connection.execute(f"pragma user_version = {newest_version() + 1}")
    before = books_file(sample_folder).read_bytes()
    with pytest.raises(BooksNotUsable, match=rf"written by a newer version .*\(books version {NOW + 1}\)"):
        open_books(sample_folder, sample.clock_on(sample.TODAY))
    assert books_file(sample_folder).read_bytes() == before


def test_older_books_are_migrated_by_opening_them(
    sample_folder: Path, later: Migrations, monkeypatch: pytest.MonkeyPatch
) -> None:
    ship(monkeypatch, later)
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert version_of(books.connection) == NOW + 2
        assert books.damage is None
        assert prove(books).ok
        with books.writing() as write:
            write.add("note", entry=1, text="a note")
        assert prove(books).ok


def test_a_migration_cut_off_before_its_journal_went_is_rolled_back_and_made_again(
    sample_folder: Path, later: Migrations, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The header then tells of a version that never held; the journal beside it is what counts."""
    cut_off_before_the_journal_went(sample_folder, later)
    assert read_version(books_file(sample_folder)) == NOW + 2
    ship(monkeypatch, later)
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert books.damage is None
        assert prove(books).ok


def test_what_is_rolled_back_is_the_old_version_whole(sample_folder: Path, later: Migrations) -> None:
    before = content_of(books_file(sample_folder))
    cut_off_before_the_journal_went(sample_folder, later)
    with closing(connect(books_file(sample_folder))) as connection:
        assert version_of(connection) == NOW
    assert content_of(books_file(sample_folder)) == before
