"""`u` undoes in every room: in Money what is selected, elsewhere the last entry that still stands."""

from __future__ import annotations

from datetime import date

import pytest

from ledger.actions import file_tax
from ledger.books.books import Books
from ledger.books.entries import read_entry, read_page
from ledger.periods import parse_period
from ledger.screens.doors import DOORS
from tests import workshop as w
from tests.screens.small_books import READY, TODAY
from tests.screens.window import Window, opened

# The last entry of the small books, which is a draw of 100.00.
DRAW = 9


async def undo(window: Window, why: str) -> None:
    """Say why, and save."""
    await window.type(why=why)
    await window.press("ctrl+s")


@pytest.mark.parametrize("digit", [each.digit for each in DOORS if each.name != "money"])
async def test_u_undoes_the_last_entry_from_every_room_and_says_which_it_was(books: Books, digit: str | None) -> None:
    async with opened(books) as window:
        await window.press(*([digit] if digit else []), "u")
        assert window.place == "ReverseForm"
        assert "Undo entry 9" in window.text()
        assert "Entry 9, Mar 16, 2026, Owner's draw" in window.said_by("#preview")
        assert "-100.00" in window.said_by("#preview")
        if digit in (None, "1"):
            await undo(window, "not taken after all")
            assert window.told() == ["Entry 10 undoes entry 9: Owner's draw."]
            mirror, draw = read_page(books, 2)
            assert (mirror.reverses, mirror.text) == (DRAW, "Reversal of 9: not taken after all")
            assert [-each.cents for each in mirror.postings] == [each.cents for each in draw.postings]


async def test_u_once_more_never_undoes_the_undoing_but_says_so_and_goes_to_the_entry_before(books: Books) -> None:
    async with opened(books) as window:
        await window.press("u")
        await undo(window, "not taken")
        await window.press("u")
        said = window.said_by("#preview")
        assert said.startswith("Entry 10 is an undoing already, of entry 9. Before it stands:\nEntry 8, ")
        await undo(window, "never bought")
        await window.press("u")
        assert "Entry 11 is an undoing already, of entry 8. Before it stands:\nEntry 7, " in window.said_by("#preview")
        await window.press("escape")
        assert [each.reverses for each in read_page(books, 2)] == [8, 9]


async def test_in_money_u_undoes_the_entry_that_is_selected(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "down", "u")
        assert "Undo entry 8" in window.text()
        await window.press("escape", "up", "u")
        await undo(window, "twice")
        await window.press("u")
        assert window.told()[-1] == "Entry 9 was reversed by entry 10 already. There is nothing left to reverse."
        await window.press("up", "u")
        assert window.told()[-1] == "Entry 10 is itself a reversal, of entry 9. Enter what happened again."
        assert window.place == "MoneyRoom"


async def test_a_pickup_of_today_is_undone_and_its_piece_is_back(books: Books) -> None:
    w.picked_up(books, READY, "cash")
    async with opened(books) as window:
        await window.press("u")
        assert "The piece of job 1 is on the Bench again." in window.said_by("#preview")
        await undo(window, "the wrong piece")
        await window.press("1")
        assert window.table(0)[:2] == ["● ready", "1"]


async def test_a_pickup_that_stands_is_named_with_what_to_do_instead_in_rooms_and_keys(books: Books) -> None:
    w.picked_up(books, READY, "cash")
    async with opened(w.on_day(books, TODAY.replace(day=20))) as window:
        await window.press("u")
        assert window.place == "HomeRoom"
        assert window.told()[-1] == (
            "The last entry stands: Entry 10, Mar 18, 2026, Ada Brook: Pickup: Log cabin, blue. The pickup of job 1 "
            "was paid on 2026-03-18, so it stands. A payment that came back is «Check back» (Bench, k), money given "
            "back is «Refund» (Bench, f), wrong tax is «Tax right» (Bench, x)."
        )


async def test_what_a_filing_booked_is_undone_with_the_filing(books: Books) -> None:
    w.choose_filing(books, "quarterly")
    w.picked_up(books, READY, "cash")
    april = w.on_day(books, date(2026, 4, 2))
    file_tax.perform(april, file_tax.FileRequest(parse_period("2026-Q1")))
    last = read_page(april, 1)[0].number
    assert read_entry(april, last).kind == "tax filing"
    async with opened(april) as window:
        await window.press("2", "u")
        assert window.place == "UnfileForm"
        await window.press("escape", "escape", "u")
        assert "Take back the return of 2026-Q1" in window.text()
        await undo(window, "too early")
        assert read_entry(april, last).reversed_by == last + 1


async def test_where_nothing_is_left_to_undo_it_says_so(empty_books: Books) -> None:
    async with opened(empty_books) as window:
        await window.press("u")
        assert window.told() == ["There is no entry yet. There is nothing to undo."]
    w.transferred(
        empty_books_again := w.reopened(empty_books.folder, TODAY), "put-in", "5.00", "household checking", "checking"
    )
    async with opened(empty_books_again) as window:
        await window.press("u")
        await undo(window, "no")
        await window.press("u")
        assert window.told()[-1] == "Every entry is undone already. There is nothing to undo."
