"""Over a slow line only what changed is sent: the cells of the terminal are remembered as they were painted last.

The library paints a room several times while it is laid out, each time whole: in a large window 130,000 bytes, most of
them the same as before.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from rich.console import Console
from rich.control import Control
from rich.segment import Segment
from rich.style import Style
from textual._compositor import ChopsUpdate, CompositorUpdate, LayoutUpdate
from textual.strip import Strip

_Cell = tuple[str, Style | None]
# As many cells that stay cost less than to move over them.
_WORTH_A_MOVE = 8


class PaintedCells:
    """What stands in the terminal, as far as it is known."""

    def __init__(self) -> None:
        self._rows: dict[int, dict[int, _Cell]] = {}

    def forget(self) -> None:
        """The terminal was resized, or somebody else has painted there."""
        self._rows.clear()

    def changes(self, update: CompositorUpdate, console: Console) -> str:
        """The codes that paint an update over what stands there; it stands there then."""
        if isinstance(update, LayoutUpdate):
            parts = _of_layout(update)
        elif isinstance(update, ChopsUpdate):
            parts = _of_chops(update)
        else:
            self.forget()
            return update.render_segments(console)
        return "".join(self._part(y, x, strip, console) for y, x, strip in parts)

    def _part(self, y: int, x: int, strip: Strip, console: Console) -> str:
        row, text = self._rows.setdefault(y, {}), strip.text
        if len(text) != strip.cell_length or any(segment.control for segment in strip):
            # Letters that are wider than a cell, or stand in one together, are painted with all beside them.
            for at in range(x, x + strip.cell_length):
                row.pop(at, None)
            return Control.move_to(x, y).segment.text + strip.render(console)
        cells = [(letter, segment.style) for segment in strip for letter in segment.text]
        changed = [at for at, cell in enumerate(cells) if row.get(x + at) != cell]
        row.update(enumerate(cells, x))
        return "".join(
            Control.move_to(x + first, y).segment.text + _strip_of(cells[first : last + 1]).render(console)
            for first, last in _runs(changed)
        )


class ChangesOf(CompositorUpdate):
    """An update that sends what changed of another one."""

    def __init__(self, update: CompositorUpdate, painted: PaintedCells) -> None:
        self._update = update
        self._painted = painted

    def render_segments(self, console: Console) -> str:
        return self._painted.changes(self._update, console)


def _runs(changed: Iterable[int]) -> Iterator[tuple[int, int]]:
    """The first and last of each run, over short stretches that stay as they are."""
    first = last = -1
    for at in changed:
        if first >= 0 and at - last > _WORTH_A_MOVE:
            yield first, last
            first = at
        first, last = (at if first < 0 else first), at
    if first >= 0:
        yield first, last


def _strip_of(cells: Iterable[_Cell]) -> Strip:
    runs = groupby(cells, key=lambda each: each[1])
    return Strip(Segment("".join(letter for letter, _ in alike), style) for style, alike in runs)


def _of_layout(update: LayoutUpdate) -> Iterator[tuple[int, int, Strip]]:
    for y, line in enumerate(update.strips, update.region.y):
        x = update.region.x
        for strip in line:
            yield y, x, strip
            x += strip.cell_length


def _of_chops(update: ChopsUpdate) -> Iterator[tuple[int, int, Strip]]:
    """The parts of lines that the library would paint, cut as it cuts them."""
    for y, start, stop in update.spans:
        for end, (x, strip) in zip(update.chop_ends[y], update.chops[y].items(), strict=False):
            if strip is None or x > stop or end <= start:
                continue
            yield y, x, strip if start <= x < stop and end <= stop else strip.crop(0, min(end, stop) - x)
