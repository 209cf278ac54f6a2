"""Home: six blocks, each a live figure and a door, or the sentence that says what would fill it."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import answers
from ledger.books.books import Books
from ledger.screens.doors import DOORS
from ledger.screens.told import More, Told
from tests import workshop as w
from tests.screens.conftest import OpenBooks
from tests.screens.small_books import READY, TODAY, begin_empty, begin_small, take_in_piece
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
        assert re.search(r"^Workshop 2,569\.16 Checking 1,950\.00 Cash box 619\.16 Household \+36\.00\b", said["money"])
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
        assert said["bench"] == "No piece is here. Press 1, then m, for the first price; then n for a piece."
        assert said["machine"].startswith("The machine has no price in the books yet. Press 3, then c,")
        assert said["money"].startswith("Workshop 0.00 Checking 0.00 Cash box 0.00 Household none yet")
        assert "Income 0.00" in said["quarter"]
        assert "Pickups (p)" in said["quarter"]
        assert "Nothing is due yet" in said["set_aside"]
        assert "Ask next:" in said["set_up"]


@pytest.mark.parametrize("size", [(60, 18), SMALL, (100, 30), (160, 50), LARGE])
@pytest.mark.parametrize("build", [begin_empty, begin_small])
async def test_no_block_is_empty_at_any_size(
    open_copy: OpenBooks, build: Callable[[Path], Books], size: tuple[int, int]
) -> None:
    async with opened(open_copy(build), size) as window:
        assert [name for name, said in blocks(window).items() if not said] == []


async def test_a_large_window_names_the_pieces_the_dates_the_entries_and_the_questions(books: Books) -> None:
    at_the_office = answers.AnswerRequest("filing_frequency", "quarterly, 20", "the revenue office")
    answers.perform(w.on_day(books, date(2026, 3, 17)), at_the_office)
    async with opened(books, LARGE) as window:
        said = blocks(window)
        assert "Ready for pickup Ada Brook, Log cabin, blue Ben Okoro, Star, queen" in said["bench"]
        assert "In hand, promised Cora Lind, Fan, baby Mar 13 late" in said["bench"]
        assert "Still owed Gia Moreno, Nine patch 52.65" in said["bench"]
        assert "Last entries Mar 16 Owner's draw 100.00 Mar 12 batting, Mill outlet 64.00" in said["money"]
        assert re.search(r"Earned by month 2026-03 █* ?-?[\d.]+ 2026-02 █+ 294\.00", said["machine"])
        dues = re.findall(
            r"[A-Z][a-z]{2} \d+ (?:Estimated|Sales) tax \S+ (?:[\d.]+ is \w+|no\w+ \w+ \w+)", said["set_aside"]
        )
        assert len(dues) >= 3
        assert "Apr 20 Sales tax 2026-Q1 33.81 is there" in dues
        assert "Open questions Customers still owe 52.65." in said["quarter"]
        assert "Then Covenants or lease" in said["set_up"]


async def test_new_books_say_which_key_comes_next_up_to_the_first_pickup(empty_books: Books) -> None:
    def told() -> list[str]:
        return [line.split("  ")[0] for line in window.said_by("#next").splitlines() if line]

    async with opened(empty_books, (100, 40)) as window:
        assert told()[:3] == ["6 then b", "1 then m", "n"]
        w.add_to_price_list(empty_books, "Edge-to-edge", "area", "0.02")
        await window.resize(100, 41)
        assert told()[:2] == ["6 then b", "n"]
        job = take_in_piece(empty_books, "Ada", "Star", 50, 60, ("Edge-to-edge",))
        await window.resize(100, 40)
        assert told()[0] == "p"
        w.picked_up(empty_books, job, "cash")
        await window.resize(100, 41)
        assert told() == ["6"]
        for item in ("goods", "work", "delivery"):
            w.answer(empty_books, item, False, TODAY)
        await window.resize(100, 40)
        assert not window.screen.query_one("#next").display


async def test_a_balance_from_before_the_books_is_no_piece_to_hand_over(empty_books: Books) -> None:
    async with opened(empty_books) as window:
        await window.press("6", "b")
        await window.type(debts="Ada Brook 120.50")
        await window.press("ctrl+s", "escape")
        assert [line.split("  ")[0] for line in window.said_by("#next").splitlines()][:2] == ["1 then m", "n"]
        await window.press("1")
        assert "Handed over before the books began." in window.text()
        assert "0 x 0" not in window.text()


def test_the_lists_of_a_block_share_its_room() -> None:
    told = Told(["figure"], [More("One", [["a"], ["b"], ["c"], ["d"]]), More("Two", [["e", "f"], ["g"]])])
    assert told.fitting(1) == ["figure"]
    assert told.fitting(3) == ["figure"]
    assert told.fitting(4) == ["figure", "", "One", "a"]
    assert told.fitting(9) == ["figure", "", "One", "a", "b", "c", "d"]
    assert told.fitting(10) == ["figure", "", "One", "a", "b", "c", "", "Two", "e", "f"]
    assert told.fitting(20) == ["figure", "", "One", "a", "b", "c", "d", "", "Two", "e", "f", "g"]


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
