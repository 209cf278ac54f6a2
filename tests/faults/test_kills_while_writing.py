"""Killed at any moment, the books are whole and hold every entry that was acknowledged.

500 kills: 440 of forked writers, 60 of whole processes that run the command line.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from ledger.books.opening import open_books
from tests.books import sample
from tests.faults.killing import Lost, acknowledge_too_early, check_books, kill_while, usual_seconds, write_entries
from tests.structure.tree import CHECKOUT

pytestmark = [
    pytest.mark.slow,
    pytest.mark.faults,
    pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning"),
]
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system starts no process by fork")
FORKED, KILLS_A_SEED = range(8), 55
WHOLE, PROCESSES_A_SEED = range(4), 15
# New books every so often, since proving takes longer the more entries there are.
KILLS_A_FOLDER = 11


@needs_fork
@pytest.mark.parametrize("seed", FORKED)
def test_no_acknowledged_entry_is_lost_when_a_writer_is_killed(seed: int, made_sample: Path, tmp_path: Path) -> None:
    chance, cut_off, sealed, scan = random.Random(seed), 0, 0, tmp_path / "scan.png"
    usual = usual_seconds(Path(shutil.copytree(made_sample, tmp_path / "tried")), random.Random(seed), scan)
    for kill in range(KILLS_A_SEED):
        folder = tmp_path / f"books-{kill // KILLS_A_FOLDER}"
        if kill % KILLS_A_FOLDER == 0:
            shutil.copytree(made_sample, folder)
            acknowledged: list[str] = []
        act = write_entries(folder, random.Random(chance.random()), scan)
        killed = kill_while(act, chance.uniform(0, 3) * usual, folder)
        acknowledged += killed.said
        cut_off += killed.cut_off
        sealed += len(killed.said)
        try:
            check_books(folder, acknowledged)
        except AssertionError as error:
            raise AssertionError(f"seed {seed}, kill {kill}: {error}") from error
    print(f"seed {seed}: {KILLS_A_SEED} kills, {cut_off} in the middle of a transaction, {sealed} acknowledged")
    assert cut_off, "no kill came in the middle of a transaction, so this has shown nothing"
    assert sealed


@needs_fork
def test_a_writer_that_acknowledges_too_early_is_caught(made_sample: Path, tmp_path: Path) -> None:
    """The control: were an acknowledged entry lost, the test above would see it."""
    folder = Path(shutil.copytree(made_sample, tmp_path / "books"))

    def kill_until_one_is_lost() -> None:
        chance, acknowledged = random.Random(7), []
        for _ in range(100):
            act = acknowledge_too_early(folder, random.Random(chance.random()), tmp_path / "scan.png")
            acknowledged += kill_while(act, chance.uniform(0.005, 0.1), folder).said
            check_books(folder, acknowledged)

    with pytest.raises(Lost):
        kill_until_one_is_lost()


@pytest.mark.parametrize("seed", WHOLE)
def test_no_acknowledged_entry_is_lost_when_a_command_is_killed(seed: int, begun_folder: Path, tmp_path: Path) -> None:
    chance, acknowledged, scan = random.Random(seed), {}, tmp_path / "scan.png"
    began = time.monotonic()
    assert said_by(spend_command(begun_folder, scan, 1)) == 3
    usual = time.monotonic() - began
    for kill in range(PROCESSES_A_SEED):
        cents = chance.randrange(1, 90_000)
        scan.write_bytes(chance.randbytes(2000))
        entry = said_by(spend_command(begun_folder, scan, cents), chance.uniform(0.4, 1.3) * usual)
        if entry is not None:
            assert entry not in acknowledged
            acknowledged[entry] = cents
        try:
            check_books(begun_folder, [])
            assert {each: amounts_in(begun_folder).get(each) for each in acknowledged} == acknowledged
        except AssertionError as error:
            raise AssertionError(f"seed {seed}, kill {kill}: {error}") from error
    print(f"seed {seed}: {PROCESSES_A_SEED} kills, {len(acknowledged)} after the answer")


def amounts_in(folder: Path) -> dict[int, int]:
    """What each entry spent, in cents."""
    with closing(open_books(folder, sample.clock_on(sample.TODAY))) as books:
        return {row["entry"]: row["cents"] for row in books.rows("select entry, cents from posting where line = 1")}


def spend_command(folder: Path, scan: Path, cents: int) -> list[str]:
    scan.touch()
    amount = f"{cents // 100}.{cents % 100:02d}"
    words = ["spend", amount, "--category", "thread", "--from", "checking", "--who", "Shop"]
    place = ["--books", str(folder), "--on", sample.TODAY.isoformat(), "--json"]
    return [
        sys.executable,
        "-m",
        "ledger.cli",
        *words,
        *(["--document", str(scan)] if scan.stat().st_size else []),
        *place,
    ]


def said_by(command: list[str], killed_after_seconds: float | None = None) -> int | None:
    """The entry that a command acknowledged, None where it was killed before it did."""
    process = subprocess.Popen(command, cwd=CHECKOUT, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    if killed_after_seconds is not None:
        time.sleep(killed_after_seconds)
        process.kill()
    said, errors = process.communicate()
    assert not errors, errors.decode()
    return int(json.loads(said)["entry"]) if said.endswith(b"}\n") else None
