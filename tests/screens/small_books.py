"""Small books for the rooms to stand on: built once in a run of the tests, then copied, which is cheap."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from ledger.actions import spend, take_in
from ledger.actions.take_in import TakeInRequest, WantedLine
from ledger.books.books import Books
from tests import workshop as w

FIRST_DAY = date(2026, 1, 5)
TODAY = date(2026, 3, 18)
# Jobs: 1 and 2 ready, 3 in hand and late, 4 booked, 5 asked about, 6 gone and owing, 7 and 8 gone and paid.
READY, SECOND_READY, IN_HAND, BOOKED, ASKED, OWING = 1, 2, 3, 4, 5, 6

Build = Callable[[Path], Books]


def built(build: Build) -> Path:
    """The folder that copies are taken from."""
    return _built(build)


@cache
def _built(build: Build) -> Path:
    place = Path(tempfile.mkdtemp(prefix="twopurse-rooms-"))
    atexit.register(shutil.rmtree, place, ignore_errors=True)
    build(place / "books").close()
    return place / "books"


def begin_taxed(folder: Path) -> Books:
    """Rates, answers and a price list, and nothing else."""
    books = w.begin_taxed(folder, FIRST_DAY, machine_price_cents=18_500_00, opening_cents=2_000_00)
    w.add_to_price_list(books, "Edge-to-edge", "area", "0.02")
    w.add_to_price_list(books, "Batting", "inch", "0.35", "goods")
    w.add_to_price_list(books, "Binding", "length", "0.30")
    return books


def begin_small(folder: Path) -> Books:
    """A workshop in its eleventh week: jobs in every state, both purses used, some money still owed."""
    books = begin_taxed(folder)
    first = w.on_day(books, date(2026, 2, 16))
    ada = take_in_piece(
        first, "Ada Brook", "Log cabin, blue", 56, 72, ("Edge-to-edge", "Batting"), promised=date(2026, 3, 20)
    )
    ben = take_in_piece(first, "Ben Okoro", "Star, queen", 88, 90, ("Edge-to-edge",), promised=date(2026, 3, 25))
    take_in_piece(first, "Cora Lind", "Fan, baby", 40, 40, ("Binding",), promised=date(2026, 3, 13))
    take_in_piece(
        first, "Dora Petrov", "Rail fence", 60, 60, ("Edge-to-edge",), status="booked", promised=date(2026, 4, 2)
    )
    take_in_piece(first, "Emil Sand", "Sampler", 60, 60, ("Edge-to-edge",), status="asked")
    gia = take_in_piece(first, "Gia Moreno", "Nine patch", 50, 50, ("Edge-to-edge",))
    w.deposit(first, ada, "50.00")
    _in_and_out(books, date(2026, 1, 12), "Hal Ives", "Pinwheel, king")
    _in_and_out(books, date(2026, 2, 9), "Ida Jonas", "Bear's paw")
    march = w.on_day(books, date(2026, 3, 10))
    w.move(march, ada, "ready")
    w.move(march, ben, "ready")
    w.picked_up(march, gia, "owed")
    _receipt(w.on_day(books, date(2026, 3, 12)), 31_80, "thread", "workshop card", "Corner shop", home_cents=9_30)
    _receipt(w.on_day(books, date(2026, 3, 12)), 64_00, "batting", "household checking", "Mill outlet", owed=True)
    w.transferred(w.on_day(books, date(2026, 3, 16)), "draw", "100.00")
    return w.on_day(books, TODAY)


def begin_empty(folder: Path) -> Books:
    """Begun today, with a name and nothing else."""
    return w.begin(folder, TODAY)


def begin_in_yen(folder: Path) -> Books:
    """A workshop that counts in yen and measures in centimetres, with one piece that is ready."""
    yen = w.Currency("JPY", 0)
    books = w.begin(folder, FIRST_DAY, currency=yen, locale="ja_JP", units="cm", machine_price_cents=2_400_000)
    w.add_rate(books, "消費税", "10", FIRST_DAY)
    for name in ("goods", "work"):
        w.answer(books, name, True, FIRST_DAY)
    w.add_to_price_list(books, "ステッチ", "area", "0.5")
    kept = w.on_day(books, TODAY)
    job = take_in_piece(kept, "山田花子", "キルト、青", 142, 183, ("ステッチ",))
    w.move(kept, job, "ready")
    return kept


def begin_long(folder: Path) -> Books:
    """Two thousand entries, all of them coins carried to the bank, in one transaction."""
    books = w.begin(folder, FIRST_DAY, opening_cents=2_000_00)
    with books.all_or_nothing() as together:
        for number in range(1, 2_000):
            day = FIRST_DAY + timedelta(days=number // 30)
            w.transferred(w.on_day(together, day), "move", "0.01", "checking", "cash box")
    return w.on_day(books, TODAY)


def take_in_piece(
    books: Books, customer: str, piece: str, width: int, length: int, lines: tuple[str, ...], **more: Any
) -> int:
    request = TakeInRequest(
        customer=customer,
        piece=piece,
        width=Decimal(width),
        length=Decimal(length),
        value_cents=400_00,
        lines=tuple(WantedLine(each) for each in lines),
        **more,
    )
    return take_in.perform(books, request).id


def _in_and_out(books: Books, day: date, customer: str, piece: str) -> None:
    arrived = w.on_day(books, day)
    job = take_in_piece(arrived, customer, piece, 90, 100, ("Edge-to-edge", "Binding"))
    w.move(arrived, job, "ready")
    w.picked_up(w.on_day(books, day + timedelta(days=10)), job, "cash")


def _receipt(books: Books, cents: int, category: str, paid_from: str, who: str, **more: Any) -> None:
    spend.perform(books, spend.SpendRequest(cents, category, paid_from, who, **more))
