"""Begin books in an empty folder, and open them again with the checks that every opening makes."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Callable
from pathlib import Path

from ledger.books.books import Books, Settings
from ledger.books.chain import first_broken_link
from ledger.books.clock import Clock
from ledger.books.connection import (
    FILE_FAULTS,
    connect,
    is_broken,
    read_version,
    refusal_for,
    refusal_for_file,
)
from ledger.books.migrate import migrate, newest_version, shipped_migrations
from ledger.books.places import SUBFOLDERS, books_file, move_into_place, private_files, private_folder, sync_folder
from ledger.books.scans import quick_findings, unsealed_entries
from ledger.books.schema import schema_digest, shipped_digests
from ledger.books.settings import read_settings, write_settings
from ledger.books.transaction import Writing
from ledger.errors import BooksNotUsable, NotPossible

LINKS_CHECKED_AT_OPENING = 100


def begin_books(folder: Path, clock: Clock, settings: Settings, first_rows: Callable[[Books, Writing], None]) -> Books:
    """New books in `folder`, with what `first_rows` writes in them, built aside and moved in when they are whole.

    Raises NotPossible where books already stand, BooksNotUsable where the folder cannot be written.
    """
    there_already = NotPossible(
        f"There are books in {folder} already.", "Name another folder with --books for new ones.", "books"
    )
    try:
        if books_file(folder).exists():
            raise there_already
        with private_files():
            private_folder(folder)
            building = Path(tempfile.mkdtemp(prefix=".new-", dir=folder))
            try:
                _build(building, clock, settings, first_rows)
                for subfolder in SUBFOLDERS:
                    private_folder(folder / subfolder)
                move_into_place(books_file(building), books_file(folder))
                sync_folder(folder)
            finally:
                shutil.rmtree(building, ignore_errors=True)
    except FileExistsError as error:
        if not books_file(folder).exists():
            raise refusal_for_file(error, folder) from error
        raise there_already from None
    except OSError as error:
        raise refusal_for_file(error, folder) from error
    return open_books(folder, clock)


def open_books(folder: Path, clock: Clock) -> Books:
    """The books of a folder. Damage that is found opens them to look at only.

    Raises BooksNotUsable for no books, junk, size zero, no permission, or a newer version than this program's.
    """
    path = books_file(folder)
    _check_version(read_version(path), path)
    ended_uncleanly = path.with_name(path.name + "-journal").exists()
    with private_files():
        connection = connect(path)
    try:
        return _opened(folder, connection, clock, ended_uncleanly)
    except BaseException as error:
        connection.close()
        if isinstance(error, FILE_FAULTS):
            raise refusal_for(error) from error
        raise


def _opened(folder: Path, connection: sqlite3.Connection, clock: Clock, ended_uncleanly: bool) -> Books:
    # Asked again: before the connection rolled it back, the header may tell of a migration that never held.
    version = connection.execute("pragma user_version").fetchone()[0]
    _check_version(version, books_file(folder))
    if version < newest_version():
        _check_older_schema(connection, version)
        migrate(connection, folder, shipped_migrations())
    damage = _damage(connection, ended_uncleanly)
    if damage is not None:
        # query_only, not mode=ro: a read-only connection cannot roll back the journal of an unclean end.
        connection.execute("pragma query_only = on")
    gone = BooksNotUsable("The settings of these books are gone.", "Restore a backup with «twopurse restore».", "books")
    try:
        return Books(folder, connection, clock, read_settings(connection), damage)
    except (KeyError, ValueError):
        raise gone from None
    except sqlite3.OperationalError as error:
        if damage is None:
            raise
        raise gone from error


def _check_version(version: int, path: Path) -> None:
    if version < 1:
        raise BooksNotUsable(f"{path} is no books file.", "Restore a backup, or name another folder.", "books")
    if version > newest_version():
        raise BooksNotUsable(
            f"The books in {path.parent} were written by a newer version of this program (books version {version}).",
            "Update Twopurse, then open them again.",
            "books",
        )


def _build(building: Path, clock: Clock, settings: Settings, first_rows: Callable[[Books, Writing], None]) -> None:
    connection = connect(books_file(building), create=True)
    try:
        migrate(connection, building, shipped_migrations())
        books = Books(building, connection, clock, settings)
        with books.writing() as write:
            write_settings(write, settings)
            first_rows(books, write)
    except FILE_FAULTS as error:
        raise refusal_for(error) from error
    finally:
        connection.close()


def _check_older_schema(connection: sqlite3.Connection, version: int) -> None:
    if schema_digest(connection) != shipped_digests()[version]:
        raise BooksNotUsable(
            f"The schema of these books is not that of books version {version}, which they claim to have.",
            "Restore a backup with «twopurse restore».",
            "books",
        )


def _damage(connection: sqlite3.Connection, ended_uncleanly: bool) -> str | None:
    try:
        if schema_digest(connection) != shipped_digests()[newest_version()]:
            return "the schema is not the one that this program made"
        broken = first_broken_link(connection, last=LINKS_CHECKED_AT_OPENING)
        if broken is not None:
            return f"entry {broken} is not what was sealed"
        findings = quick_findings(connection) if ended_uncleanly else unsealed_entries(connection)
        return findings[0].sentence if findings else None
    except FILE_FAULTS as error:
        if not is_broken(error):
            raise
        return "the file cannot be read through"
