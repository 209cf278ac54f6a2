"""What a program that ended in the middle leaves behind: a journal to roll back, or one that means nothing."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import prove
from tests.books import sample
from tests.books.calling import twopurse
from tests.books.plain_sql import content_of

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(not hasattr(os, "fork"), reason="a journal is left by a child that goes without a word"),
    pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning"),
]
TODAY = sample.TODAY.isoformat()


def journal_of(folder: Path) -> Path:
    return books_file(folder).with_name("books.sqlite3-journal")


def end_in_the_middle(folder: Path) -> None:
    """Pages of a transaction are in the file, none is committed, and whoever wrote them is gone."""
    child = os.fork()
    if child == 0:
        connection = sqlite3.connect(books_file(folder), isolation_level=None)
        connection.execute("pragma cache_size = 1")
        connection.execute("begin")
        for trigger in ("account_never_changes", "posting_never_changes"):
            connection.execute(f"drop trigger {trigger}")
        connection.execute("update posting set cents = -cents")
        connection.execute("update account set name = name || ' of old'")
        connection.execute("create table filler (x)")
        connection.execute("insert into filler select randomblob(3000) from posting")
        os._exit(0)
    os.waitpid(child, 0)


@pytest.fixture
def broken_off(sample_folder: Path) -> Path:
    end_in_the_middle(sample_folder)
    return sample_folder


def test_the_file_alone_is_half_written_and_the_journal_is_there(broken_off: Path, made_sample: Path) -> None:
    """Otherwise the tests below would show nothing."""
    assert journal_of(broken_off).stat().st_size > 4096
    journal_of(broken_off).rename(broken_off / "aside")
    assert books_file(broken_off).read_bytes() != books_file(made_sample).read_bytes()
    assert not twopurse(broken_off, TODAY, "prove").data.get("ok")


def test_opening_rolls_back_what_was_half_written(broken_off: Path, made_sample: Path) -> None:
    with closing(open_books(broken_off, sample.clock_on(sample.TODAY))) as books:
        assert books.damage is None
        assert prove(books).findings == ()
    assert not journal_of(broken_off).exists()
    assert content_of(books_file(broken_off)) == content_of(books_file(made_sample))


def test_a_command_that_looks_rolls_it_back_too(broken_off: Path, made_sample: Path) -> None:
    expected = twopurse(Path(shutil.copytree(made_sample, broken_off.with_name("sound"))), TODAY, "chart")
    assert twopurse(broken_off, TODAY, "chart").data == expected.data
    assert content_of(books_file(broken_off)) == content_of(books_file(made_sample))


@pytest.mark.parametrize("content", [b"", b"junk" * 2000, b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + b"\0" * 504])
def test_a_journal_that_means_nothing_is_in_nobodys_way(content: bytes, sample_folder: Path) -> None:
    before = content_of(books_file(sample_folder))
    journal_of(sample_folder).write_bytes(content)
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert books.damage is None
        assert prove(books).findings == ()
    assert content_of(books_file(sample_folder)) == before
    spent = ("spend", "3.00", "--category", "thread", "--from", "checking", "--who", "Shop")
    assert twopurse(sample_folder, TODAY, *spent).code == 0
    assert twopurse(sample_folder, TODAY, "prove").data["ok"]


def test_after_an_unclean_end_the_scans_are_run_at_opening(sample_folder: Path) -> None:
    with closing(sqlite3.connect(books_file(sample_folder))) as connection:
        connection.execute("update month_total set cents = cents + 1 where account = 1")
        connection.commit()
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert books.damage is None, "a running sum is looked at by proving, or after an unclean end"
    journal_of(sample_folder).write_bytes(b"")
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert (books.damage or "").startswith("month totals: the total of account 1 in ")
