"""The curve of the payback painted in the cells of a terminal: what each shows is told by its sign, colour only helps.

A plotting library was tried: it has one sign a cell for all curves, no shaded range, and its own labels for amounts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from rich.cells import cell_len
from textual.content import Content

from ledger.machine.curve import Curve, months_between
from ledger.machine.forecast import months_on

EARNED, COST, RANGE, MIDDLE, PLANNED = "█", "─", "░", "▒", "•"
_EIGHTHS = " ▁▂▃▄▅▆▇█"
_STYLES = {COST: "bold $accent", RANGE: "$foreground 70%", MIDDLE: "$foreground 70%", PLANNED: "bold $secondary"}
_EARNED_STYLE = "$primary"
_HEADROOM_PERCENT = 115
_STEPS = (1, 2, 5)


@dataclass(frozen=True)
class _Column:
    """What stands over one column of cells, in cents; None where the curve has nothing there."""

    earned: float | None
    cost: float | None
    low: float | None
    middle: float | None
    high: float | None
    planned: float | None


def painted_curve(curve: Curve, width: int, height: int, label: Callable[[int], str]) -> list[Content]:
    """Lines of exactly `height`, the last two the axis and its years. label: how an amount stands beside it."""
    top = _top(curve)
    rows = height - 2
    marks = _marks(top, rows)
    labels = {row: label(cents) for row, cents in marks.items()}
    margin = max(map(cell_len, labels.values()), default=0) + 1
    columns = _columns(curve, max(1, width - margin - 1))
    lines = []
    for row in range(rows):
        low, high = top * (rows - row - 1) / rows, top * (rows - row) / rows
        words = labels.get(row, "").rjust(margin - 1)
        cells = "".join(_cell(each, low, high) for each in columns)
        lines.append(Content(f"{words} {'┤' if row in labels else '│'}") + _styled(cells))
    lines.append(Content(f"{label(0).rjust(margin - 1)} └{'─' * len(columns)}"))
    lines.append(Content(" " * (margin + 1) + _years(curve, len(columns))))
    return lines


def legend(curve: Curve) -> str:
    """What each sign stands for, of those that are there."""
    parts = [f"{EARNED} earned", f"{COST} cost"]
    parts += [f"{RANGE} likely, {MIDDLE} middle"] if curve.fan else []
    parts += [f"{PLANNED} planned"] if curve.planned else []
    return "  ".join(parts)


def _top(curve: Curve) -> int:
    cost = max(each.cost_cents for each in curve.points)
    reached = max(each.earned_cents for each in curve.points)
    return max(1, cost * _HEADROOM_PERCENT // 100, reached * _HEADROOM_PERCENT // 100)


def _columns(curve: Curve, width: int) -> list[_Column]:
    count, first = curve.months, curve.first_day
    earned, cost = _line(first, [(each.first_day, each.earned_cents) for each in curve.points]), _cost_line(curve)
    low, middle, high = (
        _line(first, [(each.first_day, getattr(each, f"{end}_cents")) for each in curve.fan])
        for end in ("low", "middle", "high")
    )
    planned = _line(first, [(each.first_day, each.earned_cents) for each in curve.planned])
    steps = [(column + 0.5) * count / width for column in range(width)]
    return [_Column(*(line(at) for line in (earned, cost, low, middle, high, planned))) for at in steps]


def _line(first: date, points: Sequence[tuple[date, int]]) -> Callable[[float], float | None]:
    """Straight between the ends of months, which `at` counts from the first; nothing beyond either end."""
    if not points:
        return lambda at: None
    start = months_between(first, points[0][0])
    values = [cents for _, cents in points]

    def value(at: float) -> float | None:
        place = at - start - 1
        if not -1 <= place <= len(values) - 1:
            return None
        before = int(place) if place >= 0 else -1
        left = values[before] if before >= 0 else min(values[0], 0)
        right = values[min(before + 1, len(values) - 1)]
        return left + (right - left) * (place - before)

    return value


def _cost_line(curve: Curve) -> Callable[[float], float | None]:
    """The cost stands from its month on and goes on as it is now: it rises in a step where something is bought."""
    start = months_between(curve.first_day, curve.points[0].first_day)

    def value(at: float) -> float | None:
        place = int(at) - start
        return curve.points[min(place, len(curve.points) - 1)].cost_cents if place >= 0 else None

    return value


def _cell(column: _Column, low: float, high: float) -> str:
    if _lies(column.planned, low, high):
        return PLANNED
    if _lies(column.cost, low, high) and column.cost:
        return COST
    if column.earned is not None and column.earned > low:
        return _EIGHTHS[min(8, max(1, round((column.earned - low) / (high - low) * 8)))]
    if _lies(column.middle, low, high):
        return MIDDLE
    if column.low is not None and column.high is not None and column.low < high and column.high > low:
        return RANGE
    return " "


def _lies(cents: float | None, low: float, high: float) -> bool:
    return cents is not None and low <= cents < high


def _styled(cells: str) -> Content:
    runs: Iterator[tuple[str, str]] = ((_STYLES.get(sign, _EARNED_STYLE), "".join(run)) for sign, run in groupby(cells))
    return Content.assemble(*((text, style) for style, text in runs))


def _marks(top: int, rows: int) -> dict[int, int]:
    """Round amounts beside some of the rows."""
    step = round_step(top, rows)
    return {rows - 1 - int(cents * rows / top): cents for cents in range(step, top, step)}


def round_step(top: int, rows: int) -> int:
    """A round amount that goes into `top` six times at most, and beside every second row."""
    sizes: Iterator[int] = (each * 10**zeros for zeros in range(20) for each in _STEPS)
    return next(size for size in sizes if top / size <= max(1, min(6, rows // 2)))


def _years(curve: Curve, width: int) -> str:
    """Each year under its January; where they are crowded some are left out."""
    count, line = curve.months, ""
    for month in range(count):
        day, place = months_on(curve.first_day, month), round(month * width / count)
        if day.month == 1 and (not line or place > len(line)) and place + 4 <= width:
            line = f"{line:{place}}{day.year}"
    return line
