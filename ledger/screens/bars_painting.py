"""Bars across, one under the other, each with its words at the left and its figures at the right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from textual.content import Content

from ledger.screens.showing import cut, padded

_EIGHTHS = " ▏▎▍▌▋▊▉█"
_SOLID, _RIGHT_HALF = "█", "▐"
_BAR_STYLE, _BELOW_ZERO_STYLE = "$primary", "$accent"
_FEWEST, _MOST, _LEAST_WORDS = 6, 80, 8
# So much of the width the words may take, in percent.
_WORDS_PERCENT = 36


@dataclass(frozen=True)
class Bar:
    """figures: in columns, the same number in every bar."""

    words: str
    cents: int
    figures: tuple[str, ...]


def painted_bars(bars: Sequence[Bar], width: int) -> list[Content]:
    """A line for each, no wider than `width`; where an amount is below zero its bar goes to the left of a line."""
    wide = [max(cell_len(each.figures[place]) for each in bars) for place in range(len(bars[0].figures))]
    right = sum(each + 2 for each in wide)
    most_words = min(width * _WORDS_PERCENT // 100, width - right - 1 - _FEWEST)
    words = min(max(cell_len(each.words) for each in bars), max(_LEAST_WORDS, most_words))
    room = min(_MOST, width - words - 1 - right)
    if room < _FEWEST:
        # Figures are never cut: the words are, and the bars go before the words do.
        words, room = max(1, width - right), 0
    lines = []
    high, low = max(0, *(each.cents for each in bars)), max(0, *(-each.cents for each in bars))
    for each in bars:
        figures = "".join(f"  {text.rjust(cells)}" for text, cells in zip(each.figures, wide, strict=True))
        cells = _bar(each.cents, high, low, room) if room else Content("")
        between = " " if room else ""
        lines.append(Content(padded(cut(each.words, words), words) + between) + cells + Content(figures))
    return lines


def _bar(cents: int, high: int, low: int, room: int) -> Content:
    """A bar in exactly `room` cells."""
    if not low:
        return Content.styled(_rightward(cents, high, room), _BAR_STYLE)
    left = max(1, min(room - 2, round((room - 1) * low / (high + low))))
    right = room - 1 - left
    if cents >= 0:
        return Content(" " * left + "│") + Content.styled(_rightward(cents, high, right), _BAR_STYLE)
    return Content.styled(_leftward(-cents, low, left), _BELOW_ZERO_STYLE) + Content("│" + " " * right)


def _rightward(cents: int, most: int, room: int) -> str:
    if not cents:
        return " " * room
    full, rest = divmod(max(1, round(cents / most * room * 8)), 8)
    return (_SOLID * full + (_EIGHTHS[rest] if rest else "")).ljust(room)


def _leftward(cents: int, most: int, room: int) -> str:
    full, half = divmod(max(1, round(cents / most * room * 2)), 2)
    return (_RIGHT_HALF * half + _SOLID * full).rjust(room)
