"""The quarter's end by keyboard: three keys for the packet, closing, questions, and statements that turn."""

from __future__ import annotations

from datetime import date

from ledger.books.books import Books
from ledger.books.entries import closed_through, read_page
from ledger.quarter.own_questions import own_questions
from tests.screens.conftest import OpenBooks
from tests.screens.small_books import begin_small
from tests.screens.window import LARGE, opened

APRIL = date(2026, 4, 3)


async def test_a_quarter_is_gone_through_handed_over_and_closed_by_keyboard_alone(open_copy: OpenBooks) -> None:
    books = open_copy(begin_small, APRIL)
    async with opened(books) as window:
        await window.press("5", "left")
        assert "2026-Q1, on the cash method" in window.text()
        await window.press("r", "right", "escape", "a")
        await window.type(question="Is the frame one asset?")
        await window.press("ctrl+s", "k", "enter", "enter")
        assert window.place == "QuarterRoom"
        await window.press("c", "ctrl+s")
        assert window.told()[-1] == "Closed: nothing more is entered up to 2026-03-31."
        assert closed_through(books) == date(2026, 3, 31)


async def test_the_packet_is_that_of_the_quarter_shown_where_it_is_over(open_copy: OpenBooks) -> None:
    async with opened(open_copy(begin_small, date(2026, 8, 1))) as window:
        await window.press("5")
        await window.press("k")
        assert window.values()["period"] == "2026-Q2", "the running one is not over"
        await window.press("escape", "left", "left", "k")
        assert window.values()["period"] == "2026-Q1"


async def test_a_running_quarter_is_closed_by_nobody_and_the_form_keeps_what_was_typed(books: Books) -> None:
    async with opened(books) as window:
        await window.press("5", "c")
        await window.type(period="2026-Q1")
        await window.press("ctrl+s")
        assert window.faults()["period"].startswith("The period runs until 2026-03-31.")
        assert window.values()["period"] == "2026-Q1"
        assert closed_through(books) is None


async def test_the_statements_turn_one_after_the_other_and_come_round(books: Books) -> None:
    async with opened(books, LARGE) as window:
        await window.press("5", "r")
        titles = []
        for _ in range(5):
            titles.append(next(each for each in window.lines() if "of 4)" in each))
            await window.press("right")
        assert [each.split("(")[1][0] for each in titles] == ["1", "2", "3", "4", "1"]
        await window.press("escape")
        assert window.place == "QuarterRoom"


async def test_an_answer_takes_its_question_off_the_list_by_number(books: Books) -> None:
    async with opened(books) as window:
        await window.press("5", "a")
        await window.type(question="Is the frame one asset?")
        await window.press("ctrl+s", "e")
        numbered = [line for line in window.lines() if "Is the frame one asset?" in line]
        number = numbered[0].split(".")[0].strip(" │")
        await window.type(number=number, answer="Yes.", who="Ann Ledger")
        await window.press("ctrl+s")
        assert own_questions(books) == ()


async def test_a_number_that_is_not_on_the_list_is_said_beside_its_field(books: Books) -> None:
    async with opened(books) as window:
        await window.press("5", "e")
        for typed, said in (("999", "There is no question 999."), ("x", "That is no number.")):
            await window.type(number=typed)
            assert window.faults()["number"].startswith(said)


async def test_a_folder_that_cannot_be_written_to_is_a_sentence_and_nothing_is_lost(open_copy: OpenBooks) -> None:
    books = open_copy(begin_small, APRIL)
    taken = books.folder / "taken"
    taken.write_text("mine", encoding="utf-8")
    async with opened(books) as window:
        await window.press("5", "k")
        await window.type(packet=str(taken))
        await window.press("enter")
        assert "cannot be written to" in window.faults()["packet"]
        assert window.values()["packet"] == str(taken)
    assert taken.read_text(encoding="utf-8") == "mine"


async def test_a_receipt_of_a_closed_quarter_is_entered_today_and_carries_its_day(open_copy: OpenBooks) -> None:
    books = open_copy(begin_small, APRIL)
    async with opened(books) as window:
        await window.press("5", "c", "ctrl+s", "s")
        await window.type(
            **{"who": "Corner shop", "amount": "7.50", "category": "thread", "from": "checking", "on": "3/12"}
        )
        assert "is closed: entered today, and it carries that day." in window.text()
        await window.press("ctrl+s")
        entry = read_page(books, 1)[0]
        assert (entry.on, entry.belongs_on) == (APRIL, date(2026, 3, 12))


async def test_closing_goes_in_order_so_the_first_open_quarter_is_offered(open_copy: OpenBooks) -> None:
    async with opened(open_copy(begin_small, date(2026, 10, 2))) as window:
        await window.press("5", "left", "c")
        assert window.values()["period"] == "2026-Q1"
