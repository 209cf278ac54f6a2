"""Home: six blocks, each a live figure and a door, or the sentence that says what would fill it."""

from __future__ import annotations

import re
from datetime import date

import pytest

from ledger.actions import answers
from ledger.books.books import Books
from ledger.screens.doors import DOORS
from tests import workshop as w
from tests.screens.conftest import OpenBooks
from tests.screens.small_books import READY, TODAY, begin_small
from tests.screens.window import LARGE, SMALL, Window, opened

BLOCKS = [each.name for each in DOORS if each.digit]


def blocks(window: Window) -> dict[str, str]:
    """What each block says, its lines joined and single-spaced."""
    said = {name: window.said_by(f"#block-{name}") for name in BLOCKS}
    return {name: " ".join(text.split()) for name, text in said.items()}


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_each_block_says_what_the_books_hold(books: Books, size: tuple[int, int]) -> None:
    async with opened(books, size) as window:
        said = blocks(window)
        assert said["bench"].startswith(
            "2 ready for pickup 1 in hand, 1 late 2 to come 1 gone, still owed 3 pieces here,"
        )
        assert re.search(r"worth 1,200\.00\b", said["bench"])
        # 2,000.00 in the bank and a deposit of 50.00, less a draw of 100.00; two pickups in cash.
        assert re.search(r"Checking 1,950\.00 Cash box 619\.16\b", said["money"])
        assert re.search(r"^2\.\d\d % earned .* Cost 18,500\.00\b", said["machine"])
        assert re.search(r"^To draw 2,\d{3}\.\d\d before income tax To move \d+\.\d\d", said["set_aside"])
        assert re.search(r"Sales tax \d\d\.\d\d", said["set_aside"])
        assert re.search(r"^2026-Q1 13 days left Income \d", said["quarter"])
        assert re.search(r"^0 of \d+ settled .*Ask next: Work at home", said["set_up"])


async def test_every_block_changes_with_the_books(books: Books) -> None:
    """None of them is fixed text: a day of work in another window moves all six."""
    async with opened(books) as window:
        before = blocks(window)
        other = w.reopened(books.folder, TODAY)
        w.picked_up(other, READY, "cash")
        w.spent(other, "40.00", "thread", "checking")
        answer_first_item(other)
        other.close()
        window.app.look_around()  # type: ignore[attr-defined]
        await window.settle()
        after = blocks(window)
        assert [name for name in BLOCKS if after[name] == before[name]] == []


async def test_a_new_day_is_seen_while_the_rooms_stay_open(books: Books) -> None:
    days = [TODAY]
    async with opened(books, read_clock=lambda: w.clock_of(days[-1])) as window:
        assert "13 days left" in blocks(window)["quarter"]
        days.append(date(2026, 3, 26))
        window.app.look_around()  # type: ignore[attr-defined]
        await window.settle()
        assert "5 days left" in blocks(window)["quarter"]
        assert "Mar 26, 2026" in window.lines()[0]
        await window.press("p", "enter", "c", "enter")
        assert w.entries_of(books)[-1].on == date(2026, 3, 26)  # type: ignore[index]


async def test_a_block_without_data_says_what_would_fill_it(empty_books: Books) -> None:
    async with opened(empty_books) as window:
        said = blocks(window)
        assert said["bench"] == "No piece is here. Press n when the first one comes in."
        assert said["machine"] == "The machine has no price in the books yet."
        assert said["money"].startswith("Workshop Checking 0.00 Cash box 0.00")
        assert "Income 0.00" in said["quarter"]
        assert "Ask next:" in said["set_up"]


@pytest.mark.parametrize("size", [(60, 18), SMALL, LARGE])
async def test_six_blocks_fill_the_window_side_by_side_and_no_line_of_them_is_cut(
    open_copy: OpenBooks, size: tuple[int, int]
) -> None:
    async with opened(open_copy(begin_small), size) as window:
        regions = [window.screen.query_one(f"#block-{name}").region for name in BLOCKS]
        assert len({region.x for region in regions}) == 3
        assert len({region.y for region in regions}) == 2
        assert max(region.right for region in regions) <= size[0]
        assert max(region.right for region in regions) >= size[0] - 3
        assert max(region.bottom for region in regions) <= size[1] - 1
        for name in BLOCKS:
            block = window.screen.query_one(f"#block-{name}")
            lines = str(block.render()).splitlines()
            assert len(lines) <= block.content_size.height, name
            assert all(len(line) <= block.content_size.width for line in lines), (name, lines)


async def test_a_wider_and_higher_window_says_more(open_copy: OpenBooks) -> None:
    async with opened(open_copy(begin_small), SMALL) as window:
        small = {name: len(said) for name, said in blocks(window).items()}
        await window.resize(*LARGE)
        large = {name: len(said) for name, said in blocks(window).items()}
        assert all(large[name] >= small[name] for name in BLOCKS)
        assert sum(large.values()) > sum(small.values()) + 100
        await window.resize(*SMALL)
        assert {name: len(said) for name, said in blocks(window).items()} == small


async def test_a_block_is_opened_by_its_digit_by_enter_and_by_a_click(books: Books) -> None:
    async with opened(books) as window:
        for place, door in enumerate(each for each in DOORS if each.digit):
            if place % 3 == 0:
                await window.press(str(door.digit))
            elif place % 3 == 1:
                window.screen.query_one("#block-bench").focus()
                await window.press(*["right"] * place, "enter")
            else:
                await window.click(f"{door.digit} {door.title}")
            assert f" · {door.title} · " in window.lines()[0]
            await window.press("escape")
            assert window.place == "HomeRoom"


def answer_first_item(books: Books) -> None:
    answers.perform(books, answers.AnswerRequest("home_occupation", "yes", "the zoning office"))


@pytest.mark.parametrize(("day", "said"), [(date(2026, 3, 20), "Next due"), (date(2026, 3, 10), "Due since")])
async def test_what_is_due_is_said_to_be_late_once_its_day_has_passed(books: Books, day: date, said: str) -> None:
    on_the_tenth = w.on_day(books, date(2026, 3, 9))
    request = answers.AnswerRequest("home_policy_told", "told", "the agent", expires=day)
    answers.perform(on_the_tenth, request)
    async with opened(books) as window:
        assert f"{said} Mar {day.day}" in blocks(window)["set_up"]
