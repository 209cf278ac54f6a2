"""Other books: empty, in yen and centimetres, very long, damaged; two windows on one folder; and tiny windows."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.entries import read_page
from ledger.books.places import BOOKS_FILE
from ledger.screens.doors import DOORS
from ledger.screens.painted_list import PaintedList
from tests.screens.conftest import OpenBooks
from tests.screens.small_books import READY, TODAY, begin_in_yen, begin_long
from tests.screens.window import SMALL, opened
from tests.workshop import lines_of, on_day, picked_up, reopened

DIGITS = [each.digit for each in DOORS if each.digit]


async def test_empty_books_say_in_every_room_what_would_fill_it(empty_books: Books) -> None:
    said = {
        "1": "There is no price yet. Press m for the first one, then n for the first job.",
        "2": "There is no entry yet. s books what was spent.",
        "3": "The machine has no price yet, so there is nothing to pay off.",
        "4": "Free to draw, before income tax",
        "5": "2026-Q1, so far, on the cash method",
        "6": "Work at home: what the zoning rules say",
    }
    async with opened(empty_books) as window:
        for digit, sentence in said.items():
            await window.press(digit)
            assert sentence in window.text(), digit
        await window.press("1", "d")
        assert window.told()[-1] == "No job is selected. Choose one on the Bench first."
        await window.press("2", "u")
        assert window.told()[-1] == "There is no entry yet. There is nothing to undo."
        await window.press("n")
        assert window.told()[-1] == "The price list is empty. Put the first one on it with «Price» (Bench, m)."


async def test_yen_have_no_decimals_and_lengths_are_centimetres(open_copy: OpenBooks) -> None:
    books = open_copy(begin_in_yen)
    async with opened(books, (110, 30)) as window:
        await window.press("1")
        assert "142 x 183 cm" in window.text()
        assert window.table()[3] == "山田花子"
        # 142 x 183 at half a yen is 12,993, and a tenth of it tax.
        assert "14,292" in window.text()
        await window.press("p", "t", "enter")
        assert window.place == "ReceiptPage"
        assert lines_of(books, read_page(books, 1)[0].number)[0] == ("checking", 14_292)
        await window.press("enter", "s")
        await window.type(who="布屋", amount="1,204+96", category="thread", **{"from": "checking"}, on="3/14")
        assert "Workshop ￥1,300" in window.text() or "Workshop ¥1,300" in window.text()
        await window.type(amount="12.5")
        assert window.faults()["amount"] == "«12.5» has more decimals than JPY has. Give it with 0 at most."


async def test_wide_letters_keep_columns_straight(open_copy: OpenBooks) -> None:
    async with opened(open_copy(begin_in_yen), SMALL) as window:
        await window.press("p", "enter")
        slip = [line for line in window.said_by("#lines").splitlines() if line.endswith(("12,993", "1,299", "14,292"))]
        ends = {sum(2 if ord(each) > 0x2E80 else 1 for each in line) for line in slip}
        assert len(slip) == 3
        assert len(ends) == 1, slip


async def test_of_a_long_list_only_what_is_in_sight_is_read(open_copy: OpenBooks) -> None:
    async with opened(open_copy(begin_long)) as window:
        await window.press("2")
        painted = window.screen.query_one(PaintedList)
        assert painted.count == 2000
        assert window.table()[0] == "2000"
        await window.press("end")
        assert window.table()[0] == "1"
        assert "Entry 1," in window.said_by("#detail")
        await window.press("pageup", "home", "down")
        assert window.table()[0] == "1999"
        assert sum(len(page) for page in painted._pages.values()) < 500


async def test_a_list_up_to_an_earlier_day_ends_with_the_first_entry(open_copy: OpenBooks) -> None:
    books = open_copy(begin_long)
    async with opened(on_day(books, books.settings.begun_on)) as window:
        await window.press("2")
        assert [window.table(row)[0] for row in (0, 1)] == ["30", "29"]
        await window.press("end")
        assert window.table()[0] == "1"


@pytest.mark.parametrize("room", ["1", "2"])
async def test_what_is_selected_stays_selected_when_another_window_moves_the_list(books: Books, room: str) -> None:
    """The next key must not act on a neighbour."""
    async with opened(books) as window:
        await window.press(room, "down")
        before = window.table()
        other = reopened(books.folder, TODAY)
        picked_up(other, READY, "cash")
        other.close()
        window.app.look_around()  # type: ignore[attr-defined]
        await window.settle()
        assert window.table() == before
        assert window.screen.selected() is not None  # type: ignore[attr-defined]


async def test_both_windows_see_a_change_and_none_is_lost(books: Books) -> None:
    other = reopened(books.folder, TODAY)
    async with opened(books) as window:
        assert "2 ready for pickup" in window.text()
        picked_up(other, READY, "cash")
        window.app.look_around()  # type: ignore[attr-defined]
        await window.settle()
        assert "1 ready for pickup" in window.text()
        await window.press("p", "enter", "k", "enter")
        assert [entry.job for entry in read_page(other, 2)] == [2, 1]
    other.close()


async def test_another_window_that_holds_the_lock_is_a_sentence(books: Books) -> None:
    async with opened(books) as window:
        books.connection.execute("pragma busy_timeout = 10")
        holding = sqlite3.connect(books.folder / BOOKS_FILE, isolation_level=None)
        holding.execute("begin immediate")
        await window.press("p", "enter", "c", "enter")
        assert "Another window is writing" in window.said_by("#fault")
        assert window.values()["paid"] == "cash"
        holding.execute("rollback")
        holding.close()
        await window.press("enter")
        assert window.place == "ReceiptPage"


async def test_damaged_books_are_open_to_look_at_and_every_save_is_refused_with_the_sentence(books: Books) -> None:
    folder = books.folder
    books.close()
    damage(folder)
    damaged = reopened(folder, TODAY)
    async with opened(damaged) as window:
        assert "open to look at only" in window.told()[0]
        for digit in DIGITS:
            await window.press(str(digit))
        await window.press("escape", "p", "enter", "c", "enter")
        assert window.place == "PickupForm"
        assert "The books are open to look at only" in window.said_by("#fault")
        assert "«twopurse prove»" in window.said_by("#fault")
        assert window.values()["paid"] == "cash"
        await window.press("escape", "y", "1", "r")
        assert "The books are open to look at only" in window.told()[-1]


def damage(folder: Path) -> None:
    """Somebody dropped a guard, so that the schema is not the one that this program made."""
    connection = sqlite3.connect(folder / BOOKS_FILE)
    name = connection.execute("select name from sqlite_schema where type = 'trigger' order by 1 limit 1").fetchone()[0]
    connection.execute(f"drop trigger {name}")
    connection.commit()
    connection.close()


@pytest.mark.parametrize("size", [(40, 10), (1, 1)])
async def test_a_tiny_window_says_so_and_everything_is_back_when_it_grows(books: Books, size: tuple[int, int]) -> None:
    async with opened(books, size) as window:
        for key in (*"123456", "question_mark", "escape", "escape"):
            await window.press(key)
        if size[0] >= 40:
            assert "This window is too small. Make it at" in window.text()
        await window.resize(*SMALL)
        assert "too small" not in window.text()
        assert "2 ready for pickup" in window.text()


async def test_a_defect_ends_the_program_and_reaches_whoever_started_it(
    books: Books, monkeypatch: pytest.MonkeyPatch
) -> None:

    def break_down(*_: object) -> None:
        raise ZeroDivisionError("on purpose")

    monkeypatch.setattr("ledger.screens.app.form_of", break_down)
    with pytest.raises(ZeroDivisionError, match="on purpose"):
        async with opened(books) as window:
            await window.press("s")
