"""Where text is set: the letters, the left edge and the room between the margins; lines, and strips made of them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ledger.paper.fonts import Face, Letters
from ledger.paper.marks import BODY, Mark, Strip
from ledger.paper.wrapping import wrap

GAP = 14.0
_LEADING = 1.42
_BASE_LINE = 1.05


@dataclass(frozen=True)
class Setting:
    """left and room: the edge and the width of what may be printed on, in points."""

    letters: Letters
    left: float
    room: float

    @property
    def right(self) -> float:
        return self.left + self.room

    def lines(self, text: str, room: float, face: Face = "regular", size: float = BODY) -> list[str]:
        """A text as the face can draw it, broken to a room. At least one line, empty if the text is."""
        drawable = self.letters.drawable(text, face)
        return wrap(drawable, room, lambda line: self.letters.width_of(line, face, size))

    def width_of(self, text: str, face: Face = "regular", size: float = BODY) -> float:
        return self.letters.width_of(self.letters.drawable(text, face), face, size)


def strip_of(*marks: Mark, size: float = BODY, above: float = 0.0, below: float = 0.0, stays: bool = False) -> Strip:
    """A strip for one line of text in a size; its marks are given from the base line of that text."""
    base = above + size * _BASE_LINE
    placed = tuple(replace(mark, down=mark.down + base) for mark in marks)
    return Strip(above + size * _LEADING + below, placed, stays)
