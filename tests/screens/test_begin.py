"""The first minutes: six questions, and what is wrong with an answer stands beside it."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from decimal import Decimal
from pathlib import Path

import pytest

from checklists import choices
from checklists.not_yet_known import still_unknown
from checklists.records import read_catalogue_of, read_standings
from ledger.actions import set_rate
from ledger.books.places import books_file
from ledger.screens.begin import BeginApp
from ledger.screens.first_answers import QUESTIONS, place_of
from ledger.taxes.rules import rates_on
from tests.screens.small_books import TODAY
from tests.screens.window import SMALL, Window, shown
from tests.workshop import balance_of, clock_of, reopened

ANSWERS = {
    "name": "Lantern Quilting",
    "place": "USD en_US",
    "machine_price": "18,500",
    "opening": "1,200.50",
    "rates": "state 4.3, county 1.0",
    "owned": "1",
}


@asynccontextmanager
async def beginning(folder: Path, size: tuple[int, int] = SMALL) -> AsyncIterator[Window]:
    async with shown(BeginApp(folder, clock_of(TODAY), {}), size) as window:
        yield window


async def test_six_answers_begin_the_books(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        assert len(QUESTIONS) == 6
        await window.type(**ANSWERS)
        await window.press("enter")
        assert window.app.return_value is True
    books = reopened(tmp_path / "books", TODAY)
    assert (books.settings.name, books.settings.currency.code, books.settings.locale) == (
        *("Lantern Quilting", "USD", "en_US"),
    )
    assert (balance_of(books, "machine"), balance_of(books, "checking")) == (18_500_00, 1_200_50)
    assert {each.jurisdiction: each.percent for each in rates_on(books, TODAY)} == {
        "state": Decimal("4.3"),
        "county": Decimal("1.0"),
    }
    held = choices.held_choice(books, choices.STRUCTURE, TODAY)
    assert held is not None
    assert "sole proprietor" in str(held)
    books.close()


async def test_what_is_not_known_yet_can_wait(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.type(name="Lantern", rates="not yet known", owned="2")
        await window.press("ctrl+s")
        assert window.app.return_value is True
    books = reopened(tmp_path / "books", TODAY)
    assert rates_on(books, TODAY) == ()
    assert balance_of(books, "checking") == 0
    assert still_unknown(books) == ("rates", "machine_price", "opening")
    stage = read_catalogue_of(books).stages[1]
    assert [each.id for each in stage.items[:3]] == ["own_tax_rates", "own_machine_cost", "own_bank_balance"]
    books.close()


async def test_what_is_entered_later_settles_what_was_not_known(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.type(name="Lantern", opening="0", machine_price="not here yet", rates="?")
        assert "stands on your list in Set-up until then: the sales tax rates, how it is owned." in " ".join(
            window.said_by("#waiting").split()
        )
        await window.press("ctrl+s")
    books = reopened(tmp_path / "books", TODAY)
    assert still_unknown(books) == ("rates",)
    set_rate.perform(books, set_rate.RateRequest("state", Decimal("4.3"), TODAY))
    assert still_unknown(books) == ()
    settled = next(each for each in read_standings(books) if each.id == "own_tax_rates")
    assert settled.answer is not None
    assert settled.answer.value == "state 4.30 %"
    books.close()


async def test_what_was_wrong_is_said_no_more_once_it_is_right(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.type(machine_price="12x")
        assert set(window.faults()) == {"machine_price"}
        await window.type(machine_price="12")
        assert window.faults() == {}
        await window.press("ctrl+s")
        assert set(window.faults()) == {"name"}
        await window.type(name="Lantern")
        assert window.faults() == {}


@pytest.mark.parametrize(
    ("environment", "offered"),
    [
        ({}, "USD en_US"),
        ({"LANG": "C.UTF-8"}, "USD en_US"),
        ({"LANG": "de_DE.UTF-8"}, "EUR de_DE"),
        ({"LANG": "en_US.UTF-8", "LC_ALL": "en_CA.UTF-8@x"}, "CAD en_CA"),
        ({"LANG": "eo"}, "USD en_US"),
        ({"LANG": "../../etc"}, "USD en_US"),
        ({"LC_MONETARY": "ja_JP.eucJP"}, "JPY ja_JP"),
        ({"LANG": "C"}, "USD en_US"),
        ({"LC_ALL": "POSIX", "LANG": "de_DE.UTF-8"}, "USD en_US"),
        ({"LANG": "en_US_POSIX.UTF-8"}, "USD en_US"),
        ({"LANG": "ca_ES@valencia"}, "EUR ca_ES"),
    ],
)
def test_currency_and_place_are_offered_as_the_system_has_them(environment: dict[str, str], offered: str) -> None:
    assert place_of(environment) == offered


async def test_how_it_is_owned_can_be_chosen_from_a_list(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.press(*"Wren", *["enter"] * 5, "f2", "down", "down", "enter")
        assert window.values()["owned"] == "one-owner LLC"
        await window.press("enter")
        assert window.app.return_value is True
    books = reopened(tmp_path / "books", TODAY)
    assert "one-owner LLC" in str(choices.held_choice(books, choices.STRUCTURE, TODAY))
    books.close()


async def test_every_wrong_answer_is_told_at_once_and_nothing_is_begun(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.type(name="=", machine_price="12x", opening="5,00", rates="state 4,3", owned="4")
        await window.press("ctrl+s")
        assert set(window.faults()) == {"name", "machine_price", "opening", "rates", "owned"}
        await window.type(place="USD")
        await window.press("ctrl+s")
        assert window.faults()["place"] == "Give the currency, then the place. Such as USD en_US."
        assert window.values()["opening"] == "5,00"
        assert window.app.return_value is None
    assert not books_file(tmp_path / "books").exists()


async def test_anyone_but_a_sole_proprietor_or_a_one_owner_llc_is_told_kindly_whom_to_ask(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.type(**{**ANSWERS, "owned": "3"})
        await window.press("ctrl+s")
        said = window.faults()["owned"]
        assert "made for a sole proprietor, or a one-owner LLC" in said
        assert "Ask an accountant" in said
    assert not books_file(tmp_path / "books").exists()


@pytest.mark.parametrize("key", ["escape", "ctrl+q"])
async def test_leaving_asks_where_something_is_typed_and_begins_nothing(tmp_path: Path, key: str) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.type(name="Lantern")
        await window.press(key)
        assert window.place == "Leaving"
        await window.press("n")
        assert window.values()["name"] == "Lantern"
        await window.press(key, "y")
        assert window.app.return_value is False
    assert not (tmp_path / "books").exists()


async def test_leaving_at_once_asks_nothing(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.press("escape")
        assert window.app.return_value is False


async def test_a_folder_that_cannot_be_made_is_a_sentence_and_the_answers_stay(tmp_path: Path) -> None:
    (tmp_path / "in the way").write_text("a file", encoding="utf-8")
    async with beginning(tmp_path / "in the way" / "books") as window:
        await window.type(**ANSWERS)
        await window.press("ctrl+s")
        assert window.app.return_value is None
        assert window.said_by("#fault").endswith(".")
        assert str(tmp_path / "in the way") in window.said_by("#fault").replace("\n", "")
        assert window.values()["name"] == "Lantern Quilting"


async def test_another_currency_place_and_decimal_sign(tmp_path: Path) -> None:
    async with beginning(tmp_path / "books") as window:
        await window.type(name="Laterne", place="eur de-DE", opening="1.200,50", machine_price="18.500", owned="1")
        await window.press("ctrl+s")
        assert window.app.return_value is True, window.text()
    books = reopened(tmp_path / "books", TODAY)
    assert (books.settings.currency.code, books.settings.locale) == ("EUR", "de_DE")
    assert (balance_of(books, "machine"), balance_of(books, "checking")) == (18_500_00, 1_200_50)
    books.close()


@pytest.mark.parametrize("size", [(40, 10), (60, 18), (200, 60)])
async def test_the_questions_can_be_answered_by_keys_at_any_size(tmp_path: Path, size: tuple[int, int]) -> None:
    async with beginning(tmp_path / "books", size) as window:
        await window.press(*"Wren", "enter", "enter", "enter", "enter", "enter", "1", "enter")
        assert window.app.return_value is True
