"""Two writers on one folder: no gap, nothing lost, and whoever waits too long is told so."""

from __future__ import annotations

import os
import random
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import prove
from ledger.errors import BooksBusy
from tests.books import sample
from tests.books.calling import twopurse
from tests.books.plain_sql import content_of
from tests.faults.killing import FAILED, READY, Say, check_books, kill_while, run_in_child, some_act, write_entries
from tests.structure.tree import CHECKOUT

TODAY = sample.TODAY.isoformat()
SPEND = ("spend", "3.00", "--category", "thread", "--from", "checking", "--who", "Shop")


def forked(test: Callable[..., None]) -> Callable[..., None]:
    """The marks of a test that runs writers of its own."""
    for mark in (
        pytest.mark.slow,
        pytest.mark.faults,
        pytest.mark.skipif(not hasattr(os, "fork"), reason="this system starts no process by fork"),
        pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning"),
    ):
        test = mark(test)
    return test


@forked
@pytest.mark.parametrize("writers", [2, 4])
def test_writers_at_once_leave_no_gap_and_lose_nothing(writers: int, sample_folder: Path, tmp_path: Path) -> None:
    pipes = []
    for number in range(writers):
        ours, theirs = os.pipe()
        if os.fork() == 0:
            run_in_child(lambda say, number=number: write_some(say, sample_folder, number, tmp_path), theirs)
        os.close(theirs)
        pipes.append(ours)
    said = [read_all(pipe) for pipe in pipes]
    for _ in pipes:
        os.wait()
    assert [line for lines in said for line in lines if line.startswith(FAILED)] == []
    acknowledged = [line for lines in said for line in lines if line != READY]
    assert [len(lines) for lines in said] == [31] * writers
    assert check_books(sample_folder, acknowledged) == 15 + 30 * writers
    assert sorted(int(line.split()[0]) for line in acknowledged) == list(range(16, 16 + 30 * writers))


def write_some(say: Say, folder: Path, number: int, tmp_path: Path) -> None:
    chance = random.Random(number)
    with closing(open_books(folder, sample.clock_on(sample.TODAY))) as books:
        say(READY)
        for _ in range(30):
            sealed = some_act(books, chance, tmp_path / f"scan-{number}.png")
            say(f"{sealed.number} {sealed.digest}")


def read_all(pipe: int) -> list[str]:
    with open(pipe, "rb", buffering=0) as opened:
        return opened.readall().decode().splitlines()


@forked
def test_a_writer_goes_on_while_the_other_is_killed_again_and_again(sample_folder: Path, tmp_path: Path) -> None:
    """40 kills. What one leaves half done, the other rolls back."""
    chance, acknowledged = random.Random(3), []
    ours, theirs = os.pipe()
    steady = os.fork()
    if steady == 0:
        act = write_entries(sample_folder, random.Random(99), tmp_path / "steady.png")
        run_in_child(act, theirs)
    os.close(theirs)
    for _ in range(40):
        act = write_entries(sample_folder, random.Random(chance.random()), tmp_path / "killed.png")
        acknowledged += kill_while(act, chance.uniform(0, 0.06), sample_folder).said
    os.kill(steady, 9)
    os.waitpid(steady, 0)
    steadily = read_all(ours)
    assert not [line for line in steadily if line.startswith(FAILED)], steadily[-1]
    assert len(steadily) > 5
    check_books(sample_folder, acknowledged + steadily[1:])


@pytest.mark.slow
@pytest.mark.faults
def test_commands_at_once_leave_no_gap(begun_folder: Path) -> None:
    command = [sys.executable, "-m", "ledger.cli", *SPEND, "--books", str(begun_folder), "--on", TODAY]
    for _ in range(3):
        running = [subprocess.Popen(command, cwd=CHECKOUT, stdout=subprocess.DEVNULL) for _ in range(4)]
        assert [process.wait() for process in running] == [0] * 4
    assert check_books(begun_folder, []) == 14


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("ledger.books.connection.BUSY_SECONDS", 0.05)


@pytest.mark.usefixtures("impatient")
def test_whoever_waits_too_long_for_the_lock_is_told_and_nothing_is_written(sample_folder: Path) -> None:
    before = content_of(books_file(sample_folder))
    with closing(sqlite3.connect(books_file(sample_folder), isolation_level=None)) as other:
        other.execute("begin immediate")
        answered = twopurse(sample_folder, TODAY, *SPEND)
        assert (answered.code, answered.said) == (1, "Another window is writing. Try again.")
        assert twopurse(sample_folder, TODAY, "chart").code == 0, "looking goes on beside a writer"
        other.execute("rollback")
    assert content_of(books_file(sample_folder)) == before
    assert twopurse(sample_folder, TODAY, *SPEND).code == 0


@pytest.mark.usefixtures("impatient")
@pytest.mark.parametrize("words", [SPEND, ("chart",), ("prove",), ("backup",), ("entries",)])
def test_while_another_window_commits_nobody_looks_either(words: tuple[str, ...], sample_folder: Path) -> None:
    with closing(sqlite3.connect(books_file(sample_folder), isolation_level=None)) as other:
        other.execute("begin exclusive")
        answered = twopurse(sample_folder, TODAY, *words)
        assert (answered.code, answered.said) == (1, "Another window is writing. Try again.")
        other.execute("rollback")


@pytest.mark.usefixtures("impatient")
def test_a_commit_waits_for_whoever_is_looking_and_gives_up_with_a_sentence(sample_folder: Path) -> None:
    before = content_of(books_file(sample_folder))
    with closing(sqlite3.connect(books_file(sample_folder), isolation_level=None)) as other:
        rows = other.execute("select * from posting")
        rows.fetchone()
        answered = twopurse(sample_folder, TODAY, *SPEND, "--document", str(CHECKOUT / "pyproject.toml"))
        assert (answered.code, answered.said) == (1, "Another window is writing. Try again.")
        rows.close()
    assert content_of(books_file(sample_folder)) == before
    assert len(list((sample_folder / "documents").iterdir())) == 1


@pytest.mark.usefixtures("impatient")
def test_proving_does_not_take_a_lock_for_damage(sample_folder: Path) -> None:
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        with closing(sqlite3.connect(books_file(sample_folder), isolation_level=None)) as other:
            other.execute("begin exclusive")
            with pytest.raises(BooksBusy):
                prove(books)
            other.execute("rollback")
        assert prove(books).ok


def test_open_books_tell_whether_another_window_has_written(sample_folder: Path) -> None:
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        before = books.change_mark()
        assert books.change_mark() == before
        assert twopurse(sample_folder, TODAY, *SPEND).code == 0
        assert books.change_mark() != before
