"""Where a terminal cannot draw, frames, bars and marks are set in ASCII of the same width."""

from __future__ import annotations

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
        return [Segment(in_ascii(text, self._encoding), style, control) for text, style, control in segments]
