"""The one way to connect to a books file. Nothing else in the program makes a connection."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from pathlib import Path

from ledger.errors import BooksBusy, BooksNotUsable, Refused
from ledger.text import folded

APPLICATION_ID = int.from_bytes(b"2prs")
OLDEST_SQLITE = (3, 37, 0)
BUSY_SECONDS = 5
_MAGIC = b"SQLite format 3\0"
_HEADER_LENGTH = 100

_PRAGMAS = (
    "foreign_keys = on",
    "recursive_triggers = on",
    "trusted_schema = off",
    "cell_size_check = on",
    "secure_delete = on",
    # EXTRA, not FULL: FULL lost the last acknowledged commit in some power cuts; and no WAL, whose side files get
    # lost when the file is copied to a stick or a synced folder.
    "synchronous = extra",
    "temp_store = memory",
    "journal_mode = delete",
)
# What SQLite reports of a file, and what Python makes of a report that quotes broken text out of it.
FILE_FAULTS = (sqlite3.Error, UnicodeDecodeError)


def read_version(path: Path) -> int:
    """The schema version in the header of a books file, read before anything connects to it.

    Raises BooksNotUsable, with a sentence each for: no file, no permission, size zero, junk, another program's file.
    Where a commit was cut off this is what it left: ask the connection again once it has rolled that back.
    """
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER_LENGTH)
    except FileNotFoundError:
        raise BooksNotUsable(
            f"There are no books in {path.parent}.",
            "Begin some there with «twopurse new», or name another folder with --books.",
            "books",
        ) from None
    except OSError:
        raise BooksNotUsable(
            f"The books in {path.parent} cannot be read.", "Check who owns the folder and may read it.", "books"
        ) from None
    if not header:
        raise BooksNotUsable(f"The books file {path} is empty.", "Restore a backup with «twopurse restore».", "books")
    if not header.startswith(_MAGIC) or len(header) < _HEADER_LENGTH:
        raise BooksNotUsable(f"{path} is no books file.", "Restore a backup, or name another folder.", "books")
    if int.from_bytes(header[68:72]) != APPLICATION_ID:
        raise BooksNotUsable(
            f"{path} is a database of another program.", "Name the folder that holds your books.", "books"
        )
    return int.from_bytes(header[60:64])


def connect(path: Path, *, create: bool = False) -> sqlite3.Connection:
    """A connection that keeps the laws of the books: foreign keys on, no attaching, explicit transactions alone."""
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise BooksNotUsable(
            f"SQLite {sqlite3.sqlite_version} is too old.", "Use a Python whose SQLite is 3.37 or newer.", None
        )
    mode = "rwc" if create else "rw"
    location = f"{path.resolve().as_uri()}?mode={mode}"
    try:
        connection = sqlite3.connect(
            location, uri=True, isolation_level=None, timeout=BUSY_SECONDS, cached_statements=256
        )
    except sqlite3.Error as error:
        raise refusal_for(error) from error
    connection.row_factory = sqlite3.Row
    connection.text_factory = _text_as_it_stands
    connection.create_function("folded", 1, _folded, deterministic=True)
    try:
        for pragma in _PRAGMAS:
            connection.execute(f"pragma {pragma}").fetchall()
        connection.set_authorizer(_no_attaching)
    except FILE_FAULTS as error:
        connection.close()
        raise refusal_for(error) from error
    return connection


def connect_in_memory() -> sqlite3.Connection:
    """A scratch database, to make the shipped schema in and compare."""
    return sqlite3.connect(":memory:", isolation_level=None)


def copy_into(connection: sqlite3.Connection, target: Path) -> None:
    """A compact copy of the whole file, made by VACUUM INTO, which attaches its target and nothing else."""
    looking_only = connection.execute("pragma query_only").fetchone()[0]
    connection.set_authorizer(_attaching_only(target))
    try:
        connection.execute("pragma query_only = off")  # VACUUM INTO counts as writing, though it changes nothing here
        connection.execute("vacuum into ?", (str(target),))
    except FILE_FAULTS as error:
        raise refusal_for(error) from error
    finally:
        connection.execute(f"pragma query_only = {looking_only}")
        connection.set_authorizer(_no_attaching)


def refusal_for(error: sqlite3.Error | UnicodeDecodeError) -> Refused:
    """The sentence for what SQLite reports of the disk, a lock or a broken file; a defect of ours is raised again."""
    name = _name_of(error)
    if is_broken(error):
        return BooksNotUsable("The books file is broken.", "Restore a backup with «twopurse restore».", "books")
    if is_busy(error):
        return BooksBusy("Another window is writing.", "Try again.")
    if name in ("SQLITE_FULL", "SQLITE_IOERR_WRITE", "SQLITE_IOERR_TRUNCATE"):
        return BooksNotUsable("The disk is full, so nothing was written.", "Make room on it and try again.", "books")
    if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_AUTH")):
        return BooksNotUsable(
            "The books folder cannot be written to, so nothing was written.",
            "Check who owns the folder, and that it is not on a read-only disk.",
            "books",
        )
    if name.startswith("SQLITE_IOERR"):
        return BooksNotUsable(
            "The disk does not answer, so nothing was written.", "Check the disk and try again.", "books"
        )
    raise error


def is_broken(error: sqlite3.Error | UnicodeDecodeError) -> bool:
    """Whether it tells of a file that cannot be read, rather than of a lock, the disk or a statement of ours."""
    return isinstance(error, UnicodeDecodeError) or _name_of(error).startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB"))


def is_busy(error: sqlite3.Error | UnicodeDecodeError) -> bool:
    return _name_of(error).startswith(("SQLITE_BUSY", "SQLITE_LOCKED"))


def _name_of(error: Exception) -> str:
    return getattr(error, "sqlite_errorname", "") or ""


def refusal_for_file(error: OSError, folder: Path) -> BooksNotUsable:
    """The sentence for what the system reports while a file is written."""
    import errno

    if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return BooksNotUsable("The disk is full, so nothing was written.", "Make room on it and try again.", "books")
    if error.errno == errno.ENAMETOOLONG:
        return BooksNotUsable(
            "The name is too long for this disk, so nothing was written.", "Give a shorter one.", "books"
        )
    return BooksNotUsable(
        f"The folder {folder} cannot be written to, so nothing was written.",
        "Check who owns the folder, and that it is not on a read-only disk.",
        "books",
    )


def _text_as_it_stands(content: bytes) -> str:
    """Text, also where a damaged file holds bytes that are none: the digest then tells which row it is."""
    return content.decode("utf-8", "surrogateescape")


def _folded(value: object) -> str | None:
    return None if value is None else folded(str(value))


_Authorizer = Callable[[int, str | None, str | None, str | None, str | None], int]


def _no_attaching(action: int, first: str | None, second: str | None, *_: str | None) -> int:
    if action in (sqlite3.SQLITE_ATTACH, sqlite3.SQLITE_DETACH):
        return sqlite3.SQLITE_DENY
    if action == sqlite3.SQLITE_PRAGMA and (first or "").casefold() == "writable_schema" and second is not None:
        return sqlite3.SQLITE_DENY
    return sqlite3.SQLITE_OK


def _attaching_only(target: Path) -> _Authorizer:
    def authorize(action: int, first: str | None, second: str | None, *rest: str | None) -> int:
        if action == sqlite3.SQLITE_ATTACH and first is not None and os.path.abspath(first) == os.path.abspath(target):
            return sqlite3.SQLITE_OK
        if action == sqlite3.SQLITE_DETACH:
            return sqlite3.SQLITE_OK
        return _no_attaching(action, first, second)

    return authorize
