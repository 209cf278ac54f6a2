"""The list of 100,000 entries: the room opened, gone through, filtered, ordered and saved."""

from __future__ import annotations

import asyncio
import tempfile
import time
from collections.abc import Awaitable, Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.books.entry_list import EntryList
from ledger.books.kept_lists import free_list_file, keep_list
from ledger.books.parties import ensure_party
from ledger.lists.listing import Arrangement, words_of
from ledger.screens.arranged_list import ArrangedList
from ledger.screens.painted_list import PaintedList
from tests.screens.window import LARGE, Window, opened
from tests.workshop import begin, on_day

ENTRIES, SHOPS, SEEN = 100_000, 300, 60
FIRST, LAST = date(2020, 1, 1), date(2026, 4, 9)
WORDS = ("Thread, blue", "Batting by the roll", "Café napkins", "Needles")
TYPED = ("n", "needles", "cafe", "shop 12", "31.8", "mar 2024")


def measure() -> Iterator[str]:
    with tempfile.TemporaryDirectory(prefix="twopurse-bench-") as place:
        books = on_day(begin(Path(place) / "books", FIRST, opening_cents=500_00), LAST)
        fill(books)
        yield from asked(books)
        yield from asyncio.run(in_the_room(books))


def asked(books: Books) -> Iterator[str]:
    """What the database takes for the first page in each arrangement."""
    yield f"the newest entries: {seconds(lambda: first_page(books, Arrangement())):.3f} s"
    for typed in TYPED:
        yield f"filtered by «{typed}»: {seconds(lambda: first_page(books, Arrangement(words_of(typed)))):.3f} s"  # noqa: B023
    for place, column in enumerate(EntryList.columns[:5]):
        used = seconds(lambda: first_page(books, Arrangement((), place)))  # noqa: B023
        yield f"ordered by {column.label.casefold()}: {used:.3f} s"
    whole = EntryList(books)
    file = free_list_file(books, "entries")
    yield f"saved as a file: {seconds(lambda: keep_list(books, file, whole.columns, whole.every())):.3f} s"


async def in_the_room(books: Books) -> list[str]:
    """What the room takes, keys and painting included; a key alone takes the pilot some 0.08 s."""
    told = []
    async with opened(books, LARGE) as window:
        for words, keys in (
            ("the room opened", ("2",)),
            ("a line further, pilot included", ("down",)),
            ("to the end", ("end",)),
            ("a page back", ("pageup",)),
        ):
            told.append(f"{words}: {await seconds_of(lambda keys=keys: window.press(*keys)):.3f} s")
        told.append(f"painted anew after an act: {await seconds_of(lambda: repaint(window)):.3f} s")
        painted = window.screen.query_one(PaintedList)
        painted.action_first()
        listed = window.screen.query_one(ArrangedList)
        started = time.process_time()
        listed.order_by(3)
        await window.settle()
        told.append(f"ordered by who: {time.process_time() - started:.3f} s")
    return told


async def repaint(window: Window) -> None:
    window.screen.reload()  # type: ignore[attr-defined]
    await window.settle()


def first_page(books: Books, arrangement: Arrangement) -> None:
    found = EntryList(books, arrangement)
    assert found.page(0, min(SEEN, found.count)) or not found.count


def seconds(work: Callable[[], object]) -> float:
    """Of the processor, which other programs do not make longer."""
    started = time.process_time()
    work()
    return time.process_time() - started


async def seconds_of(work: Callable[[], Awaitable[None]]) -> float:
    started = time.process_time()
    await work()
    return time.process_time() - started


def fill(books: Books) -> None:
    """Small purchases from many shops, some on every day, in one transaction."""
    accounts = read_accounts(books)
    days = (LAST - FIRST).days
    with books.writing() as write:
        shops = [ensure_party(books, write, f"Shop {number}") for number in range(SHOPS)]
        for number in range(ENTRIES):
            cents = 1_00 + number * 37 % 199_99
            draft = Draft(
                on=FIRST + timedelta(days=number * days // ENTRIES),
                kind="spend",
                text=f"{WORDS[number % len(WORDS)]} {number}",
                postings=postings((accounts["thread"], cents), (accounts["checking"], -cents)),
                who=shops[number * 7 % SHOPS],
            )
            seal(books, write, draft)
