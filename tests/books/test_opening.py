"""What cannot be opened is refused with a sentence of its own and left as it is."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books import connection as connecting
from ledger.books.balances import balance
from ledger.books.books import Settings
from ledger.books.connection import APPLICATION_ID, connect
from ledger.books.migrate import newest_version
from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import prove
from ledger.errors import BooksNotUsable
from ledger.money import Currency
from tests.books import sample
from tests.books.calling import twopurse
from tests.books.folders import tree

TODAY = sample.TODAY.isoformat()
ACTS = (
    ("chart",),
    ("prove",),
    ("backup",),
    ("spend", "3.00", "--category", "thread", "--from", "checking", "--who", "Shop"),
)


def header(version: int = newest_version(), application: int = APPLICATION_ID) -> bytes:
    """The first hundred bytes of a file that says it is one of ours."""
    content = bytearray(b"SQLite format 3\0".ljust(100, b"\0"))
    content[16:24] = b"\x10\0\x01\x01\0\x40\x20\x20"
    content[60:64] = version.to_bytes(4)
    content[68:72] = application.to_bytes(4)
    return bytes(content)


def with_pragma(pragma: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        with closing(sqlite3.connect(books_file(folder))) as connection:
            connection.execute(f"pragma {pragma}")

    return change


def put(content: bytes) -> Callable[[Path], None]:
    return lambda folder: (books_file(folder).write_bytes(content), None)[1]


def no_folder(folder: Path) -> None:
    shutil.rmtree(folder)


def folder_that_is_a_file(folder: Path) -> None:
    shutil.rmtree(folder)
    folder.write_bytes(b"a file")


def file_that_is_a_folder(folder: Path) -> None:
    books_file(folder).unlink()
    books_file(folder).mkdir()


def another_programs_database(folder: Path) -> None:
    books_file(folder).unlink()
    with closing(sqlite3.connect(books_file(folder))) as connection:
        connection.execute("create table contacts (name text)")
        connection.commit()


def cut_in_half(folder: Path) -> None:
    content = books_file(folder).read_bytes()
    books_file(folder).write_bytes(content[: len(content) // 8192 * 4096])


NOT_OPENED: dict[str, tuple[Callable[[Path], None], str]] = {
    "no folder": (no_folder, "There are no books in .*books. Begin some there with «twopurse new»"),
    "a folder without books": (
        lambda folder: books_file(folder).unlink(),
        "There are no books in .*books. Begin some there with «twopurse new»",
    ),
    "a folder that is a file": (folder_that_is_a_file, "The books in .*books cannot be read. Check who owns"),
    "a file that is a folder": (file_that_is_a_folder, "The books in .*books cannot be read. Check who owns"),
    "size zero": (put(b""), "The books file .*sqlite3 is empty. Restore a backup with «twopurse restore»"),
    "junk": (put(b"once upon a time\n" * 300), "sqlite3 is no books file. Restore a backup, or name another"),
    "a few letters": (put(b"x"), "sqlite3 is no books file. Restore a backup, or name another"),
    "half a header": (put(header()[:60]), "sqlite3 is no books file. Restore a backup, or name another"),
    "a header and then junk": (
        put(header() + b"once upon a time\n" * 300),
        "The books file is broken. Restore a backup with «twopurse restore»",
    ),
    "a header and nothing else": (put(header()), "The books file is broken. Restore a backup"),
    "another program's database": (another_programs_database, "is a database of another program. Name the folder"),
    "another program's mark": (with_pragma("application_id = 7"), "is a database of another program. Name the folder"),
    "a newer version": (
        with_pragma("user_version = 999"),
        r"newer version of this program \(books version 999\). Update",
    ),
    "an older version than it has": (
        with_pragma("user_version = 1"),
        "The schema of these books is not that of books version 1, which they claim to have. Restore a backup",
    ),
    "no version": (with_pragma("user_version = 0"), "sqlite3 is no books file. Restore a backup"),
    "half of the file": (cut_in_half, "The books file is broken. Restore a backup with «twopurse restore»"),
}


@pytest.fixture
def folder(sample_folder: Path, request: pytest.FixtureRequest) -> Path:
    NOT_OPENED[request.getfixturevalue("name")][0](sample_folder)
    return sample_folder


@pytest.mark.parametrize("name", NOT_OPENED)
def test_what_cannot_be_opened_has_its_sentence(name: str, folder: Path) -> None:
    with pytest.raises(BooksNotUsable, match=NOT_OPENED[name][1]) as refusal:
        open_books(folder, sample.clock_on(sample.TODAY))
    assert refusal.value.field == "books"
    assert refusal.value.what.endswith(".")
    assert refusal.value.do.endswith(".")


@pytest.mark.parametrize("name", NOT_OPENED)
def test_every_command_refuses_it_and_writes_nothing(name: str, folder: Path) -> None:
    before = standing(folder)
    for words in ACTS:
        answered = twopurse(folder, TODAY, *words)
        assert answered.code == 1, words
        assert list(answered.data) == ["refused"]
        assert f"{answered.data['refused']['what']} {answered.data['refused']['do']}" == answered.said
        with pytest.raises(BooksNotUsable) as refusal:
            open_books(folder, sample.clock_on(sample.TODAY))
        assert answered.said == str(refusal.value)
    assert standing(folder) == before


def test_the_sentences_differ_by_what_is_wrong() -> None:
    assert len({sentence for _, sentence in NOT_OPENED.values()}) >= 8


def test_sound_books_open_with_their_settings(sample_folder: Path) -> None:
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert books.damage is None
        assert books.settings == Settings("Alder Lane", Currency("USD", 2), "en_US", "in", sample.BEGUN)
        assert (books.today, books.currency.code, books.folder) == (sample.TODAY, "USD", sample_folder)


def test_opening_and_looking_change_no_byte(sample_folder: Path) -> None:
    before = tree(sample_folder)
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        prove(books)
        balance(books, "checking", sample.TODAY)
    assert tree(sample_folder) == before


@pytest.mark.parametrize("name", ["50 % off?#&=;", "Bücher für Anna", "books.with.dots", " leading and trailing "])
def test_a_folder_may_have_any_name(name: str, sample_folder: Path) -> None:
    if os.name == "nt" and set(name) & set('?*<>|"'):
        pytest.skip("Windows takes no such name")
    moved = sample_folder.rename(sample_folder.with_name(name.strip() if os.name == "nt" else name))
    with closing(open_books(moved, sample.clock_on(sample.TODAY))) as books:
        assert prove(books).ok


def test_a_connection_keeps_the_laws(sample_folder: Path) -> None:
    with closing(connect(books_file(sample_folder))) as connection:
        kept = {
            "foreign_keys": 1,
            "recursive_triggers": 1,
            "trusted_schema": 0,
            "cell_size_check": 1,
            "secure_delete": 1,
            "synchronous": 3,
            "journal_mode": "delete",
        }
        assert {name: connection.execute(f"pragma {name}").fetchone()[0] for name in kept} == kept
        assert connection.isolation_level is None


@pytest.mark.parametrize(
    "statement",
    [
        "attach ':memory:' as other",
        "attach 'elsewhere.sqlite3' as other",
        "detach main",
        "pragma writable_schema = on",
        "PRAGMA Writable_Schema(1)",
        "vacuum into 'elsewhere.sqlite3'",
    ],
)
def test_a_connection_reaches_no_other_file_and_not_its_own_schema(statement: str, sample_folder: Path) -> None:
    with closing(connect(books_file(sample_folder))) as connection:
        with pytest.raises(sqlite3.DatabaseError, match="not authorized|authoriz"):
            connection.execute(statement)
        assert connection.execute("pragma writable_schema").fetchone()[0] == 0


def test_books_that_another_program_left_in_another_journal_mode_are_put_right(sample_folder: Path) -> None:
    """With a journal of that kind the last entries lie beside the file, and a copy on a stick loses them."""
    with closing(sqlite3.connect(books_file(sample_folder))) as connection:
        assert connection.execute("pragma journal_mode = wal").fetchone()[0] == "wal"
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        with books.writing() as write:
            write.add("answer", item="zoning", state="open", on_date=TODAY)
        assert not books_file(sample_folder).with_name("books.sqlite3-wal").exists()
        assert prove(books).ok
    assert books_file(sample_folder).read_bytes()[18:20] == b"\1\1"


def test_a_sqlite_that_is_too_old_is_refused(sample_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(connecting, "OLDEST_SQLITE", (99, 0, 0))
    with pytest.raises(BooksNotUsable, match="is too old. Use a Python whose SQLite is 3.37 or newer"):
        open_books(sample_folder, sample.clock_on(sample.TODAY))


def test_settings_that_cannot_be_read_keep_the_books_shut(sample_folder: Path) -> None:
    with closing(sqlite3.connect(books_file(sample_folder))) as connection:
        connection.execute("drop trigger setting_never_changes")
        connection.execute("update setting set value = 'some day' where key = 'begun_on'")
        connection.commit()
    with pytest.raises(BooksNotUsable, match="settings of these books are gone. Restore a backup"):
        open_books(sample_folder, sample.clock_on(sample.TODAY))


def standing(folder: Path) -> dict[str, bytes] | bytes | None:
    if not folder.exists():
        return None
    return tree(folder) if folder.is_dir() else folder.read_bytes()
