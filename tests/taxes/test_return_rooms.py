"""The page of a return and its forms: what they show, what they refuse, and that names from outside stay text."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.taxes.filed_return import FiledReturn
from ledger.taxes.filed_returns import read_filed
from tests.screens.window import Window, opened
from tests.taxes.filings import APRIL, file, pay_return, sold
from tests.workshop import add_rate, begin_taxed, choose_filing, on_day, reopened

FEBRUARY = date(2026, 2, 3)
HOSTILE = "[b]County[/b] [@click]x[/]"


@pytest.fixture
def books(tmp_path: Path) -> Books:
    made = begin_taxed(tmp_path / "books", opening_cents=5_000_00)
    choose_filing(made, "quarterly", 25)
    add_rate(made, HOSTILE, "0.5")
    sold(made, "185.44", FEBRUARY)
    made.close()
    return reopened(tmp_path / "books", APRIL)


def walked(books: Books, walk: Callable[[Window], Awaitable[None]], size: tuple[int, int] = (80, 24)) -> None:
    """Walk through the rooms, the page of the return open; the window closes the books."""

    async def run() -> None:
        async with opened(books, size) as window:
            await window.press("4", "x")
            assert window.place == "WorksheetPage"
            await walk(window)

    asyncio.run(run())


def filed_in(books: Books) -> tuple[FiledReturn, ...]:
    again = reopened(books.folder, APRIL)
    found = read_filed(again)
    again.close()
    return found


@pytest.mark.parametrize("size", [(80, 24), (200, 60)])
def test_the_page_shows_the_return_that_waits_and_names_stay_text(books: Books, size: tuple[int, int]) -> None:
    async def walk(window: Window) -> None:
        page = window.text()
        assert "Sales tax return 2026-Q1" in page
        assert "Not filed, due Apr 27, 2026" in page
        assert HOSTILE in page
        assert "185.44" in page
        await window.press("left")
        assert "2026-Q1" in window.text()  # the books began in it
        await window.press("right")
        assert "so far" in window.text()
        await window.press("right", "escape")
        assert window.place == "SetAsideRoom"

    walked(books, walk, size)


def test_a_date_that_is_none_or_to_come_is_said_beside_its_field(books: Books) -> None:
    async def walk(window: Window) -> None:
        await window.press("f")
        for wrong in ("2026-02-30", "2027-01-01", "2026-03-15"):
            await window.type(on=wrong)
            await window.press("ctrl+s")
            assert window.place == "FileForm", wrong
        await window.press("escape", "y")

    walked(books, walk)
    assert filed_in(books) == ()


def test_more_than_is_owed_is_a_credit_and_said_before_it_is_paid(books: Books) -> None:
    file(on_day(books, APRIL), APRIL)

    async def walk(window: Window) -> None:
        await window.press("y")
        await window.type(amount="20")
        assert "kept as a credit" in window.said_by("#preview")
        await window.type(amount="-5")
        await window.press("ctrl+s")
        assert window.place == "PayForm"
        await window.type(amount="20")
        await window.press("ctrl+s")
        assert "Credit for the next return" in window.text()

    walked(books, walk)
    (filed,) = filed_in(books)
    assert filed.paid_cents == 20_00


def test_what_was_paid_has_nothing_left_to_pay(books: Books) -> None:
    file(on_day(books, APRIL), APRIL)
    pay_return(books, APRIL)

    async def walk(window: Window) -> None:
        await window.press("left", "y")
        await window.press("ctrl+s")
        assert window.place == "PayForm"
        assert "Nothing is left" in window.text()
        await window.press("escape")

    walked(books, walk)


def test_a_filing_is_taken_back_with_a_reason(books: Books) -> None:
    file(on_day(books, APRIL), APRIL)

    async def walk(window: Window) -> None:
        assert "Filed Apr 10, 2026" in window.text()
        await window.press("u")
        assert window.place == "UnfileForm"
        await window.press("ctrl+s")
        assert window.place == "UnfileForm"  # without a reason it is not
        await window.type(why="typed twice")
        await window.press("ctrl+s")
        assert "Not filed" in window.text()

    walked(books, walk)
    assert filed_in(books) == ()


def test_nothing_new_is_nothing_to_amend_and_the_page_stays(books: Books) -> None:
    file(on_day(books, APRIL), APRIL)

    async def walk(window: Window) -> None:
        await window.press("f")
        assert window.place == "WorksheetPage"

    walked(books, walk)
    assert len(filed_in(books)) == 1
