"""Colours: every letter can be read in every theme, and without colour none is sent and nothing is lost."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from textual.color import Color
from textual.strip import Strip

from ledger.books.books import Books
from ledger.screens.themes import DAYLIGHT, LAMPLIGHT, PLAIN, THEMES, default_theme
from tests.screens.window import Window, opened

LEAST = 4.5
# Lines and fillings are no text: frames, bars, and the edges of scroll bars.
NO_TEXT = re.compile(r"[\s\u2500-\u25ff│▁-█]*")
PLACES = (("escape",), ("1",), ("2",), ("3",), ("4",), ("5",), ("6",))
FORMS = (("p",), ("p", "enter", "c"), ("n",), ("s",), ("question_mark",), ("slash",))


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


def faint(strips: list[Strip]) -> Iterator[str]:
    """The words that stand out too little from what is behind them."""
    for strip in strips:
        for segment in strip:
            style = segment.style
            if NO_TEXT.fullmatch(segment.text) or style is None or style.color is None or style.bgcolor is None:
                continue
            ink, ground = Color.from_rich_color(style.color), Color.from_rich_color(style.bgcolor)
            if contrast(ink, ground) < LEAST:
                yield f"{segment.text.strip()!r} {ink.hex} on {ground.hex}: {contrast(ink, ground):.2f}"


def of_what_is_on_top(window: Window) -> list[Strip]:
    """A form lies over a room that is dimmed on purpose: only the form is to be read."""
    if window.place.endswith("Room"):
        return window.strips
    region = next(iter(window.screen.children)).region
    return [strip.crop(region.x, region.right) for strip in window.strips[region.y : region.bottom]]


@pytest.mark.parametrize("theme", [each.name for each in (DAYLIGHT, LAMPLIGHT)])
async def test_every_letter_stands_out_from_its_ground(books: Books, theme: str) -> None:
    async with opened(books, theme=theme) as window:
        for keys in (*PLACES, *FORMS):
            if keys in FORMS:
                await window.press("escape")
            await window.press(*keys)
            assert list(faint(of_what_is_on_top(window))) == [], keys
            if keys in FORMS:
                await window.press("escape", *(["y"] if keys == ("p", "enter", "c") else []))
        await window.press("s")
        await window.type(who="Cor", amount="12x", on="tomorrow")
        assert window.faults()
        assert list(faint(of_what_is_on_top(window))) == []
        await window.press("escape")
        assert list(faint(of_what_is_on_top(window))) == []
        await window.press("y")
        for severity in ("information", "warning", "error"):
            window.app.tell("What was done.", severity)  # type: ignore[attr-defined]
        await window.settle()
        assert list(faint(window.strips)) == []


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_the_colours_of_text_in_a_theme_stand_out_from_each_of_its_grounds(theme: object) -> None:
    grounds = [Color.parse(getattr(theme, name)) for name in ("background", "surface", "panel")]
    for ink in ("foreground", "primary", "secondary", "accent", "success", "warning", "error"):
        for ground in grounds:
            assert contrast(Color.parse(getattr(theme, ink)), ground) >= LEAST, (ink, ground.hex)
    assert contrast(Color.parse(theme.background), Color.parse(theme.primary)) >= LEAST


def test_the_theme_is_plain_where_colour_is_not_wanted_and_else_the_one_that_is_named() -> None:
    assert default_theme({}) == LAMPLIGHT.name
    assert default_theme({"TWOPURSE_THEME": "daylight"}) == DAYLIGHT.name
    assert default_theme({"TWOPURSE_THEME": "no such theme"}) == LAMPLIGHT.name
    assert default_theme({"NO_COLOR": "1", "TWOPURSE_THEME": "daylight"}) == PLAIN.name
    assert default_theme({"NO_COLOR": ""}) == LAMPLIGHT.name, "an empty one means nothing: no-color.org"


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
