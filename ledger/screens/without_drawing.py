"""Where a terminal cannot draw, frames, bars and marks are set in ASCII of the same width."""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from ledger.signs import in_ascii


class WithoutDrawing(LineFilter):
    """Letters that the terminal's codec has are left as they are; others become question marks."""

    def __init__(self, encoding: str) -> None:
        super().__init__()
        self._encoding = encoding

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(self._set(text), style, control) for text, style, control in segments]

    def _set(self, text: str) -> str:
        if text.isascii():
            return text
        # Several signs may stand in one cell together, as in an emoji of a family.
        return set_cell_size(in_ascii(text, self._encoding), cell_len(text))
