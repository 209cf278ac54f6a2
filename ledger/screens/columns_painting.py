"""Columns side by side in the cells of a terminal, a slot for each month: what each shows is told by its sign, colour
only helps. Amounts below zero hang under the line."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from math import ceil

from rich.cells import cell_len
from textual.content import Content

from ledger.money import largest_remainder
from ledger.screens.curve_painting import round_step
from ledger.screens.showing import padded

SOLID = "█"
_EIGHTHS = " ▁▂▃▄▅▆▇█"
# What hangs from the line has no eighths of its own: half a cell, and the least that can be seen.
_HALF, _LEAST = "▀", "▔"
_HEADROOM_PERCENT = 105
# The line and the names under it.
_BELOW = 2


@dataclass(frozen=True)
class Part:
    """A piece of a column, in cents above zero."""

    sign: str
    style: str
    cents: int


@dataclass(frozen=True)
class Pile:
    """One column: its parts from the line outward, upward and downward."""

    above: tuple[Part, ...] = ()
    below: tuple[Part, ...] = ()

    @property
    def high(self) -> int:
        return sum(each.cents for each in self.above)

    @property
    def low(self) -> int:
        return sum(each.cents for each in self.below)


@dataclass(frozen=True)
class Slot:
    """A month: the names that stand under it, the second where there is no room for the first. is_marked: the line
    under it is heavy."""

    name: str
    letter: str
    piles: tuple[Pile, ...]
    is_marked: bool = False


@dataclass(frozen=True)
class Row:
    """Words under the columns, one for each slot, with what they are at the left."""

    head: str
    texts: tuple[str, ...]


def pile_of(cents: int | None, sign: str, style: str) -> Pile:
    """The column of one amount, which may be below zero."""
    if not cents:
        return Pile()
    part = Part(sign, style, abs(cents))
    return Pile(above=(part,)) if cents > 0 else Pile(below=(part,))


class Columns:
    """Slots in a picture of so many cells; label says how an amount stands beside the line."""

    def __init__(
        self, slots: Sequence[Slot], label: Callable[[int], str], width: int, rows: Sequence[Row] = ()
    ) -> None:
        self.slots = slots
        self.label = label
        piles = [pile for each in slots for pile in each.piles]
        self.high = max(1, max(pile.high for pile in piles) * _HEADROOM_PERCENT // 100)
        self.low = max(pile.low for pile in piles)
        heads = [cell_len(each.head) for each in rows]
        # The longest amount that can stand there, before the height says which ones do.
        self.margin = max([cell_len(label(self.high)), cell_len(label(-self.low)), *heads]) + 1
        self.cells = max(1, (width - self.margin - 1) // len(slots))
        self.rows = [line for each in rows if (line := self._row(each)) is not None]

    @property
    def gap(self) -> int:
        return max(1, self.cells // 4) if self.cells > len(self.slots[0].piles) else 0

    def painted(self, height: int) -> list[Content]:
        """Lines of exactly `height`, with the names and the rows of words in them."""
        tall = max(2 if self.low else 1, height - _BELOW - len(self.rows))
        under = min(range(1, tall), key=lambda levels: self._unit(tall - levels, levels)) if self.low else 0
        over = tall - under
        unit = self._unit(over, under)
        labels = self._labels(over, under, unit)
        lines = [self._line(labels.get(level, ""), level, unit) for level in range(over - 1, -1, -1)]
        lines.append(self._base())
        lines += [self._line(labels.get(-1 - level, ""), -1 - level, unit) for level in range(under)]
        return [*lines, Content(self._names()), *map(Content, self.rows)]

    def _unit(self, over: int, under: int) -> Fraction:
        """What one cell stands for, above the line as below it."""
        return max(Fraction(self.high, over), Fraction(self.low, under) if under else Fraction(0))

    def _labels(self, over: int, under: int, unit: Fraction) -> dict[int, str]:
        """Round amounts beside some of the levels, above the line and below it."""
        step = round_step(ceil(unit * (over + under)), over + under)
        above = {int(cents / unit): cents for cents in range(step, ceil(unit * over), step)}
        below = {-1 - int(cents / unit): -cents for cents in range(step, ceil(unit * under), step)}
        return {level: self.label(cents) for level, cents in (above | below).items()}

    def _line(self, words: str, level: int, unit: Fraction) -> Content:
        """The cells of one level: 0 is the first above the line, -1 the first below it."""
        cells: list[tuple[str, str]] = []
        for each in self.slots:
            cells += [(" ", "")] * self.gap
            for pile, wide in zip(each.piles, self._widths(len(each.piles)), strict=True):
                signs = _standing(pile.above, unit) if level >= 0 else _hanging(pile.below, unit)
                place = level if level >= 0 else -1 - level
                cells += [signs[place] if place < len(signs) else (" ", "")] * wide
        return Content(f"{words.rjust(self.margin - 1)} {'┤' if words else '│'}") + _styled(cells)

    def _widths(self, piles: int) -> list[int]:
        """How the cells of a slot are shared: the last column is the widest."""
        room = self.cells - self.gap
        first = max(1, room * 2 // 5) if piles > 1 else 0
        return [max(0, min(first, room - 1)), room - max(0, min(first, room - 1))] if piles > 1 else [room]

    def _base(self) -> Content:
        corner = "├" if self.low else "└"
        runs = "".join(("━" if each.is_marked else "─") * self.cells for each in self.slots)
        return Content(f"{self.label(0).rjust(self.margin - 1)} {corner}{runs}")

    def _names(self) -> str:
        room = self.cells - 1
        whole = all(cell_len(each.name) <= room for each in self.slots)
        names = (each.name if whole else each.letter for each in self.slots)
        indent = " " * (self.gap if self.cells > 1 else 0)
        return (" " * (self.margin + 1) + "".join(padded(f"{indent}{name}", self.cells) for name in names)).rstrip()

    def _row(self, row: Row) -> str | None:
        """Texts that end where their column ends; None where two of them would touch."""
        line = padded(row.head, self.margin + 1)
        for place, text in enumerate(row.texts):
            if not text:
                continue
            end = self.margin + 1 + (place + 1) * self.cells
            start = end - cell_len(text)
            if start <= cell_len(line.rstrip()):
                return None
            line = padded(line.rstrip(), start) + text
        return line


def _standing(parts: Sequence[Part], unit: Fraction) -> list[tuple[str, str]]:
    """The cells of a column from the line upward; a solid one ends in eighths of a cell."""
    if len(parts) == 1 and parts[0].sign == SOLID:
        full, rest = divmod(max(1, round(parts[0].cents / unit * 8)), 8)
        signs = SOLID * full + (_EIGHTHS[rest] if rest else "")
        return [(sign, parts[0].style) for sign in signs]
    return _whole_cells(parts, unit)


def _hanging(parts: Sequence[Part], unit: Fraction) -> list[tuple[str, str]]:
    if len(parts) == 1 and parts[0].sign == SOLID:
        full, half = divmod(round(parts[0].cents / unit * 2), 2)
        signs = SOLID * full + _HALF * half or _LEAST
        return [(sign, parts[0].style) for sign in signs]
    return _whole_cells(parts, unit)


def _whole_cells(parts: Sequence[Part], unit: Fraction) -> list[tuple[str, str]]:
    """Each part in whole cells, none so small that it is not seen."""
    seen = [each for each in parts if each.cents > 0]
    exact = [Fraction(each.cents) / unit for each in seen]
    tall = max(len(seen), round(sum(exact)))
    spare = tall - len(seen)
    beyond = [max(Fraction(0), each - 1) for each in exact]
    whole = sum(beyond)
    shares = [spare * each / whole if whole else Fraction(spare, len(seen)) for each in beyond]
    counts = largest_remainder(spare, shares) if seen else []
    return [(each.sign, each.style) for each, count in zip(seen, counts, strict=True) for _ in range(1 + count)]


def _styled(cells: Sequence[tuple[str, str]]) -> Content:
    runs: Iterator[tuple[str, str]] = (
        ("".join(sign for sign, _ in run), style) for style, run in groupby(cells, key=lambda cell: cell[1])
    )
    return Content.assemble(*runs)
