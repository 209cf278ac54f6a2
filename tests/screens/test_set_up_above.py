"""The room of the set-up list tells what is above a rule, at the item that the rule came from."""

from __future__ import annotations

import pytest

from ledger.actions.answers import AnswerRequest, perform
from ledger.books.books import Books
from tests.screens.window import LARGE, SMALL, opened


def told(books: Books, item: str, value: str) -> None:
    perform(books, AnswerRequest(item, value, "Mr Hale"))


async def test_what_is_above_is_marked_in_the_list_and_told_on_the_page(books: Books) -> None:
    told(books, "people_working", "0")
    told(books, "sign_size", "2")
    told(books, "how_you_work", "1, 2, 9 am to 5 pm")
    async with opened(books, LARGE) as window:
        await window.press("6")
        row = next(number for number in range(40) if "People who do not" in window.table(number)[2])
        assert window.table(row)[2].startswith("! ")
        sign = next(number for number in range(40) if "A sign" in window.table(number)[2])
        assert window.table(sign)[2].startswith("  ")
        assert "1 above a rule" in window.text()
        window.screen.select("people_working")  # type: ignore[attr-defined]
        await window.settle()
        page = " ".join(window.said_by("#page").split())
        assert "! People who live elsewhere: 1, above what you were told (0) by 1." in page
        assert "Who decides: zoning office of the town or county." in page


async def test_nothing_above_is_no_mark_and_no_word(books: Books) -> None:
    told(books, "people_working", "1")
    told(books, "how_you_work", "1, 2, 9 am to 5 pm")
    async with opened(books, SMALL) as window:
        await window.press("6")
        assert "above" not in window.text()
        assert [number for number in range(20) if window.table(number)[2].startswith("! ")] == []


@pytest.mark.parametrize(
    ("item", "value", "said"),
    [
        ("floor_share", "130 % of the house", "more than 100"),
        ("sign_size", "large", "is no size"),
        ("visits_a_day", "four", "no whole number"),
        ("customer_hours", "9 to 5", "leaves morning or evening open"),
        ("rooms_measured", "1000, 900, 1800, 0, 0", "larger than the floor"),
        ("how_you_work", "0, 2, daily", "are no hours"),
    ],
)
async def test_an_answer_of_the_wrong_kind_is_told_beside_the_field(
    books: Books, item: str, value: str, said: str
) -> None:
    async with opened(books) as window:
        await window.press("6")
        window.screen.select(item)  # type: ignore[attr-defined]
        await window.press("a")
        await window.type(value=value, asked="Mr Hale")
        assert said in window.faults()["value"]
