"""Keys: each one in the footer does something, none has two meanings in a room, and each can be clicked."""

from __future__ import annotations

from collections import Counter

import pytest
from textual.binding import Binding

from ledger.books.books import Books
from ledger.screens.doors import DOORS, room
from ledger.screens.forms.answer import AnswerForm
from ledger.screens.forms.form import Form
from ledger.screens.forms.pickup import PickupForm
from ledger.screens.keys import KeyLine
from tests.screens.window import Window, opened

ROOMS = [each.name for each in DOORS]
DIGITS = {each.name: each.digit or "escape" for each in DOORS}


def shown_keys(window: Window) -> list[Binding]:
    """The keys that stand at the foot of what is on top."""
    line = window.screen.query_one(KeyLine)
    return [each for row in line.fitting(window.app.size.width - 2) for each in row]


def words_of(key: Binding) -> str:
    return f"{key.key_display or key.key} {key.description}"


def state(window: Window) -> tuple[object, ...]:
    """All that a key can change: where one is, what stands there, what was told."""
    told = tuple(each.identity for each in window.app._notifications)
    return window.place, window.depth, window.text(), told, window.app.is_running


@pytest.mark.parametrize("name", ROOMS)
async def test_every_key_in_the_footer_does_something(books: Books, name: str) -> None:
    async with opened(books) as window:
        everywhere = [each.key for each in shown_keys(window)]
        await window.press(DIGITS[name])
        keys = [each for each in shown_keys(window) if each.action != "app.quit"]
        assert {"p", "n", "s", "question_mark", "slash"} <= {each.key for each in keys}
        # What every room has is tried at home.
        for each in keys if name == "home" else [each for each in keys if each.key not in everywhere]:
            before = state(window)
            await window.press(each.key)
            assert state(window) != before, f"{each.key} does nothing"
            await back_to(window, name)
        if name == "home":
            await window.press("q")
            assert window.app._exit


async def back_to(window: Window, name: str) -> None:
    """Out of whatever a key opened, to the room."""
    while window.place != f"{name.title().replace('_', '')}Room":
        if window.place == "HomeRoom":
            await window.press(DIGITS[name])
        else:
            await window.press("escape")


@pytest.mark.parametrize("name", ROOMS)
def test_no_key_has_two_meanings_in_one_room(name: str) -> None:
    bindings = [each for each in type(room(name)).BINDINGS if isinstance(each, Binding)]
    keys = Counter(key for each in bindings for key in each.key.split(","))
    assert [key for key, meanings in keys.items() if meanings > 1] == []


@pytest.mark.parametrize("form", [Form, PickupForm, AnswerForm])
def test_no_key_has_two_meanings_in_one_form(form: type[Form]) -> None:
    keys = Counter(key for each in form.BINDINGS if isinstance(each, Binding) for key in each.key.split(","))
    assert [key for key, meanings in keys.items() if meanings > 1] == []


@pytest.mark.parametrize("size", [(60, 18), (80, 24)])
async def test_the_line_of_keys_takes_two_lines_at_most_breaks_between_keys_and_keeps_help_and_the_way_back(
    books: Books, size: tuple[int, int]
) -> None:
    async with opened(books, size) as window:
        for name in ("home", "bench", "money", "quarter"):
            await window.press(DIGITS[name])
            line = window.screen.query_one(KeyLine)
            rows = line.fitting(size[0] - 2)
            lines = [each.strip() for each in window.lines()[line.region.y : line.region.bottom]]
            assert 1 <= len(rows) <= 2
            assert lines == [
                "  ".join(f"{each.key_display or each.key} {each.description}" for each in row) for row in rows
            ]
            assert {"slash", "question_mark"} <= {each.key for row in rows for each in row}


async def test_the_keys_of_a_room_and_of_a_form_can_be_clicked(books: Books) -> None:
    async with opened(books) as window:
        await window.click("Help")
        assert window.place == "HelpPage"
        await window.click("Esc back")
        assert window.place == "HomeRoom"
        await window.click("Pick up")
        await window.click("Ben Okoro")
        assert window.place == "PickupForm"
        await window.click("k check")
        assert window.values()["paid"] == "check"
        await window.click("Esc back")
        assert window.place == "Leaving"
        await window.click("n stay")
        await window.click("Enter done")
        assert window.place == "ReceiptPage"
        await window.click("Enter close")
        assert window.place == "HomeRoom"


async def test_escape_is_one_step_back_from_everywhere(books: Books) -> None:
    async with opened(books) as window:
        for keys in (("p", "enter"), ("s",), ("question_mark",), ("slash",), ("5",)):
            depth = window.depth
            await window.press(*keys)
            assert window.depth == depth + 1, keys
            await window.press("escape")
            assert (window.place, window.depth) == ("HomeRoom", depth), keys
        await window.press("2", "m")
        await window.press("escape")
        assert window.place == "MoneyRoom"


async def test_letters_act_only_where_no_text_field_has_the_focus(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s", "p", "n", "question_mark", "slash", "1")
        assert window.place == "SpendForm"
        assert window.values()["who"] == "pn?/1"


async def test_arrows_and_page_keys_move_through_every_long_room_and_tab_to_its_other_part(books: Books) -> None:
    async with opened(books) as window:
        await window.press("5", "down", "down")
        assert window.screen.query_one("VerticalScroll").scroll_y > 0
        await window.press("left")
        assert "2025" not in window.text(), "the books began in January"
        await window.press("6", "tab", "down", "down")
        assert window.screen.query_one("#page-frame").scroll_y > 0
        await window.press("2", "down", "tab")
        assert window.screen.focused is window.screen.query_one("#detail-frame")
        await window.press("u")
        assert window.place == "ReverseForm", "letters act from there too"


async def test_the_bench_shows_the_key_for_a_price_until_there_is_one(empty_books: Books, with_prices: Books) -> None:
    async with opened(empty_books) as window:
        await window.press("1")
        assert shown_keys(window)[0].key == "m"
        await window.press("m")
        await window.type(name="Binding", by="length", rate="0.30", **{"class": "work"})
        await window.press("ctrl+s")
        assert "m" not in [each.key for each in shown_keys(window)]
    async with opened(with_prices) as window:
        await window.press("1")
        assert "m" not in [each.key for each in shown_keys(window)]


async def test_the_machine_shows_the_key_for_the_loan_to_which_its_sentences_send(books: Books) -> None:
    async with opened(books) as window:
        await window.press("3", "l")
        assert window.told()[-1].endswith("Enter its terms with t first.")
        assert "t" in [each.key for each in shown_keys(window)]
