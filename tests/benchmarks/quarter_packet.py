"""The totals of a quarter with 500 entries, and its packet, in books of 100,000 entries."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import TypeVar

from ledger.actions import start_up
from ledger.actions.build_packet import PacketRequest, perform
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.commands.totals import totals_data
from ledger.periods import parse_period
from tests.workshop import begin, on_day

ENTRIES, IN_THE_QUARTER = 100_000, 500
FIRST, LAST = date(2020, 1, 1), date(2026, 4, 9)
QUARTER = parse_period("2026-Q1")
Done = TypeVar("Done")


def measure() -> Iterator[str]:
    with tempfile.TemporaryDirectory(prefix="twopurse-bench-") as place:
        books = on_day(begin(Path(place) / "books", FIRST, opening_cents=500_00), LAST)
        fill(books)
        start_up.perform(books, start_up.OpenedRequest(FIRST))
        for words, work in (
            ("the totals", lambda: totals_data(books, QUARTER, False)),
            ("the totals once more", lambda: totals_data(books, QUARTER, False)),
            ("the packet", lambda: perform(books, PacketRequest(QUARTER, Path(place) / "out"))),
        ):
            seconds, processor = timed(work)
            yield f"{words}: {seconds:.2f} s, {processor:.2f} s of it on the processor"
        books.close()


def timed(work: Callable[[], Done]) -> tuple[float, float]:
    started, used = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - started, time.process_time() - used


def fill(books: Books) -> None:
    """Small purchases, most of them before the quarter and some in it, in one transaction."""
    accounts = read_accounts(books)
    before = ENTRIES - IN_THE_QUARTER
    days = (QUARTER.start - FIRST).days
    with books.writing() as write:
        for number in range(ENTRIES):
            in_quarter = number - before
            day = FIRST + timedelta(days=number * days // before)
            if in_quarter >= 0:
                day = QUARTER.start + timedelta(days=in_quarter * 90 // IN_THE_QUARTER)
            cents = 1_00 + number * 37 % 199_99
            lines = postings((accounts["thread"], cents), (accounts["checking"], -cents))
            seal(books, write, Draft(on=day, kind="spend", text=f"Purchase {number}", postings=lines))
