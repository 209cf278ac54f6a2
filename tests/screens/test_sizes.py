"""The smallest window: every room and form can be used in it, and nothing is torn or hidden."""

from __future__ import annotations

from textual.widgets import Input

from ledger.books.books import Books
from ledger.screens.keys import KeyLine
from tests.screens.window import Window, opened

SMALLEST = (60, 18)
# From home: the room, then the key of a form.
FORMS = (("s",), ("n",), ("1", "p"), ("1", "d"), ("2", "m"), ("2", "w"), ("3", "c"), ("4", "u"), ("5", "k"), ("6", "a"))


def inside(window: Window, selector: str | type[KeyLine] = KeyLine) -> bool:
    region = window.screen.query_one(selector).region
    width, height = window.app.size
    return region.height > 0 and region.right <= width and region.bottom <= height


async def test_every_form_shows_its_field_and_its_keys(books: Books) -> None:
    async with opened(books, SMALLEST) as window:
        for keys in FORMS:
            for key in ("escape", *keys):
                await window.press(key)
            await window.settle()
            form = window.place
            assert form.endswith("Form"), keys
            line = window.screen.query_one(KeyLine)
            assert inside(window), form
            assert line.region.height == len(line.fitting(line.content_size.width)), form
            field = window.screen.focused or window.screen.query(Input).first()
            assert field.region.width >= 20, form
            assert field.region.bottom <= line.region.y, form
            await window.press("escape")


async def test_a_pickup_shows_what_is_due(books: Books) -> None:
    async with opened(books, SMALLEST) as window:
        await window.press("p", "enter")
        assert "Due $" in window.text()
        await window.resize(80, 24)
        assert "Due $" in window.text()


async def test_words_and_their_amount_stand_in_one_line_of_the_quarter(books: Books) -> None:
    async with opened(books, SMALLEST) as window:
        await window.press("5")
        assert [line for line in window.lines() if "job income" in line and line.rstrip(" ▁▂▃▄▅▆▇█")[-3] == "."]
