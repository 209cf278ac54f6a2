"""The guide in the rooms: opened where one is, turned, listed, searched; and F1 in a form."""

from __future__ import annotations

from textual.widgets import Input, OptionList

from ledger.books.books import Books
from ledger.guide.chapters import CHAPTERS, OF_ROOM, find
from ledger.screens.doors import DOORS
from tests.screens.test_colours import NEEDED, faint
from tests.screens.window import LARGE, Window, opened


def listed(window: Window) -> list[str]:
    options = window.screen.query_one(OptionList)
    return [str(options.get_option_at_index(place).prompt) for place in range(options.option_count)]


def chapter(window: Window) -> str:
    return str(window.screen.query_one("GuidePage > Vertical").border_title).removeprefix("Guide: ")


async def test_the_guide_opens_at_the_chapter_of_the_room_and_goes_back_to_its_help(books: Books) -> None:
    async with opened(books) as window:
        for door in DOORS[2:4]:
            await window.press(door.digit or "escape", "question_mark", "g")
            assert window.place == "GuidePage"
            assert chapter(window) == CHAPTERS[OF_ROOM[door.name]]
            await window.press("escape", "escape")


async def test_the_arrows_turn_through_every_chapter_and_round_again(books: Books) -> None:
    async with opened(books, (60, 18)) as window:
        await window.press("question_mark", "g")
        scroll = window.screen.query_one("#chapter")
        await window.press("end")
        assert scroll.scroll_y == scroll.max_scroll_y > 0
        for title in (*list(CHAPTERS.values())[1:], next(iter(CHAPTERS.values()))):
            await window.press("right")
            assert (chapter(window), scroll.scroll_y) == (title, 0)
        await window.press("left")
        assert chapter(window) == list(CHAPTERS.values())[-1]


async def test_a_chapter_is_chosen_from_the_list_beside_it(books: Books) -> None:
    async with opened(books, LARGE) as window:
        await window.press("question_mark", "g", "c")
        assert listed(window) == list(CHAPTERS.values())
        await window.press("down", "enter")
        assert chapter(window) == list(CHAPTERS.values())[1]
        assert "Prices first" in window.text()


async def test_words_are_found_in_all_chapters_and_shown_where_they_stand(books: Books) -> None:
    async with opened(books) as window:
        await window.press("question_mark", "g", "slash")
        await window.press(*"safe harb")
        places = list(find("safe harb"))
        assert len(listed(window)) == len(places) >= 2
        await window.press("enter", "down", "enter")
        assert chapter(window) == CHAPTERS[places[1].chapter]
        assert places[1].words.split(". ")[0][:30] in " ".join(window.text().split())
        assert window.screen.focused is window.screen.query_one("#chapter")
        cells = [each for strip in window.strips for each in strip if each.style and each.style.reverse]
        assert {each.text.casefold() for each in cells if each.text.isalpha()} == {"safe", "harb"}


async def test_what_is_found_nowhere_is_nowhere_and_escape_leaves_the_finding_first(books: Books) -> None:
    async with opened(books) as window:
        await window.press("question_mark", "g", "slash", *"xyzzy", "enter")
        assert listed(window) == []
        assert window.screen.focused is window.screen.query_one(Input)
        await window.press("escape")
        assert window.place == "GuidePage"
        await window.press("c", "escape")
        assert window.place == "GuidePage"
        assert "You can do no harm" in window.text()
        await window.press("escape")
        assert window.place == "HelpPage"


async def test_the_palette_opens_the_guide_a_chapter_and_a_word(books: Books) -> None:
    async with opened(books) as window:
        for words, title, said in (
            ("guide sunday", "Sunday evening", "Ten receipts"),
            ("what is draw", "Words", "take out of the workshop for yourself"),
        ):
            await window.press("slash")
            window.screen.query_one(Input).value = words
            for _ in range(3):
                await window.settle()
            await window.press("enter")
            assert window.place == "GuidePage"
            assert chapter(window) == title
            assert said in window.text()
            await window.press("escape")


async def test_every_letter_of_the_guide_stands_out_from_its_ground(books: Books) -> None:
    async with opened(books, (130, 30)) as window:
        await window.press("question_mark", "g")
        for theme, least in NEEDED.items():
            window.app.theme = theme
            await window.press("left", "home")
            assert list(faint(window.strips, least)) == []
            await window.press("slash", "d", "enter")
            assert list(faint(window.strips, least)) == []
            await window.press("enter")
            assert list(faint(window.strips, least)) == []


async def test_f1_explains_a_form_keeps_what_is_typed_and_opens_the_chapter_of_the_room(books: Books) -> None:
    async with opened(books, (100, 50)) as window:
        await window.press("2", "s")
        await window.type(who="Mill")
        await window.press("f1")
        assert window.place == "HelpPage"
        for said in ("Enter a receipt, whoever paid it.", "12.50+3", "Mixed receipt:"):
            assert said in window.text()
        await window.press("g")
        assert chapter(window) == CHAPTERS["sunday"]
        await window.press("escape", "f1")
        assert window.place == "SpendForm"
        assert window.values()["who"] == "Mill"


async def test_f1_explains_wherever_one_is(books: Books) -> None:
    async with opened(books) as window:
        for keys in ((), ("2",), ("2", "r"), ("s",)):
            await window.press(*keys, "f1")
            assert window.place == "HelpPage", keys
            await window.press("escape", "escape", "escape")


async def test_the_question_mark_explains_a_page_over_a_room(books: Books) -> None:
    async with opened(books) as window:
        await window.press("2", "y", "c", "question_mark")
        assert window.place == "HelpPage"
        for said in ("Categories", "merge", "Category:", "Schedule C:"):
            assert said in window.text()
        await window.press("question_mark")
        assert window.place == "CategoriesPage"


async def test_w_goes_past_the_keys_to_the_words_which_stand_beside_them_where_there_is_room(books: Books) -> None:
    async with opened(books) as window:
        await window.press("1", "question_mark")
        assert "Deposit: Money that" not in window.text()
        await window.press("w")
        assert "Deposit: Money that" in window.text()
        await window.resize(*LARGE)
        await window.press("home")
        assert any("Pick up." in line for line in window.lines())
        assert "Deposit: Money that" in window.text()
