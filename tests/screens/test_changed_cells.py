"""Only what changed is sent, and what stands in the terminal is the same as if all had been."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from rich.segment import Segment
from rich.style import Style
from textual._compositor import ChopsUpdate, LayoutUpdate
from textual.geometry import Region
from textual.strip import Strip

from ledger.screens.changed_cells import PaintedCells

WIDTH, HEIGHT = 24, 4
CONSOLE = Console(color_system="truecolor", force_terminal=True)
STYLES = (Style(), Style(bold=True), Style(color="#102030"), Style(bgcolor="#405060"), Style(reverse=True))
MOVE = re.compile(r"\x1b\[(\d+);(\d+)H")
CODE = re.compile(r"\x1b\[[0-9;]*[mH]|\n|[^\x1b\n]")
# Wide letters take two cells; a mark stands in one with the letter before it.
LETTERS = st.sampled_from(["a", "b", " ", "│", "日", "e\u0301"])
WORDS = st.lists(LETTERS, min_size=1, max_size=6).map("".join)
SEGMENTS = st.tuples(WORDS, st.sampled_from(STYLES)).map(lambda each: Segment(*each))


def line_of(segments: list[Segment]) -> Strip:
    return Strip(segments).adjust_cell_length(WIDTH, Style())


SCREENS = st.lists(st.lists(SEGMENTS, min_size=1, max_size=5).map(line_of), min_size=HEIGHT, max_size=HEIGHT)


class Paper:
    """A terminal as far as these codes go: in each cell the letter, and the style that it was painted in."""

    def __init__(self) -> None:
        self.cells: dict[tuple[int, int], tuple[str, str]] = {}

    def take(self, sent: str) -> None:
        x = y = 0
        style = ""
        for code in CODE.findall(sent):
            moved = MOVE.fullmatch(code)
            if moved is not None:
                y, x = int(moved[1]) - 1, int(moved[2]) - 1
            elif code.startswith("\x1b"):
                style = "" if code == "\x1b[0m" else code
            elif code == "\u0301":
                letter, was = self.cells[y, x - 1]
                self.cells[y, x - 1] = (letter + code, was)
            elif code != "\n":
                self.cells[y, x] = (code, style)
                x += 1
                if code == "日":
                    self.cells[y, x] = ("", style)
                    x += 1


def whole(screen: list[Strip]) -> LayoutUpdate:
    return LayoutUpdate([[strip] for strip in screen], Region(0, 0, WIDTH, HEIGHT))


@given(st.lists(SCREENS, min_size=1, max_size=4), st.integers(0, 3))
def test_after_any_screens_the_terminal_shows_the_last_one(screens: list[list[Strip]], forgotten: int) -> None:
    painted, shown = PaintedCells(), Paper()
    for number, screen in enumerate(screens):
        if number == forgotten:
            painted.forget()
            shown.cells.clear()
        shown.take(painted.changes(whole(screen), CONSOLE))
    expected = Paper()
    expected.take(whole(screens[-1]).render_segments(CONSOLE))
    assert shown.cells == expected.cells


@given(SCREENS, SCREENS, st.integers(0, HEIGHT - 1), st.integers(0, WIDTH - 2))
def test_part_of_a_line_is_painted_as_the_library_would(
    before: list[Strip], after: list[Strip], y: int, start: int
) -> None:
    painted, shown, expected = PaintedCells(), Paper(), Paper()
    shown.take(painted.changes(whole(before), CONSOLE))
    expected.take(whole(before).render_segments(CONSOLE))
    middle = WIDTH // 2
    chops = [{0: strip.crop(0, middle), middle: strip.crop(middle, WIDTH)} for strip in after]
    update = ChopsUpdate(chops, [(y, start, WIDTH)], [[middle, WIDTH]] * HEIGHT)
    shown.take(painted.changes(update, CONSOLE))
    expected.take(update.render_segments(CONSOLE))
    assert shown.cells == expected.cells


def test_what_stands_there_is_not_sent_again() -> None:
    painted = PaintedCells()
    screen = [line_of([Segment("Ada Brook", STYLES[1]), Segment(" owes 80.64", STYLES[2])])] * HEIGHT
    assert painted.changes(whole(screen), CONSOLE)
    assert painted.changes(whole(screen), CONSOLE) == ""
    other = [*screen[:2], line_of([Segment("Ada Brook", STYLES[1]), Segment(" owes 80.65", STYLES[2])]), *screen[3:]]
    sent = painted.changes(whole(other), CONSOLE)
    assert MOVE.sub("", CODE.sub(lambda found: found[0] if len(found[0]) == 1 else "", sent)) == "5"
    painted.forget()
    assert painted.changes(whole(other), CONSOLE).count("Ada Brook") == HEIGHT
