"""`/` lists rooms and acts and leads to them; help explains each room by the same rows."""

from __future__ import annotations

import pytest
from textual.widgets import Input, OptionList

from ledger.actions.registry import ACTS, acts_of_room
from ledger.books.books import Books
from ledger.guide.words import read_words
from ledger.screens.doors import DOORS
from ledger.screens.help import WORDS, first_sentence, help_lines, word_lines
from tests.screens.window import Window, opened


async def find(window: Window, words: str) -> list[str]:
    """What the page lists for these words."""
    await window.press("slash")
    window.screen.query_one(Input).value = words
    await window.settle()
    return listed(window)


def listed(window: Window) -> list[str]:
    options = window.screen.query_one(OptionList)
    return [str(options.get_option_at_index(place).prompt) for place in range(options.option_count)]


async def test_the_page_lists_every_room_and_every_act_before_anything_is_typed(books: Books) -> None:
    async with opened(books) as window:
        await window.press("slash")
        assert window.place == "FindPage"
        words = [each[12:].partition(": ")[0] for each in listed(window)]
        assert words == ["Guide", *(each.title for each in DOORS), *(each.words for each in ACTS)]


async def test_the_page_goes_into_a_room_and_does_an_act_on_what_is_selected_there(books: Books) -> None:
    async with opened(books) as window:
        assert (await find(window, "set-as"))[0].startswith("Room        Set-aside")
        await window.press("enter")
        assert window.place == "SetAsideRoom"
        await window.press("1", "down")
        assert (await find(window, "depos"))[0].startswith("Do          Deposit")
        await window.press("enter")
        assert window.place == "JobMoneyForm"
        assert "Ben Okoro" in window.text()


async def test_an_act_without_what_it_is_about_says_what_to_choose(books: Books) -> None:
    async with opened(books) as window:
        await find(window, "give up")
        await window.press("enter")
        assert window.told() == ["No job is selected. Choose one on the Bench first."]


@pytest.mark.parametrize("name", [each.name for each in DOORS])
def test_help_explains_the_room_by_the_rows_of_the_table_of_acts(name: str) -> None:
    words = [read_words()[each] for each in WORDS[name]]
    lines = [*help_lines(name), *word_lines(words)]
    said = " ".join(" ".join(lines).split())
    for each in (act for act in acts_of_room(name) if act.key):
        assert f"{each.key} {each.words}. {first_sentence(each.help)}" in said
    assert next(each.purpose for each in DOORS if each.name == name) in said
    for word in words:
        assert f"{word.name}: {word.meaning}" in said
        assert word.caution is None or f"! Caution: {word.caution}" in said
    assert "/ find" in said
    assert all(len(line) <= 72 for line in lines)


async def test_the_question_mark_explains_each_room_and_goes_away_again(books: Books) -> None:
    async with opened(books, (100, 50)) as window:
        for door in DOORS:
            if door.digit:
                await window.press(door.digit)
            await window.press("question_mark")
            assert window.place == "HelpPage"
            assert door.purpose in window.text()
            await window.press("question_mark")
            assert window.place.endswith("Room")
        await window.press("5", "question_mark")
        assert "←" in window.text(), "a room's own keys stand in its help too"


def test_what_a_command_calls_in_capitals_is_a_word_like_others_in_the_rooms() -> None:
    assert first_sentence("HOURS of a day at a job. More.") == "Hours of a day at a job."
    assert first_sentence("A PDF of PERIOD.") == "A PDF of period."
