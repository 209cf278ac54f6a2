"""Books to try things on: each test has its own copy of a folder that is made once."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.backup import back_up
from ledger.books.books import Books
from ledger.books.opening import open_books
from ledger.books.places import books_file
from tests.books import sample


@pytest.fixture(scope="session")
def made_sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sample") / "books"
    sample.build(folder)
    return folder


@pytest.fixture(scope="session")
def made_beginning(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("beginning") / "books"
    sample.begin(folder)
    return folder


@pytest.fixture
def sample_folder(made_sample: Path, tmp_path: Path) -> Path:
    """A folder with a row in every table."""
    return Path(shutil.copytree(made_sample, tmp_path / "books"))


@pytest.fixture
def begun_folder(made_beginning: Path, tmp_path: Path) -> Path:
    """A folder with two entries."""
    return Path(shutil.copytree(made_beginning, tmp_path / "books"))


@pytest.fixture(scope="session")
def attacked_file(made_sample: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a sample that stands while it is attacked: whoever attacks it leaves every byte as it was."""
    return books_file(Path(shutil.copytree(made_sample, tmp_path_factory.mktemp("attacked") / "books")))


@pytest.fixture
def books(sample_folder: Path) -> Iterator[Books]:
    """The books of `sample_folder`, open on the day after the last act."""
    opened = open_books(sample_folder, sample.clock_on(sample.TODAY))
    yield opened
    opened.close()


@pytest.fixture
def begun(begun_folder: Path) -> Iterator[Books]:
    """The books of `begun_folder`, open on the day on which they began."""
    opened = open_books(begun_folder, sample.clock_on(sample.BEGUN))
    yield opened
    opened.close()


@pytest.fixture
def plain(sample_folder: Path) -> Iterator[sqlite3.Connection]:
    """The file of `sample_folder`, connected without us: foreign keys off, recursive triggers off."""
    connection = sqlite3.connect(books_file(sample_folder), isolation_level=None)
    yield connection
    connection.close()


@pytest.fixture(scope="session")
def made_backup(made_sample: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("backup") / "backup.zip"
    with closing(open_books(made_sample, sample.clock_on(sample.TODAY))) as books:
        back_up(books, target)
    return target
