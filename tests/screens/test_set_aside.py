"""The set-aside in its room: the answer, the figures, the strip of due dates, and each figure opened to its entries."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

import pytest

from ledger.actions import own_tax_choices
from ledger.books.books import Books
from ledger.set_aside.owed import read_set_aside
from tests import workshop as w
from tests.screens.conftest import OpenBooks
from tests.screens.small_books import TODAY, begin_small
from tests.screens.window import LARGE, SMALL, opened
from tests.set_aside.checks import check_set_aside


@pytest.fixture
def earning(open_copy: OpenBooks) -> Iterator[Books]:
    """The small workshop, with a percentage, returns every quarter, and a job of 10,000."""
    books = open_copy(begin_small)
    w.choose_filing(books, "quarterly", 20)
    own_tax_choices.say_income_tax(books, own_tax_choices.IncomeTaxRequest(Decimal(12), "Ann"))
    w.picked_up(books, w.job_for(books, "10000.00"), "check")
    return books


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_room_says_what_the_command_says(earning: Books, size: tuple[int, int]) -> None:
    found = check_set_aside(earning)
    async with opened(earning, size) as window:
        await window.press("4")
        answer = window.said_by("#answer")
        amount = window.app.showing.amount  # type: ignore[attr-defined]
        assert f"Free to draw: {amount(found.free_cents)}" in answer
        assert f"to move {amount(found.to_move_cents)}" in answer
        assert found.next_due is not None
        assert f"Next: {found.next_due.what}" in answer
        strip = window.said_by("#strip")
        plain = window.app.showing.plain  # type: ignore[attr-defined]
        told = [line.split()[-1] for line in strip.splitlines()[1 : len(found.dues) + 1]]
        assert told == ["-" if due.cents is None else plain(due.cents) for due in found.dues]
        assert told[:2] != ["-", "-"]


async def test_a_figure_opens_down_to_an_entry_and_escape_goes_back(earning: Books) -> None:
    async with opened(earning) as window:
        await window.press("4", "enter")
        assert window.place == "PartsPage"
        assert "March 2026" in window.text()
        await window.press("enter")
        assert "Pickup" in window.text()
        assert window.depth == 5
        await window.press("escape", "escape")
        assert window.place == "SetAsideRoom"


async def test_in_a_wide_window_the_parts_of_the_selected_figure_stand_beside_it(earning: Books) -> None:
    async with opened(earning, LARGE) as window:
        await window.press("4")
        assert "March 2026" in window.said_by("#parts")
        await window.press("down", "down")
        assert "Tax year 2026" in window.said_by("#parts")
        await window.resize(*SMALL)
        assert not window.screen.query_one("#parts-frame").display


async def test_one_key_sets_aside_all_that_is_to_be_moved(earning: Books) -> None:
    to_move = read_set_aside(earning).to_move_cents
    async with opened(earning) as window:
        await window.press("4", "m", "ctrl+s")
        assert window.place == "SetAsideRoom"
        assert "to move $0.00" in window.said_by("#answer")
        assert read_set_aside(earning).held_cents == to_move


async def test_with_nothing_said_about_income_tax_the_figure_says_so(books: Books) -> None:
    async with opened(books) as window:
        await window.press("4")
        assert "Free to draw, before income tax" in window.said_by("#answer")
        assert "ask your accountant" in window.said_by("#strip")


async def test_short_is_said_instead_of_free(earning: Books) -> None:
    w.transferred(earning, "draw", "11000.00")
    async with opened(earning) as window:
        assert "Short by" in window.said_by("#block-set_aside")
        await window.press("4")
        assert "nothing is free to draw" in window.said_by("#answer")


async def test_what_is_late_is_marked_by_a_word(earning: Books) -> None:
    async with opened(w.on_day(earning, date(2026, 4, 30)), read_clock=lambda: w.clock_of(date(2026, 4, 30))) as window:
        assert "1 payment late" in window.said_by("#block-set_aside")
        await window.press("4")
        assert window.said_by("#strip").splitlines()[1].startswith("late")


def test_the_small_workshop_is_of_that_day() -> None:
    assert date(2026, 3, 18) == TODAY
