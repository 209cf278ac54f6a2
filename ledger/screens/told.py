"""What a block of the home screen says, and as much of it as there is room for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

# Rows that each list may have before another gets more.
_FEWEST_ROWS = 3


@dataclass(frozen=True)
class More:
    """A list under a block's figures. rows: each as its lines, which are shown together or not at all."""

    title: str
    rows: Sequence[Sequence[str]]


@dataclass(frozen=True)
class Told:
    """lines: what always stands there. more: lists, of which as much is shown as fits."""

    lines: Sequence[str]
    more: Sequence[More] = field(default=())

    def fitting(self, height: int) -> list[str]:
        """The lines, then the lists: a few rows of each as far as they go, and what is left to the first ones."""
        room = height - len(self.lines)
        shown: dict[int, int] = {}
        for most in (_FEWEST_ROWS, height):
            for place, each in enumerate(self.more):
                # An empty line and the title, once.
                around = 0 if place in shown else 2
                number, lines = _rows_that_fit(each.rows[shown.get(place, 0) :], room - around, most)
                if number:
                    shown[place] = shown.get(place, 0) + number
                    room -= lines + around
        told = list(self.lines[:height])
        for place, each in enumerate(self.more):
            if place in shown:
                told += ["", each.title, *(line for row in each.rows[: shown[place]] for line in row)]
        return told


def _rows_that_fit(rows: Sequence[Sequence[str]], room: int, most: int) -> tuple[int, int]:
    """How many of the first rows fit, and the lines that they take."""
    number = lines = 0
    for row in rows[:most]:
        if lines + len(row) > room:
            break
        number, lines = number + 1, lines + len(row)
    return number, lines
