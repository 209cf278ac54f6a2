"""The lists of Sunday evening in the room Money: categories, people paid, trips, bills, documents, the household."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import share_bill
from ledger.books import viewer
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import read_page
from ledger.books.prove import prove
from ledger.lists.listing import ShownAs
from ledger.screens.forms.form import Form
from ledger.screens.painted_list import PaintedList
from ledger.screens.sunday_pages import ListsPage
from tests.screens.hostile import KEPT_NAMES, links, what_a_terminal_would_obey
from tests.screens.test_hostile_text import put_through
from tests.screens.window import SMALL, Window, opened
from tests.workshop import lines_of, spent, written


async def chosen(window: Window, name: str) -> None:
    """Put the cursor of the list on the row whose first cell is that."""
    rows = [each.cells[0] for each in window.screen.rows]  # type: ignore[attr-defined]
    window.screen.query_one(PaintedList).move_to(rows.index(name))
    await window.settle()


def states(window: Window) -> list[tuple[str, str]]:
    """First and last cell of every row."""
    return [(each.cells[0], each.cells[-1]) for each in window.screen.rows]  # type: ignore[attr-defined]


async def test_categories_are_added_renamed_merged_retired_and_brought_back_in_the_room(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "c")
        await window.press("a")
        await window.type(name="hand dyed", line="suppl")
        await window.press("ctrl+s")
        assert window.place == "CategoriesPage"
        await chosen(window, "hand dyed")
        await window.press("r")
        assert window.values()["name"] == "hand dyed"
        await window.type(new_name="Hand-dyed thread")
        await window.press("ctrl+s")
        await chosen(window, "Hand-dyed thread")
        await window.press("m")
        await window.type(into="thr")
        await window.press("ctrl+s")
        assert ("Hand-dyed thread", "counted under thread") in states(window)
        await chosen(window, "postage")
        await window.press("t", "ctrl+s")
        assert ("postage", "retired on Mar 18, 2026") in states(window)
        await window.press("b", "ctrl+s")
        assert ("postage", "") in states(window)
        await chosen(window, "batting")
        await window.press("t", "ctrl+s")
        assert "books to «batting» by itself" in window.faults()["name"]
        assert prove(books).ok
        made = read_accounts(books).category("hand-dyed thread")
        assert made.name == "thread"


async def test_a_category_that_is_counted_under_another_is_not_changed_in_its_place(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "c")
        await chosen(window, "travel")
        await window.press("m")
        await window.type(into="meals")
        await window.press("ctrl+s")
        await chosen(window, "travel")
        await window.press("r")
        await window.type(new_name="Journeys")
        await window.press("ctrl+s")
        assert "«travel» is counted under «meals»" in window.faults()["name"]


async def test_somebody_is_paid_for_work_and_her_form_is_noted(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "h")
        assert "Nobody was paid for work this year." in window.text()
        await window.press("p")
        await window.type(who="Nell", amount="45", why="binding")
        await window.press("ctrl+s")
        assert "45.00" in window.text()
        await window.press("t")
        assert window.values()["who"] == "Nell"
        await window.type(form="W-9")
        await window.press("ctrl+s")
        assert [each.cells[2] for each in window.screen.rows] == [ShownAs("W-9", "W-9")]  # type: ignore[attr-defined]
        assert "A return may be due from $2,000.00" in window.text()
        entry = read_page(books, 1)[0].number
        assert lines_of(books, entry) == written("paid helpers +45.00", "checking -45.00")


async def test_trips_are_listed_with_what_they_come_to_and_struck(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "t", "a")
        await window.type(miles="12.5", where="Riley", why="to post a quilt")
        await window.press("ctrl+s")
        assert "12.5 miles at" in window.text()
        await window.press("x")
        assert "12.5 miles, Riley, to post a quilt" in window.text()
        await window.press("ctrl+s")
        assert "No trip is logged this year." in window.text()
        await window.press("x")
        await window.type(trip="1")
        await window.press("ctrl+s")
        assert "struck already" in window.faults()["trip"]


async def test_bills_are_listed_by_what_is_due_and_wait_for_their_amount(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "b", "h")
        await window.type(name="internet", category="phone", share="40", reason="hours", every="month")
        await window.press("ctrl+s")
        assert "Mar 18, 2026 now" in window.text()
        await window.press("b")
        await window.type(amount="60", **{"from": "household ch"})
        await window.press("ctrl+s")
        assert "Apr 18, 2026" in window.text()


async def test_a_share_of_140_percent_is_refused_beside_its_field(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "h")
        await window.type(name="internet", category="phone", share="140", reason="hours")
        assert "more than 100" in window.faults()["share"]


async def test_receipts_above_her_limit_without_a_document_are_one_key_away_and_one_is_attached(
    books: Books, tmp_path: Path
) -> None:
    large = spent(books, "90.00", "thread", "checking")
    small = spent(books, "20.00", "thread", "checking")
    (tmp_path / "scan.pdf").write_bytes(b"%PDF-1.7")
    async with opened(books) as window:
        await window.press("2", "d")
        assert [each.subject.number for each in window.screen.rows] == [large]  # type: ignore[attr-defined]
        await window.press("l")
        await window.type(amount="15")
        await window.press("ctrl+s")
        assert [each.subject.number for each in window.screen.rows][:2] == [large, 8]  # type: ignore[attr-defined]
        assert small in [each.subject.number for each in window.screen.rows]  # type: ignore[attr-defined]
        await window.press("f")
        await window.type(file=str(tmp_path / "scan.pdf"))
        await window.press("ctrl+s")
        assert large not in [each.subject.number for each in window.screen.rows]  # type: ignore[attr-defined]
        assert "Receipts above $15.00 of 2026" in window.text()


async def test_the_document_of_an_entry_opens_by_a_key_and_where_there_is_no_viewer_a_sentence_says_so(
    books: Books, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    started: list[Sequence[str]] = []
    (tmp_path / "scan.pdf").write_bytes(b"%PDF-1.7")
    async with opened(books) as window:
        await window.press("2", "v")
        assert window.told()[-1] == "There is no document with it. f keeps one."
        await window.press("f")
        await window.type(file=str(tmp_path / "scan.pdf"))
        await window.press("ctrl+s")
        assert "With it: scan.pdf" in window.said_by("#detail")
        monkeypatch.setattr(viewer, "viewer_words", lambda *_: ("open",))
        monkeypatch.setattr(viewer, "_run", started.append)
        await window.press("v")
        assert window.told()[-1] == "Opened «scan.pdf»."
        assert [Path(words[-1]).read_bytes() for words in started] == [b"%PDF-1.7"]
        monkeypatch.undo()
        monkeypatch.setattr(viewer.sys, "platform", "linux")
        monkeypatch.setattr(viewer.os, "environ", {})
        await window.press("v")
        assert window.told()[-1].startswith("There is no viewer to open a document with here.")


async def test_the_household_is_opened_and_what_it_pays_is_chosen_in_the_room(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "o")
        await window.type(amount="2,400")
        assert "household opening balance" in window.text()
        await window.press("ctrl+s")
        assert read_page(books, 1)[0].kind == "opening"
        await window.press("y", "w")
        await window.type(choice="owed")
        await window.press("ctrl+s", "s")
        assert window.field("owed").asked.hint == "yes, you chose so"
        await window.type(who="Mill", amount="40", category="batting", **{"from": "personal card"})
        assert "Between the purses: owed to owner, $40.00" in window.text()


async def test_what_is_owed_to_her_is_let_go_in_the_room(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "g")
        assert "owner's contributions" in window.text()
        await window.press("ctrl+s")
        assert read_page(books, 1)[0].kind == "let-go"
        await window.press("y", "g", "ctrl+s")
        assert "There is nothing to pay back." in window.faults()["amount"]


async def test_a_bill_that_is_due_comes_up_in_money_and_goes_when_it_is_booked(books: Books) -> None:
    request = share_bill.BillRequest("internet", "phone and internet", Decimal(40), "hours", books.today, every="month")
    share_bill.perform(books, request)
    async with opened(books) as window:
        await window.press("2")
        assert "Due (b)    internet since Mar 18" in window.text()
        await window.press("b")
        assert window.values()["name"] == "internet"
        await window.type(amount="60", **{"from": "checking"})
        await window.press("ctrl+s")
        assert "Due (b)" not in window.text()


async def test_every_list_can_be_clicked(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2")
        for key, (page, words) in ListsPage.LISTS.items():
            await window.press("y")
            await window.click(f"{key}   {words}")
            assert window.place == page.__name__
            await window.press("escape")
            assert window.place == "MoneyRoom"


async def test_what_cannot_be_read_in_a_split_receipt_is_told_beside_its_field(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        await window.type(who="Acme", amount="40", category="thread", **{"from": "checking"})
        for also, said in (
            ("batting", "has no amount"),
            ("batting 12x", "has no amount"),
            ("batting NaN", "has no amount"),
            ("batting 1e3", "has no amount"),
            ("nothing such 5", "There is no expense category"),
            ("batting 50", "The parts are more than the receipt"),
            ("batting 0", "zero"),
        ):
            await window.type(also=also)
            assert said in window.faults()["also"], also
        await window.type(also="batting 12.50, needles 3+4")
        assert window.faults() == {}
        assert "thread 20.50 · batting 12.50 · needles and parts 7.00" in window.text()
        await window.type(home="30")
        assert "more than the receipt" in window.faults()["also"]
        await window.type(also="", home="41")
        assert "household's part is more than the receipt" in window.faults()["home"]
        await window.type(home="", on="tomorrow")
        await window.press("ctrl+s")
        assert "on" in window.faults()


FORMS = ("ca", "cr", "cm", "ct", "hp", "ht", "tx", "dl", "w", "o", "g")


@pytest.mark.slow
@pytest.mark.parametrize("letters", FORMS)
async def test_every_string_goes_through_the_fields_of_every_list_as_text(books: Books, letters: str) -> None:
    async with opened(books) as window:
        await window.press("2", "y", *letters)
        form = window.screen
        assert isinstance(form, Form), window.text()
        await put_through(window, form.check)
        await window.press("ctrl+s")
        assert not window.app._exit


@pytest.mark.slow
async def test_hostile_names_stand_in_every_list_as_text(books: Books) -> None:
    for name in KEPT_NAMES:
        spent(books, "100.00", "thread", "checking", why=name)
    async with opened(books, SMALL) as window:
        for key in ListsPage.LISTS:
            await window.press("2", "y", key)
            assert what_a_terminal_would_obey(window) == []
            assert links(window) == set()
            await window.press("escape", "escape")
