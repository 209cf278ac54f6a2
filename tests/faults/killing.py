"""Processes that are killed while they write, and what the books have to show for it afterwards.

A writer says a line through a pipe for each thing that it has been told is done. Whatever it said before it was killed
has to be in the books; the books have to be whole.
"""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Callable
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path

from ledger.actions import spend, transfer
from ledger.actions.spend import SpendRequest
from ledger.actions.transfer import TransferRequest
from ledger.books.books import Books
from ledger.books.entries import Sealed
from ledger.books.opening import open_books
from ledger.books.places import books_file
from ledger.books.prove import prove
from tests.books import sample

Say = Callable[[str], None]
READY = "ready"
FAILED = "failed: "


class Lost(AssertionError):
    """What the books lack of what was acknowledged."""


@dataclass(frozen=True)
class Killed:
    """said: the lines before the kill, without the first. cut_off: whether a journal was left, so that it came in the
    middle of a transaction."""

    said: list[str]
    cut_off: bool


def kill_while(act: Callable[[Say], None], delay_seconds: float, folder: Path) -> Killed:
    """Run an act in a child and kill it so long after it said that it is ready."""
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(ours)
        run_in_child(act, theirs)
    os.close(theirs)
    with open(ours, "rb", buffering=0) as pipe:
        first = read_line(pipe.fileno())
        time.sleep(delay_seconds)
        with suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        rest = pipe.readall().decode().splitlines()
    said = [first, *rest]
    assert not [line for line in said if line.startswith(FAILED)], said
    assert first == READY, said
    return Killed(rest, books_file(folder).with_name("books.sqlite3-journal").exists())


def run_in_child(act: Callable[[Say], None], pipe: int) -> None:
    """Act and go, whatever happens: nothing of the tests' own may run in the child."""
    try:
        act(lambda line: (os.write(pipe, f"{line}\n".encode()), None)[1])
    except BaseException as error:
        os.write(pipe, f"{FAILED}{error!r}\n".encode())
    finally:
        os._exit(0)


def read_line(pipe: int) -> str:
    line = b""
    while not line.endswith(b"\n"):
        found = os.read(pipe, 1)
        if not found:
            break
        line += found
    return line.decode().rstrip("\n")


def write_entries(folder: Path, chance: random.Random, scan: Path) -> Callable[[Say], None]:
    """A writer that seals one entry after the other and says its number and digest once the act has come back."""

    def act(say: Say) -> None:
        with closing(open_books(folder, sample.clock_on(sample.TODAY))) as books:
            say(READY)
            while True:
                sealed = some_act(books, chance, scan)
                say(f"{sealed.number} {sealed.digest}")

    return act


def usual_seconds(folder: Path, chance: random.Random, scan: Path) -> float:
    """How long an act takes here and now, so that kills fall within one whatever the disk is like."""
    with closing(open_books(folder, sample.clock_on(sample.TODAY))) as books:
        began = time.monotonic()
        for _ in range(5):
            some_act(books, chance, scan)
        return (time.monotonic() - began) / 5


def acknowledge_too_early(folder: Path, chance: random.Random, scan: Path) -> Callable[[Say], None]:
    """The control: a writer that says an entry is there before its transaction is committed."""

    def act(say: Say) -> None:
        with closing(open_books(folder, sample.clock_on(sample.TODAY))) as books:
            say(READY)
            while True:
                with books.all_or_nothing() as joined:
                    sealed = some_act(joined, chance, scan)
                    say(f"{sealed.number} {sealed.digest}")
                    time.sleep(0.005)

    return act


def some_act(books: Books, chance: random.Random, scan: Path) -> Sealed:
    """A receipt, with its scan or without, or money moved; each by the act that the commands call."""
    cents = chance.randrange(1, 100_000)
    kind = chance.randrange(3)
    if kind == 0:
        return transfer.perform(books, TransferRequest("move", cents, "checking", "cash box"))
    if kind == 1:
        return spend.perform(books, SpendRequest(cents, "thread", "checking", "Corner shop"))[1]
    scan.write_bytes(chance.randbytes(2000))
    return spend.perform(books, SpendRequest(cents, "postage", "personal card", "Post", document=scan))[1]


def check_books(folder: Path, acknowledged: list[str]) -> int:
    """How many entries there are. Raises Lost for an entry that was acknowledged and is not there."""
    with closing(open_books(folder, sample.clock_on(sample.TODAY))) as books:
        assert books.damage is None, books.damage
        proof = prove(books)
        assert proof.findings == (), proof.findings
        there = {f"{row['number']} {row['digest']}" for row in books.rows("select number, digest from seal")}
        if lost := [line for line in acknowledged if line not in there]:
            raise Lost(f"{lost} of {len(acknowledged)} acknowledged")
        return proof.entries
