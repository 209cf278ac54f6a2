"""Untaxed stock, certificates and start-up costs in the rooms: what is found with /, and the same as by command."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import pytest

from tests.screens.conftest import OpenBooks
from tests.screens.small_books import begin_small
from tests.screens.test_acts_both_ways import UNTAXED, command_on, contents
from tests.screens.window import opened

OWN = ("tax", "resale", "set", "R-1", "--asked", "Office", "--state", "Kansas", "--expires", "2026-12-31")
USED = ("tax", "use", "10", "--what", "for Ada", "--for", "work")
CERTIFICATE = (
    *("customer", "Oak Guild", "--exempt", "E", "--certificate", "KS-9", "--state", "Kansas", "--from", "2026-03-18"),
    *("--expires", "2026-06-30", "--purchase", "PO 17", "--address", "1 Mill Lane", "--business", "a guild"),
    *("--signed-by", "Ann Lee", "--title", "treasurer", "--signed", "2026-03-02"),
)


@dataclass(frozen=True)
class Found:
    """An act that has no key and is found with /. first: the commands that both have behind them."""

    command: tuple[str, ...]
    values: Mapping[str, str] = field(default_factory=dict)
    first: tuple[tuple[str, ...], ...] = ()


FOUND = {
    "answer_work": Found(
        ("tax", "work-use", "use", "--asked", "Office", "--category", "batting"),
        {"answer": "u", "asked": "Office", "category": "bat"},
        (UNTAXED, USED),
    ),
    "keep_certificate": Found(
        CERTIFICATE,
        {
            "name": "Oak Guild",
            "exempt": "e",
            "certificate": "KS-9",
            "state": "Kansas",
            "expires": "6/30",
            "purchase": "PO 17",
            "address": "1 Mill Lane",
            "business": "a guild",
            "signed_by": "Ann Lee",
            "title": "treasurer",
            "signed": "3/2",
        },
    ),
    "set_own_certificate": Found(OWN, {"value": "R-1", "asked": "Office", "state": "Kansas", "expires": "2026-12-31"}),
    "give_own_certificate": Found(
        ("tax", "resale", "give", "Mill", "--goods", "batting"), {"supplier": "Mill", "goods": "batting"}, (OWN,)
    ),
    "start_up": Found(("start-up", "--opened", "2026-03-01"), {"opened": "3/1"}),
}
PAGES = {
    "list_stock": (("Untaxed stock", "batting", "60.00", "50.00"), (UNTAXED, USED)),
    "list_certificates": (("Oak Guild", "KS-9", "Jun 30, 2026"), (CERTIFICATE,)),
    "show_own_certificate": (("R-1", "Kansas", "Dec 31, 2026", "Mill"), (OWN, ("tax", "resale", "give", "Mill"))),
}
EMPTY = {
    "list_stock": "Nothing was bought without sales tax",
    "list_certificates": "No customer has an exemption certificate",
    "show_own_certificate": "No resale certificate of yours is recorded",
}


@pytest.mark.parametrize("act_id", FOUND)
async def test_what_is_found_writes_the_same_as_its_command(open_copy: OpenBooks, act_id: str) -> None:
    case = FOUND[act_id]
    by_form, by_command = open_copy(begin_small), open_copy(begin_small)
    by_command.close()
    for words in case.first:
        assert command_on(by_form.folder, words) == command_on(by_command.folder, words) == 0
    before = contents(by_form.folder)
    async with opened(by_form) as window:
        window.app.do_here(act_id)  # type: ignore[attr-defined]
        await window.settle()
        await window.type(**case.values)
        await window.press("ctrl+s")
        assert window.place in ("HomeRoom", "PaperPage"), window.text()
    assert command_on(by_command.folder, case.command) == 0
    assert contents(by_form.folder) == contents(by_command.folder)
    assert contents(by_form.folder) != before


@pytest.mark.parametrize("act_id", PAGES)
async def test_a_page_tells_what_there_is_and_says_where_there_is_nothing(open_copy: OpenBooks, act_id: str) -> None:
    told, first = PAGES[act_id]
    for words in ((), first):
        books = open_copy(begin_small)
        for each in words:
            assert command_on(books.folder, each) == 0
        async with opened(books) as window:
            window.app.do_here(act_id)  # type: ignore[attr-defined]
            await window.settle()
            assert window.place == "PaperPage"
            said = window.text()
            assert [each for each in (told if words else (EMPTY[act_id],)) if each not in said] == [], said
            await window.press("escape")
            assert window.place == "HomeRoom"


async def test_what_is_typed_wrong_is_told_beside_its_field(open_copy: OpenBooks) -> None:
    books = open_copy(begin_small)
    assert command_on(books.folder, UNTAXED) == 0
    async with opened(books) as window:
        await window.press("4", "o")
        await window.type(amount="60.01", what="a quilt")
        await window.press("ctrl+s")
        assert "Only 60.00" in window.text()
        await window.type(amount="60", bought_in="ten")
        await window.press("ctrl+s")
        assert "That is no number" in window.text()
        await window.type(bought_in="2")
        await window.press("ctrl+s")
        assert "bought no stock" in window.text()
    books = open_copy(begin_small)
    async with opened(books) as window:
        for act_id, values, said in (
            ("start_up", {"opened": "2027-01-01"}, "2027-01-01 is in"),
            ("keep_certificate", {"name": "Oak", "exempt": "z"}, "has no reason"),
            ("give_own_certificate", {"supplier": "Mill"}, "No resale"),
        ):
            window.app.do_here(act_id)  # type: ignore[attr-defined]
            await window.settle()
            await window.type(**values)
            await window.press("ctrl+s")
            assert said in window.text(), window.text()
            await window.press("escape", "y")
