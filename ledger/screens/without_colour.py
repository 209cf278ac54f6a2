"""Where colour is not wanted, none is sent: what stood on a light ground is reversed, the rest is plain."""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

# The grounds of the plain theme are nearly black, and its title, cursors and chosen rows are white.
_LIGHT = 0.5


class WithoutColour(LineFilter):
    """Bold, underlined and reversed are kept; every colour is left to the terminal."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(text, style and _plain(style), control) for text, style, control in segments]


@lru_cache(1024)
def _plain(style: Style) -> Style:
    ground = style.bgcolor
    light = ground is not None and not ground.is_default and Color.from_rich_color(ground).brightness > _LIGHT
    return Style(
        bold=style.bold,
        italic=style.italic,
        underline=style.underline,
        strike=style.strike,
        reverse=bool(style.reverse) != light,
        meta=style.meta,
    )
