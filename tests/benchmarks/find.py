"""What a key takes while one finds as one types, in books of 100,000 entries, and what opening the search takes."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Iterator
from datetime import date
from functools import partial
from pathlib import Path

from ledger.actions.find import Finder, plain_cents
from ledger.books.books import Books
from tests.benchmarks.quarter_packet import fill, timed
from tests.workshop import begin, on_day

FIRST, LAST = date(2020, 1, 1), date(2026, 4, 9)
# From a letter that every entry has, to words that none has.
TYPED = ("p", "pu", "purch", "purchase", "purchase 5", "purchase 99", "purchase 12345", "31.80", "nowhere", "thread x")


def measure() -> Iterator[str]:
    with tempfile.TemporaryDirectory(prefix="twopurse-bench-") as place:
        books = on_day(begin(Path(place) / "books", FIRST, opening_cents=500_00), LAST)
        fill(books)
        yield from figures(books)
        books.close()


def figures(books: Books) -> Iterator[str]:
    finder, read_cents = Finder(), plain_cents(books)
    for words in ("the first time", "once more"):
        slices = [seconds * 1000 for seconds in _slices(finder, books)]
        yield f"read {words}: {sum(slices):.0f} ms in {len(slices)} slices, the longest {max(slices):.0f} ms"
    for typed in TYPED:
        seconds, _ = timed(partial(finder.find, books, typed, read_cents))
        yield f"«{typed}»: {seconds * 1000:.1f} ms, {len(finder.find(books, typed, read_cents))} found"


def _slices(finder: Finder, books: Books) -> Iterator[float]:
    steps, is_more = finder.read_on(books), True
    while is_more:
        started = time.perf_counter()
        is_more = next(steps, True) is None
        yield time.perf_counter() - started
