"""The four moments that decide whether it is good, by keys that are really pressed and counted, from home each time."""

from __future__ import annotations

import json
from datetime import date

from ledger.books.books import Books
from ledger.books.entries import read_page
from ledger.jobs.records import read_job
from ledger.set_aside.owed import read_set_aside
from tests.screens.conftest import OpenBooks
from tests.screens.small_books import READY, begin_small
from tests.screens.window import Window, opened
from tests.workshop import lines_of

# 56 x 72 in at 0.02, batting of the longer side and 8 in at 0.35; 4.3 and 1.0 percent of 108.64 are 5.76 together.
QUILTING, BATTING, STATE, COUNTY, DEPOSIT = 80_64, 28_00, 4_67, 1_09, 50_00
KEY_OF = {".": "full_stop"}


async def pressed(window: Window, *keys: str) -> int:
    """Press them one by one from home; how many they were."""
    assert window.place == "HomeRoom"
    for key in keys:
        await window.press(KEY_OF.get(key, key))
    return len(keys)


async def test_pickup_takes_four_keys_to_money_in_the_books_and_a_receipt(books: Books) -> None:
    async with opened(books) as window:
        assert await pressed(window, "p", "enter", "c", "enter") == 4
        assert window.place == "ReceiptPage"
        assert "Receipt for job 1" in window.text()
        assert window.told() == ["Job 1 has gone home with Ada Brook."]
        entry = read_page(books, 1)[0]
        assert (entry.kind, entry.job, entry.on) == ("pickup", READY, books.today)
        assert lines_of(books, entry.number) == sorted(
            [
                ("cash box", QUILTING + BATTING + STATE + COUNTY - DEPOSIT),
                ("customer deposits", DEPOSIT),
                ("job income", -QUILTING - BATTING),
                ("sales tax payable", -STATE),
                ("sales tax payable", -COUNTY),
            ]
        )
        assert read_job(books, READY).status == "gone"
        assert {path.suffix for path in (books.folder / "receipts").iterdir()} == {".pdf", ".txt"}


async def test_a_receipt_of_a_known_shop_takes_six_keys_beside_its_amount(books: Books) -> None:
    amount = "23.40"
    async with opened(books) as window:
        keys = await pressed(window, "s", "c", "o", "right", "enter", *amount, "ctrl+s")
        assert keys - len(amount) == 6
        assert window.place == "HomeRoom"
        entry = read_page(books, 1)[0]
        assert (entry.who, entry.on) == ("Corner shop", books.today)
        assert lines_of(books, entry.number) == [("thread", 23_40), ("workshop card", -23_40)]


async def test_what_is_free_to_draw_takes_one_key_and_stands_above_what_it_is_made_of(books: Books) -> None:
    async with opened(books) as window:
        assert await pressed(window, "4") == 1
        assert window.place == "SetAsideRoom"
        free = window.app.showing.amount(read_set_aside(books).free_cents)  # type: ignore[attr-defined]
        assert window.said_by("#answer").startswith(f"Free to draw, before income tax: {free}\n")
        figures = {each.words: each.cents for each in window.screen.parts}  # type: ignore[attr-defined]
        assert figures["Money"] - figures["Owed to others"] == read_set_aside(books).free_cents


async def test_the_packet_of_the_quarter_that_is_over_takes_three_keys(open_copy: OpenBooks) -> None:
    books = open_copy(begin_small, date(2026, 4, 3))
    async with opened(books) as window:
        assert await pressed(window, "5", "k", "enter") == 3
        assert window.place == "PaperPage"
        assert "packet.pdf" in window.text()
        assert window.told() == ["The packet of 2026-Q1 is built."]
    (place,) = (books.folder / "packets").iterdir()
    assert json.loads((place / "manifest.json").read_text(encoding="utf-8"))["period"] == "2026-Q1"
