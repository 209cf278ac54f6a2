"""A window as a small SVG: a rectangle for each ground, a text for each run of letters, and nothing else.

The library can draw a window too, but names a font of the web, numbers its marks anew each time, and writes three times
as much; here a change of one word is a change of one line.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from itertools import groupby
from typing import NamedTuple

from rich.cells import cell_len
from rich.color import Color
from rich.style import Style
from textual.strip import Strip

from tests.screens.window import Window

CELL_WIDTH, CELL_HEIGHT, BASELINE = 10, 20, 15
FONT = "DejaVu Sans Mono, Menlo, Consolas, monospace"


def drawn(window: Window) -> str:
    """The same on every machine, for the same letters and colours in the same places."""
    width, height = window.app.size
    background = window.app.current_theme.background
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width * CELL_WIDTH} {height * CELL_HEIGHT}"'
        f' font-family="{FONT}" font-size="16">',
        f'<rect width="100%" height="100%" fill="{background}"/>',
    ]
    for row in range(height):
        lines += _row(window, row, str(background))
    return "\n".join([*lines, "</svg>", ""])


def _row(window: Window, row: int, background: str) -> Iterator[str]:
    """Grounds before letters, so that no letter is covered."""
    runs = list(_runs(window.strips[row]))
    for ground, together in groupby(runs, key=lambda run: run.ground):
        parts = list(together)
        if ground not in ("", background):
            at = f'x="{parts[0].column * CELL_WIDTH}" y="{row * CELL_HEIGHT}"'
            width = sum(cell_len(each.text) for each in parts) * CELL_WIDTH
            yield f'<rect {at} width="{width}" height="{CELL_HEIGHT}" fill="{ground}"/>'
    yield from (_letters(each, row) for each in runs if each.text.strip())


class _Run(NamedTuple):
    column: int
    text: str
    ink: str
    ground: str
    style: Style


def _runs(strip: Strip) -> Iterator[_Run]:
    column = 0
    for segment in strip:
        style = segment.style or Style()
        ink, ground = _colour(style.color), _colour(style.bgcolor)
        yield _Run(column, segment.text, *((ground, ink) if style.reverse else (ink, ground)), style)
        column += cell_len(segment.text)


def _letters(run: _Run, row: int) -> str:
    column = run.column + cell_len(run.text) - cell_len(run.text.lstrip())
    shown = run.text.strip()
    at = f'x="{column * CELL_WIDTH}" y="{row * CELL_HEIGHT + BASELINE}" textLength="{cell_len(shown) * CELL_WIDTH}"'
    weight = ' font-weight="bold"' if run.style.bold else ""
    line = ' text-decoration="underline"' if run.style.underline else ""
    return f'<text {at} xml:space="preserve" fill="{run.ink}"{weight}{line}>{escape(shown)}</text>'


def _colour(colour: Color | None) -> str:
    return "" if colour is None else colour.get_truecolor().hex
