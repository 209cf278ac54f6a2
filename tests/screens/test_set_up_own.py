"""The room of the set-up list shows her own items, her words, and what came with a newer list."""

from __future__ import annotations

from dataclasses import replace

import pytest

from checklists import records
from checklists.catalogue import shipped_catalogue
from checklists.item import Catalogue
from checklists.own_acts import PlaceRequest, WordsRequest, add_item, hide_item, reword_item
from ledger.books.books import Books
from tests.screens.window import LARGE, opened


async def test_her_own_item_stands_where_she_put_it_and_its_page_has_no_empty_lines(books: Books) -> None:
    add_item(
        books, WordsRequest("A chair to rest on", questions=("How high is it?",)), PlaceRequest(stage="1", first=True)
    )
    reword_item(books, "home_occupation", WordsRequest("Ask the town"))
    hide_item(books, "floor_share")
    async with opened(books, LARGE) as window:
        await window.press("6")
        assert [window.table(number)[2].strip() for number in (1, 2)] == ["A chair to rest on", "Ask the town"]
        assert "How much of the floor" not in window.text()
        page = window.said_by("#page")
        assert "1. How high is it?" in page
        assert "your own item" in page
        assert "Mind:" not in page
        assert "Keep:" not in page


async def test_what_came_with_a_newer_list_is_marked_until_she_has_seen_it(
    books: Books, monkeypatch: pytest.MonkeyPatch
) -> None:
    hide_item(books, "power")
    first, *others = shipped_catalogue().stages
    newcomer = replace(shipped_catalogue().item("machine_room"), id="earthquakes", title="Earthquakes", blocked_by=())
    newer = Catalogue((replace(first, items=(newcomer, *first.items)), *others))
    monkeypatch.setattr(records, "shipped_catalogue", lambda: newer)
    async with opened(books, LARGE) as window:
        await window.press("6")
        assert window.table(1)[1:] == ["new", "  Earthquakes"]
        assert window.table(2)[1] == ""
        assert "1 new" in window.text()
        await window.press("y")
        assert window.table(1)[1:] == ["", "  Earthquakes"]
        assert window.told()[-1] == "Seen: 1 new item."
