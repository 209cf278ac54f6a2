"""The terminal's own sixteen colours, readable whatever they are set to.

What is read stands in the terminal's own letters on its own ground, or reversed, or black on one of its colours; the
colours themselves are for what is drawn. So it holds on a light terminal and on a dark one.
"""

from __future__ import annotations

import re
from functools import lru_cache

from rich.color import Color as Code
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

# Frames, bars and what fills them: nothing that is read.
DRAWN = re.compile(r"[\s\u2500-\u259f\u25a0-\u25ff]*")
_BLACK, _RED, _GREEN, _YELLOW, _MAGENTA, _CYAN, _BRIGHT_BLUE = 0, 1, 2, 3, 5, 6, 12
_MOST_GREY = 0.15
_STRONG = 0.5
# By the hues of the theme `terminal`, in sixths of a circle from red. What is drawn has one of the few colours that can
# be seen on white and on black; None: the terminal's own.
INKS = (_RED, _RED, None, _BRIGHT_BLUE, _BRIGHT_BLUE, _MAGENTA)
# Behind black letters. None: what is chosen, a title or the cursor of a list, is reversed, so that it is its own.
GROUNDS = (_YELLOW, _YELLOW, _GREEN, _CYAN, _CYAN, None)


class SixteenColours(LineFilter):
    """Every colour of the theme `terminal` becomes a code of the terminal's own, or none."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [
            Segment(text, style and _own(style, DRAWN.fullmatch(text) is not None), control)
            for text, style, control in segments
        ]


@lru_cache(2048)
def _own(style: Style, is_drawn: bool) -> Style:
    first, second = (style.bgcolor, style.color) if style.reverse else (style.color, style.bgcolor)
    hue, ground_hue, is_strong = _hue(first), _hue(second), _is_strong(second)
    ground = GROUNDS[ground_hue] if is_strong and ground_hue is not None else None
    ink = _BLACK if ground is not None else INKS[hue] if is_drawn and hue is not None else None
    is_reversed = is_strong and ground is None
    stands_out = hue is not None and not is_drawn and not is_reversed
    return Style(
        color=None if ink is None or is_reversed else Code.from_ansi(ink),
        bgcolor=None if ground is None else Code.from_ansi(ground),
        # Bold black is grey in some terminals.
        bold=ground is None and (bool(style.bold) or stands_out),
        # A field that has the focus stands on a dark hue.
        underline=bool(style.underline) or (ground_hue is not None and not is_strong),
        italic=style.italic,
        strike=style.strike,
        reverse=is_reversed,
        meta=style.meta,
    )


def _hue(colour: Code | None) -> int | None:
    """In sixths of a circle; None for black, white and what is between."""
    if colour is None or colour.is_default:
        return None
    hue, saturation, value = Color.from_rich_color(colour).hsv
    return None if saturation < _MOST_GREY or value < _MOST_GREY else round(hue * 6) % 6


def _is_strong(colour: Code | None) -> bool:
    return colour is not None and not colour.is_default and Color.from_rich_color(colour).brightness > _STRONG
