"""The cells of a list as they are shown: amounts and dates by the books' locale, numbers at the right edge."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from ledger.lists.listing import Column, Kind, Line, Manner, ShownAs, Value
from ledger.screens.showing import Showing, padded
from ledger.text import shown

_AT_THE_RIGHT = ("number", "amount")
_LEAST_TEXT, _LEAST = 10, 6
# The space on either side of a cell.
_GAP = 2


def manner_of(showing: Showing) -> Manner:
    """How values are shown, for a filter that is typed."""
    return Manner(showing.currency, showing.day_once)


def shown_cells(line: Line, columns: Sequence[Column], showing: Showing) -> tuple[str, ...]:
    """The painted columns of a line, each as text that a terminal can show."""
    pairs = zip(line.values, columns, strict=True)
    return tuple(shown_value(value, column.kind, showing) for value, column in pairs if column.width)


def shown_value(value: Value, kind: Kind, showing: Showing) -> str:
    match value:
        case ShownAs():
            return shown(value.words)
        case None:
            return ""
        case date():
            return showing.short_day(value) if kind == "due" else showing.day(value)
        case int() if kind == "amount":
            return showing.plain(value)
        case Decimal():
            return showing.number(value)
        case _:
            return shown(str(value))


def fitting_widths(columns: Sequence[Column], room: int) -> list[int]:
    """The widths of columns that take no more cells than there are; what is lacking comes from the widest texts, and
    only then from days and amounts."""
    widths = [each.width for each in columns]
    texts = [place for place, each in enumerate(columns) if each.kind == "text"]
    for places, least in ((texts, _LEAST_TEXT), (range(len(widths)), _LEAST)):
        while sum(widths) + _GAP * len(widths) > room and any(widths[place] > least for place in places):
            widths[max(places, key=widths.__getitem__)] -= 1
    return widths


def set_in(text: str, width: int, kind: Kind) -> str:
    """The text in exactly so many cells; of a number nothing is cut from its end."""
    kept = padded(text, width)
    return kept if kind not in _AT_THE_RIGHT or kept.startswith(" ") else _to_the_right(kept)


def _to_the_right(kept: str) -> str:
    bare = kept.rstrip(" ")
    return " " * (len(kept) - len(bare)) + bare
