"""Books begin whole or not at all, and never over others."""

from __future__ import annotations

import os
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Settings
from ledger.books.connection import read_version
from ledger.books.migrate import newest_version
from ledger.books.opening import begin_books, open_books
from ledger.books.places import SUBFOLDERS, books_file
from ledger.books.prove import prove
from ledger.errors import BooksNotUsable, NotPossible
from ledger.money import Currency
from tests.books import sample
from tests.books.calling import twopurse
from tests.books.folders import tree

TODAY = sample.TODAY.isoformat()
SETTINGS = Settings("New", Currency("USD", 2), "en_US", "in", date(2026, 1, 5))


def begin(folder: Path) -> None:
    begin_books(folder, sample.clock_on(sample.BEGUN), SETTINGS, lambda books, write: None).close()


def test_new_books_are_whole_and_their_folders_stand_ready(tmp_path: Path) -> None:
    begin(tmp_path / "a" / "b")
    assert sorted(each.name for each in (tmp_path / "a" / "b").iterdir()) == sorted(["books.sqlite3", *SUBFOLDERS])
    assert read_version(books_file(tmp_path / "a" / "b")) == newest_version()
    with closing(open_books(tmp_path / "a" / "b", sample.clock_on(sample.BEGUN))) as books:
        assert books.settings == SETTINGS
        assert prove(books).ok


@pytest.mark.skipif(os.name != "posix", reason="Windows profiles have their own rules")
def test_files_and_folders_are_for_nobody_but_their_owner(tmp_path: Path) -> None:
    os.umask(0)
    begin(tmp_path / "books")
    answered = twopurse(tmp_path / "books", TODAY, "backup")
    assert answered.code == 0
    modes = {path.stat().st_mode & 0o777 for path in (tmp_path / "books").rglob("*") if path.is_file()}
    folders = {path.stat().st_mode & 0o777 for path in [tmp_path / "books", *(tmp_path / "books").glob("*/")]}
    assert (modes, folders) == ({0o600}, {0o700})


def test_a_folder_with_other_files_in_it_may_hold_books(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("dear", encoding="utf-8")
    begin(tmp_path)
    assert (tmp_path / "letter.txt").exists()


def test_books_that_stand_are_never_written_over(sample_folder: Path) -> None:
    before = tree(sample_folder)
    with pytest.raises(NotPossible, match="There are books in .* already. Name another folder"):
        begin(sample_folder)
    assert twopurse(sample_folder, TODAY, "new", "--name", "Other").code == 1
    assert tree(sample_folder) == before


def test_books_that_came_in_between_are_not_written_over_either(tmp_path: Path) -> None:
    """Two windows begin books in one folder: the second to finish is told, and the first keeps what it wrote."""
    folder = tmp_path / "books"

    def another_window_is_faster(books: object, write: object) -> None:
        sample.begin(folder)

    with pytest.raises(NotPossible, match="There are books in .* already"):
        begin_books(folder, sample.clock_on(sample.BEGUN), SETTINGS, another_window_is_faster)
    with closing(open_books(folder, sample.clock_on(sample.BEGUN))) as books:
        assert books.settings.name == "Alder Lane"
        assert prove(books).entries == 2
    assert sorted(each.name for each in folder.iterdir()) == sorted(["books.sqlite3", *SUBFOLDERS])


def test_nothing_stands_there_where_the_first_rows_are_refused(tmp_path: Path) -> None:
    def refuse(books: object, write: object) -> None:
        raise NotPossible("No.", "Never mind.")

    with pytest.raises(NotPossible, match="No."):
        begin_books(tmp_path / "books", sample.clock_on(sample.BEGUN), SETTINGS, refuse)
    assert list((tmp_path / "books").iterdir()) == []


@pytest.mark.parametrize("where", ["file", "file/inside"])
def test_a_folder_that_cannot_be_made_is_a_sentence(where: str, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(BooksNotUsable, match="cannot be written to, so nothing was written"):
        begin(tmp_path / where)
    assert twopurse(tmp_path / where, TODAY, "new", "--name", "Other").code == 1
    assert (tmp_path / "file").read_bytes() == b""
