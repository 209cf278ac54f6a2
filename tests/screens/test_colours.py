"""Colours: every letter can be read in every theme, and without colour none is sent and nothing is lost."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator, Iterator

import pytest
from rich.cells import cell_len
from rich.color import Color as Code
from rich.color import ColorSystem
from rich.segment import Segment
from textual.color import Color
from textual.strip import Strip
from textual.theme import Theme

from ledger import colours
from ledger.books.books import Books
from ledger.colours import colours_to_begin_with
from ledger.preferences import preferences_file
from ledger.screens.sixteen_colours import GROUNDS, INKS
from ledger.screens.themes import CHALK, DAYLIGHT, INK, LAMPLIGHT, PLAIN, TERMINAL, THEMES
from ledger.screens.without_drawing import WithoutDrawing
from ledger.signs import ASCII
from tests.screens.window import Window, opened

LEAST, HIGH = 4.5, 7.0
# What is asked of each theme; the last two send no colours of ours.
NEEDED = {DAYLIGHT.name: LEAST, LAMPLIGHT.name: LEAST, INK.name: HIGH, CHALK.name: HIGH}
# Of what is drawn and not read: the same guideline, «non-text contrast».
LEAST_DRAWN = 3.0
# What xterm ships for the sixteen; each terminal may have others, and most have them brighter.
XTERM = (
    *("#000000", "#cd0000", "#00cd00", "#cdcd00", "#0000ee", "#cd00cd", "#00cdcd", "#e5e5e5"),
    *("#7f7f7f", "#ff0000", "#00ff00", "#ffff00", "#5c5cff", "#ff00ff", "#00ffff", "#ffffff"),
)
# Lines and fillings are no text: frames, bars, and the edges of scroll bars.
NO_TEXT = re.compile(r"[\s\u2500-\u25ff│▁-█]*")
PLACES = (("escape",), ("1",), ("2",), ("3",), ("4",), ("5",), ("6",))
FORMS = (("p",), ("p", "enter", "c"), ("n",), ("s",), ("question_mark",), ("slash",), ("f3",))
PICTURES = (("5", "i"), ("b",), ("4", "y"), ("g",))
PAGES = (("2", "r"), ("4", "x"), ("2", "full_stop"), ("y",), ("1", "j"))


def contrast(one: Color, other: Color) -> float:
    """Contrast of two colours: W3C, Web Content Accessibility Guidelines 2.1, «contrast ratio»."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: Color) -> float:
    """Relative luminance: as above, «relative luminance»; 0.04045 as in IEC 61966-2-1."""
    parts = [each / 255 for each in (colour.r, colour.g, colour.b)]
    red, green, blue = (each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_contrast_is_what_the_guideline_says() -> None:
    assert contrast(Color.parse("#000000"), Color.parse("#ffffff")) == pytest.approx(21)
    assert contrast(Color.parse("#777777"), Color.parse("#ffffff")) == pytest.approx(4.48, abs=0.005)


def faint(strips: list[Strip], least: float) -> Iterator[str]:
    """The words that stand out too little from what is behind them, in all colours and in the nearest of 256."""
    for strip in strips:
        for segment in strip:
            style = segment.style
            if NO_TEXT.fullmatch(segment.text) or style is None or style.color is None or style.bgcolor is None:
                continue
            for codes, needed in ((ColorSystem.TRUECOLOR, least), (ColorSystem.EIGHT_BIT, LEAST)):
                ink, ground = (
                    Color.from_rich_color(Code.from_triplet(each.downgrade(codes).get_truecolor()))
                    for each in (style.color, style.bgcolor)
                )
                if contrast(ink, ground) < needed:
                    yield f"{segment.text.strip()!r} {ink.hex} on {ground.hex}: {contrast(ink, ground):.2f}"


def of_what_is_on_top(window: Window) -> list[Strip]:
    """A form lies over a room that is dimmed on purpose: only the form is to be read."""
    if window.place.endswith("Room"):
        return window.strips
    region = max((each.region for each in window.screen.children), key=lambda each: each.area)
    return [strip.crop(region.x, region.right) for strip in window.strips[region.y : region.bottom]]


async def shown_one_by_one(window: Window) -> AsyncIterator[tuple[str, ...]]:
    """Pictures in their rooms, then pages that lie over a room."""
    for keys in PICTURES:
        await window.press(*keys)
        yield keys
    for keys in PAGES:
        await window.press(*keys)
        assert not window.place.endswith("Room"), keys
        yield keys
        await window.press("escape")


@pytest.mark.parametrize("theme", NEEDED)
async def test_every_letter_stands_out_from_its_ground(books: Books, theme: str) -> None:
    async with opened(books, theme=theme) as window:

        def stands_out(where: object) -> None:
            assert list(faint(of_what_is_on_top(window), NEEDED[theme])) == [], where

        for keys in (*PLACES, *FORMS):
            if keys in FORMS:
                await window.press("escape")
            await window.press(*keys)
            stands_out(keys)
            if keys in FORMS:
                await window.press("escape", *(["y"] if keys == ("p", "enter", "c") else []))
        await window.press("slash", "h", "o", "down")
        stands_out("found, and one of them chosen")
        await window.press("escape", "s")
        await window.type(who="Cor", amount="12x", on="tomorrow")
        assert window.faults()
        stands_out("a form with faults")
        await window.press("escape")
        stands_out("asked before leaving")
        await window.press("y", "2", "tab")
        stands_out("the other part of a room")
        await window.press("full_stop", "f", "o")
        stands_out("a filter")
        await window.press("enter", "escape", "s", "tab", "tab", "f2", "down")
        stands_out("the answers to a field")
        await window.press("escape", "escape")
        async for keys in shown_one_by_one(window):
            stands_out(keys)
        await window.press("p", "enter", "c", "enter")
        stands_out("a receipt")
        await window.press("enter")
        for severity in ("information", "warning", "error"):
            window.app.tell("What was done.", severity)  # type: ignore[attr-defined]
        await window.settle()
        stands_out("told")


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_the_colours_of_text_in_a_theme_stand_out_from_each_of_its_grounds(theme: Theme) -> None:
    least = NEEDED.get(theme.name, LEAST)
    grounds = [Color.parse(str(getattr(theme, name))) for name in ("background", "surface", "panel")]
    for ink in ("foreground", "primary", "secondary", "accent", "success", "warning", "error"):
        for ground in grounds:
            assert contrast(Color.parse(getattr(theme, ink)), ground) >= least, (ink, ground.hex)
    assert contrast(Color.parse(str(theme.background)), Color.parse(theme.primary)) >= least


def test_what_is_drawn_in_the_terminals_colours_is_seen_on_white_and_on_black_and_its_grounds_carry_black() -> None:
    black, white = (Color.parse(XTERM[code]) for code in (0, 15))
    for code in {each for each in INKS if each is not None}:
        for ground in (black, white):
            assert contrast(Color.parse(XTERM[code]), ground) >= LEAST_DRAWN, (code, ground.hex)
    for code in {each for each in GROUNDS if each is not None}:
        assert contrast(Color.parse(XTERM[code]), black) >= HIGH, code


async def test_in_the_terminals_own_colours_nothing_is_read_but_its_own_letters_or_black_on_a_colour(
    books: Books,
) -> None:
    seen = set()
    async with opened(books, theme=TERMINAL.name) as window:
        for keys in (*PLACES, ("escape", "p"), ("enter", "c"), ("escape", "y", "slash", "h"), ("escape", "s", "1")):
            await window.press(*keys)
            for segment in (segment for strip in window.strips for segment in strip if segment.style is not None):
                codes = [each and each.number for each in (segment.style.color, segment.style.bgcolor)]
                assert all(each is None or (each.is_default or each.number is not None) for each in _colours(segment))
                seen.update(codes)
                if not NO_TEXT.fullmatch(segment.text):
                    assert codes in ([None, None], *([0, each] for each in GROUNDS)), segment
    assert {1, 5, 12} & seen, "and what is drawn has some colour"


def _colours(segment: Segment) -> list[Code]:
    assert segment.style is not None
    return [each for each in (segment.style.color, segment.style.bgcolor) if each is not None]


def test_the_colours_are_none_where_none_are_wanted_then_those_named_those_chosen_and_those_of_the_terminal() -> None:
    assert colours_to_begin_with({}) == colours.LAMPLIGHT
    assert colours_to_begin_with({"TERM": "linux"}) == colours.TERMINAL
    assert colours_to_begin_with({"TERM": "dumb"}) == colours.PLAIN
    assert colours_to_begin_with({"TWOPURSE_THEME": "daylight", "TERM": "linux"}) == colours.DAYLIGHT
    assert colours_to_begin_with({"TWOPURSE_THEME": "no such theme"}) == colours.LAMPLIGHT
    assert colours_to_begin_with({"NO_COLOR": "1", "TWOPURSE_THEME": "daylight"}) == colours.PLAIN
    assert colours_to_begin_with({"NO_COLOR": ""}) == colours.LAMPLIGHT, "an empty one means nothing: no-color.org"
    colours.keep_colours("chalk")
    assert colours_to_begin_with({"TERM": "linux"}) == colours.CHALK
    assert colours_to_begin_with({"TWOPURSE_THEME": "ink"}) == colours.INK


def test_every_set_has_a_theme_a_name_and_a_key_of_its_own() -> None:
    assert [each.name for each in colours.SETS] == [each.name for each in sorted(THEMES, key=_place)]
    assert len({each.key for each in colours.SETS}) == len(colours.SETS)


def _place(theme: Theme) -> int:
    return [each.name for each in colours.SETS].index(theme.name)


async def test_without_colour_none_is_sent_and_what_is_selected_is_reversed(
    books: Books, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened(books) as window:
        for keys in (*PLACES, ("escape", "p"), ("enter", "c")):
            await window.press(*keys)
            styles = [segment.style for strip in window.strips for segment in strip if segment.style is not None]
            assert {each.color for each in styles if each.color and not each.color.is_default} == set(), keys
            assert {each.bgcolor for each in styles if each.bgcolor and not each.bgcolor.is_default} == set(), keys
        await window.press("escape", "y", "1", "down")
        reversed_words = "".join(
            segment.text
            for strip in window.strips[2:-3]
            for segment in strip
            if segment.style and segment.style.reverse
        )
        assert "Ben Okoro" in reversed_words
        assert "Ada Brook" not in reversed_words


async def test_no_state_is_told_by_colour_alone(books: Books) -> None:
    """The words beside the colours: what a job is, that an entry was undone, that a field is wrong."""
    async with opened(books, theme=PLAIN.name) as window:
        await window.press("1")
        states = {window.table(row)[0] for row in range(6)}
        assert states == {"● ready", "◐ here", "○ booked", "? asked", "$ owes"}
        await window.press("6")
        assert "○ open" in {window.table(row)[0] for row in range(4)}


async def test_colours_are_chosen_on_their_page_and_by_words_and_kept(
    books: Books, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened(books) as window:
        await window.press("f3", "c")
        assert window.app.theme == CHALK.name
        assert "● c  chalk" in window.text()
        assert colours_to_begin_with({}) == colours.CHALK
        await window.press("escape", "slash", *"colours ink", "enter")
        assert window.app.theme == INK.name
        assert colours_to_begin_with({}) == colours.INK
        preferences_file().unlink()
        preferences_file().mkdir()
        await window.press("f3", "d", "escape")
        assert window.app.theme == DAYLIGHT.name
        assert window.told()[-1].startswith("These colours hold until you leave.")


async def test_where_no_colour_is_wanted_none_can_be_chosen(books: Books, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened(books) as window:
        await window.press("f3", "d")
        assert window.app.theme == PLAIN.name
        assert "NO_COLOR is set" in window.told()[-1]


async def test_where_nothing_can_be_drawn_every_sign_is_ascii_in_the_same_cells(
    books: Books, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened(books) as window:
        await window.press("1")
        drawn = window.strips
        window.app._of_terminal = [WithoutDrawing(ASCII)]  # type: ignore[attr-defined]
        await window.press("escape", "1")
        for before, after in zip(drawn, window.strips, strict=True):
            assert after.text.isascii()
            assert len(after.text) == cell_len(before.text) == after.cell_length
        assert "* ready" in window.text()
