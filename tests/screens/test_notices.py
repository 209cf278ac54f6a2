"""What is told: above the keys, whole, covering nothing, there until it was read, and to be read again."""

from __future__ import annotations

import pytest

from ledger.books.books import Books
from ledger.screens.keys import KeyLine
from tests.screens.window import Window, opened

LONG = "The returned check of Ada Brook was booked, and she owes 80.64 again; " * 3


def told_in_the_window(window: Window) -> str:
    """The words above the keys, in one line."""
    line = window.screen.query_one(KeyLine)
    return " ".join(each.strip() for each in window.lines()[line.region.y : line.region.bottom])


@pytest.mark.parametrize("size", [(60, 18), (80, 24)])
async def test_long_sentences_are_wrapped_and_cover_nothing(books: Books, size: tuple[int, int]) -> None:
    async with opened(books, size) as window:
        await window.press("1", "end")
        before = window.screen.query_one("#room-body").region
        window.app.tell(LONG, "warning")  # type: ignore[attr-defined]
        window.app.tell("And this too.")  # type: ignore[attr-defined]
        await window.settle()
        line, body = window.screen.query_one(KeyLine).region, window.screen.query_one("#room-body").region
        assert f"! {LONG.strip()} And this too. p Pick up" in told_in_the_window(window)
        assert (body.y, body.bottom) == (before.y, line.y), "the room has become lower, and nothing lies over it"
        assert line.bottom == size[1]
        table = window.screen.query_one("#jobs")
        row = window.table()
        assert row[4].split(",")[0][:12] in "\n".join(window.lines()[table.region.y : table.region.bottom])


async def test_a_sentence_stays_until_a_key_after_it_was_read(books: Books, monkeypatch: pytest.MonkeyPatch) -> None:
    async with opened(books) as window:
        window.app.tell("Kept.")  # type: ignore[attr-defined]
        await window.press("2", "down")
        assert window.told() == ["Kept."], "nobody has read it yet"
        assert "Kept." in told_in_the_window(window), "also in a room that was entered after it was told"
        monkeypatch.setattr("ledger.screens.notices.reading_seconds", lambda _: 0.0)
        await window.settle()
        assert "Kept." in told_in_the_window(window), "and while no key is pressed"
        await window.press("down")
        assert window.told() == []
        assert "Kept." not in window.text()


async def test_the_next_act_begins_without_it_and_it_can_be_read_again(books: Books) -> None:
    async with opened(books) as window:
        window.app.tell("First.")  # type: ignore[attr-defined]
        window.app.tell("Second.", "error")  # type: ignore[attr-defined]
        await window.settle()
        window.app.tell("Second.", "error")  # type: ignore[attr-defined]
        await window.settle()
        assert window.told() == ["First.", "Second."], "what the disk reports each second stands once"
        await window.press("s", "escape")
        assert window.told() == []
        await window.press("slash", *"told lately", "enter")
        page = window.text()
        assert page.index("Second.") < page.index("First.")


async def test_what_is_told_in_a_page_stands_in_its_frame(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "h")
        assert window.screen.query(KeyLine)
        window.app.tell("Nobody was paid yet.", "warning")  # type: ignore[attr-defined]
        await window.settle()
        assert "! Nobody was paid yet." in told_in_the_window(window)
