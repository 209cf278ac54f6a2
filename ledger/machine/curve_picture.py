"""The curve of the payback as a picture for paper: grey tones and dashes, so that it prints without colour too."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from ledger.machine.curve import Curve, months_between
from ledger.machine.forecast import months_on
from ledger.paper.fonts import font_name

if TYPE_CHECKING:
    from reportlab.graphics.shapes import Drawing

_FONT_SIZE = 7
_LEFT, _BELOW, _ABOVE = 46, 26, 8
_HEADROOM_PERCENT = 112
_MARKS = 5
_EARNED, _RANGE, _INK = "#5b6c9c", "#d5d5d5", "#222222"


def curve_picture(
    curve: Curve, label: Callable[[int], str], width_points: float = 480, height_points: float = 220
) -> Drawing:
    """A drawing of the record, the cost, the likely range and the plan, with its legend below.

    label: how an amount in cents stands beside the axis.
    """
    from reportlab.graphics.shapes import Drawing  # 130 ms, only where paper is made

    drawing = Drawing(width_points, height_points)
    frame = _Frame(curve, width_points, height_points)
    for part in (*_axis(frame, curve, label), *_areas(frame, curve), *_lines(frame, curve), *_legend(frame, curve)):
        drawing.add(part)
    return drawing


class _Frame:
    """Where months and amounts lie on the drawing, in points."""

    def __init__(self, curve: Curve, width: float, height: float) -> None:
        self.first = curve.first_day
        self.months = curve.months
        cost = max(each.cost_cents for each in curve.points)
        earned = max(each.earned_cents for each in curve.points)
        self.top = max(1, max(cost, earned) * _HEADROOM_PERCENT // 100)
        self.left, self.right, self.bottom, self.ceiling = float(_LEFT), width - 6, float(_BELOW), height - _ABOVE

    def x(self, month: date, end: bool = True) -> float:
        """The end of a month, or its beginning."""
        place = months_between(self.first, month) + (1 if end else 0)
        return self.left + (self.right - self.left) * place / self.months

    def y(self, cents: int) -> float:
        """What lies outside is put on the edge."""
        part = min(self.top, max(0, cents)) / self.top
        return self.bottom + (self.ceiling - self.bottom) * part


def _axis(frame: _Frame, curve: Curve, label: Callable[[int], str]) -> list[Any]:
    from reportlab.graphics.shapes import Line, String

    parts: list[Any] = [
        Line(frame.left, frame.bottom, frame.right, frame.bottom, strokeWidth=0.5),
        Line(frame.left, frame.bottom, frame.left, frame.ceiling, strokeWidth=0.5),
    ]
    for cents in range(0, frame.top, _step(frame.top)):
        parts.append(String(frame.left - 4, frame.y(cents) - 2, label(cents), **_text(anchor="end")))
        parts.append(Line(frame.left - 2, frame.y(cents), frame.left, frame.y(cents), strokeWidth=0.5))
    for month in range(frame.months):
        day = months_on(curve.first_day, month)
        if day.month == 1:
            parts.append(String(frame.x(day, end=False), frame.bottom - 9, f"{day.year}", **_text()))
            x = frame.x(day, end=False)
            parts.append(Line(x, frame.bottom - 2, x, frame.bottom, strokeWidth=0.5))
    return parts


def _areas(frame: _Frame, curve: Curve) -> list[Any]:
    from reportlab.graphics.shapes import Polygon
    from reportlab.lib.colors import HexColor

    earned = [(frame.x(each.first_day), frame.y(each.earned_cents)) for each in curve.points]
    begun = frame.x(curve.points[0].first_day, end=False)
    shape = [(begun, frame.bottom), *earned, (earned[-1][0], frame.bottom)]
    parts = [Polygon(_flat(shape), fillColor=HexColor(_EARNED), strokeColor=None)]
    if curve.fan:
        high = [(frame.x(each.first_day), frame.y(each.high_cents)) for each in curve.fan]
        low = [(frame.x(each.first_day), frame.y(each.low_cents)) for each in reversed(curve.fan)]
        parts.append(Polygon(_flat([earned[-1], *high, *low]), fillColor=HexColor(_RANGE), strokeColor=None))
    return parts


def _lines(frame: _Frame, curve: Curve) -> list[Any]:
    from reportlab.graphics.shapes import PolyLine
    from reportlab.lib.colors import HexColor

    ink = HexColor(_INK)
    steps = []
    for each in curve.points:
        steps += [(frame.x(each.first_day, end=False), frame.y(each.cost_cents))]
        steps += [(frame.x(each.first_day), frame.y(each.cost_cents))]
    steps.append((frame.right, steps[-1][1]))
    parts = [PolyLine(_flat(steps), strokeColor=ink, strokeWidth=1.2)]
    last = curve.points[-1]
    middle = [
        (frame.x(each.first_day), frame.y(each.middle_cents)) for each in curve.fan if each.middle_cents <= frame.top
    ]
    if middle:
        joined = [(frame.x(last.first_day), frame.y(last.earned_cents)), *middle]
        parts.append(PolyLine(_flat(joined), strokeColor=ink, strokeWidth=0.8, strokeDashArray=[4, 2]))
    planned = [
        (frame.x(each.first_day), frame.y(each.earned_cents))
        for each in curve.planned
        if each.earned_cents <= frame.top
    ]
    if len(planned) > 1:
        parts.append(PolyLine(_flat(planned), strokeColor=ink, strokeWidth=1, strokeDashArray=[1, 2]))
    return parts


def _legend(frame: _Frame, curve: Curve) -> list[Any]:
    from reportlab.graphics.shapes import String

    words = "Dark: earned towards the machine. Line: its cost."
    words += " Light: the likely range, dashed: its middle." if curve.fan else ""
    words += " Dotted: as it was planned." if curve.planned else ""
    return [String(frame.left, 4, words, **_text())]


def _text(anchor: str = "start") -> dict[str, Any]:
    return {"fontName": font_name("regular"), "fontSize": _FONT_SIZE, "textAnchor": anchor}


def _flat(points: Sequence[tuple[float, float]]) -> list[float]:
    return [each for point in points for each in point]


def _step(top: int) -> int:
    """A round amount of which about five fit."""
    sizes: Iterator[int] = (each * int(10**zeros) for zeros in range(20) for each in (1, 2, 5))
    return next(size for size in sizes if top / size <= _MARKS)
