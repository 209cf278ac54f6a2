"""Killed in a migration the books are wholly old or wholly new; killed while they begin, there are none or whole ones;
killed while they are restored, one of the two folders stands in its place or waits beside it."""

from __future__ import annotations

import os
import random
import shutil
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.backup import restore
from ledger.books.connection import connect
from ledger.books.migrate import migrate, newest_version
from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import prove
from tests.books import sample
from tests.books.later_versions import NEXT, ship, with_later_versions
from tests.books.plain_sql import content_of
from tests.faults.killing import READY, Say, kill_while

pytestmark = [
    pytest.mark.slow,
    pytest.mark.faults,
    pytest.mark.skipif(not hasattr(os, "fork"), reason="this system starts no process by fork"),
    pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning"),
]
CLOCK = sample.clock_on(sample.TODAY)
# So that a migration takes long enough to be hit in its middle: some 2,000 rows that come and go.
WIDE = """create table filler (id integer primary key, text text not null) strict;
insert into filler (text) select printf('%0300d', a.cents * b.line) from posting as a, posting as b;
drop table filler;
"""
MIGRATIONS = with_later_versions() | {newest_version() + 1: (*NEXT, WIDE)}


@pytest.mark.parametrize("seed", range(4))
def test_books_killed_in_a_migration_are_wholly_old_or_wholly_new(
    seed: int, made_sample: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """50 kills for each seed, 200 in all."""
    old, new, usual = migrated(made_sample, tmp_path)
    ship(monkeypatch, MIGRATIONS)
    chance, ends = random.Random(seed), Counter[str]()
    for kill in range(50):
        folder = Path(shutil.copytree(made_sample, tmp_path / f"books-{kill}"))
        killed = kill_while(opening(folder), chance.uniform(0, 2) * usual, folder)
        content = content_of(books_file(folder))
        assert content in (old, new), f"seed {seed}, kill {kill}: neither old nor new"
        assert content == new or not killed.said, f"seed {seed}, kill {kill}: opened, and still old"
        ends["new" if content == new else "old"] += 1
        ends["cut off"] += killed.cut_off
        with closing(open_books(folder, CLOCK)) as books:
            assert (books.damage, prove(books).findings) == (None, ()), f"seed {seed}, kill {kill}"
        assert content_of(books_file(folder)) == new
        shutil.rmtree(folder)
    print(f"seed {seed}: {dict(ends)}")
    assert ends["cut off"], "no kill came in the middle of the migration, so this has shown nothing"


def migrated(made_sample: Path, tmp_path: Path) -> tuple[list[object], list[object], float]:
    """The content before, the content after, and how long the way from one to the other takes here and now."""
    folder = Path(shutil.copytree(made_sample, tmp_path / "migrated"))
    began = time.monotonic()
    with closing(connect(books_file(folder))) as connection:
        migrate(connection, folder, MIGRATIONS)
    return content_of(books_file(made_sample)), content_of(books_file(folder)), time.monotonic() - began


def opening(folder: Path) -> Callable[[Say], None]:
    def act(say: Say) -> None:
        say(READY)
        open_books(folder, CLOCK).close()
        say("opened")
        time.sleep(60)

    return act


@pytest.mark.parametrize("seed", range(4))
def test_books_killed_while_they_begin_are_none_or_whole(seed: int, tmp_path: Path) -> None:
    """50 kills for each seed, 200 in all."""
    chance, ends = random.Random(seed), Counter[str]()
    began = time.monotonic()
    sample.begin(tmp_path / "tried")
    usual = time.monotonic() - began
    for kill in range(1, 51):
        folder = tmp_path / f"books-{kill}"
        killed = kill_while(beginning(folder), chance.uniform(0, 1.2) * usual, folder)
        there = books_file(folder).exists()
        assert there or not killed.said, f"seed {seed}, kill {kill}: begun, and no books there"
        ends["whole" if there else "none"] += 1
        if not there and kill % 10 == 0:
            sample.begin(folder)  # what the kill left is in nobody's way
        if books_file(folder).exists():
            with closing(open_books(folder, CLOCK)) as books:
                proof = prove(books)
                assert (books.damage, proof.findings, proof.entries) == (None, (), 2), f"seed {seed}, kill {kill}"
        shutil.rmtree(folder, ignore_errors=True)
    print(f"seed {seed}: {dict(ends)}")
    assert ends["none"], "no kill came before the end, so this has shown nothing"


def beginning(folder: Path) -> Callable[[Say], None]:
    def act(say: Say) -> None:
        say(READY)
        sample.begin(folder)
        say("begun")
        time.sleep(60)

    return act


@pytest.mark.parametrize("seed", range(2))
def test_books_killed_while_they_are_restored_stand_there_or_wait_beside(
    seed: int, made_sample: Path, made_beginning: Path, made_backup: Path, tmp_path: Path
) -> None:
    """25 kills for each seed, 50 in all. The small books are restored over by the sample."""
    chance, ends = random.Random(seed), Counter[str]()
    old = content_of(books_file(made_beginning))
    began = time.monotonic()
    restore(made_backup, Path(shutil.copytree(made_beginning, tmp_path / "tried" / "books")), CLOCK)
    usual = time.monotonic() - began
    for kill in range(25):
        folder = Path(shutil.copytree(made_beginning, tmp_path / f"kill-{kill}" / "books"))
        killed = kill_while(restoring(made_backup, folder), chance.uniform(0, 1.3) * usual, folder)
        asides = list(folder.parent.glob("books-before-*"))
        if asides:
            assert content_of(books_file(asides[0])) == old, f"seed {seed}, kill {kill}"
        if folder.exists():
            with closing(open_books(folder, CLOCK)) as books:
                proof = prove(books)
                assert proof.findings == (), f"seed {seed}, kill {kill}"
            assert proof.entries == (15 if asides else 2), f"seed {seed}, kill {kill}"
        assert folder.exists() or asides, f"seed {seed}, kill {kill}: no books anywhere"
        assert asides or not killed.said
        ends["restored" if asides and folder.exists() else "between" if asides else "as before"] += 1
    print(f"seed {seed}: {dict(ends)}")
    assert ends["as before"], "no kill came before the end, so this has shown nothing"


def restoring(file: Path, folder: Path) -> Callable[[Say], None]:
    def act(say: Say) -> None:
        say(READY)
        restore(file, folder, CLOCK)
        say("restored")
        time.sleep(60)

    return act
