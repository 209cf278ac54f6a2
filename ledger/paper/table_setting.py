"""How tables and totals are set: amounts end at the right edge of their column, heads come again on the next page."""

from __future__ import annotations

from dataclasses import replace

from ledger.paper.fonts import Face
from ledger.paper.marks import BODY, SMALL, Strip, Stroke, Words
from ledger.paper.setting import GAP, Setting, strip_of
from ledger.paper.sheet import Row, Table, Total, Totals
from ledger.paper.wrapping import share_width

_SUM_SIZE = 11.0
_TOTALS_FROM = 0.42
_ROW_PADDING = 3.0


def set_table(setting: Setting, table: Table) -> list[Strip]:
    """A strip for each line of each row; a row stays together, and its first line can bring the heads along."""
    widths = _widths(setting, table)
    heads = _heads(setting, table, widths)
    strips = [heads]
    for row in table.rows:
        first, *others = _row(setting, table, row, widths)
        strips += [replace(each, heads=(heads,)) for each in (first, *others)]
    return strips


def _widths(setting: Setting, table: Table) -> list[float]:
    """The width of each column, its distance from the next one included."""
    last = len(table.columns) - 1
    naturals = []
    for place, column in enumerate(table.columns):
        cells = [setting.width_of(row.cells[place], _face(row)) for row in table.rows]
        natural = max([setting.width_of(column.head, size=SMALL), *cells])
        naturals.append(natural + (GAP if place < last else 0))
    return share_width(naturals, [column.is_amount for column in table.columns], setting.room)


def _heads(setting: Setting, table: Table, widths: list[float]) -> Strip:
    lines = _cell_lines(setting, table, Row(tuple(column.head for column in table.columns)), widths, SMALL)
    step = SMALL * 1.3
    words = [replace(each, down=number * step, tone="quiet") for number, line in enumerate(lines) for each in line]
    last = step * (len(lines) - 1)
    under = Stroke(setting.left, last + 5, setting.right, 0.8, "accent")
    return strip_of(*words, under, size=SMALL, above=8, below=last + 2, stays=True)


def _row(setting: Setting, table: Table, row: Row, widths: list[float]) -> list[Strip]:
    lines = [strip_of(*marks, stays=True) for marks in _cell_lines(setting, table, row, widths)]
    lines += [
        strip_of(Words(setting.left, 0, line, SMALL, tone="quiet"), size=SMALL, stays=True)
        for text in row.details
        for line in setting.lines(text, _room_before_amounts(table, widths), size=SMALL)
    ]
    lines[0] = _padded(lines[0], _ROW_PADDING)
    last = lines[-1]
    hairline = Stroke(setting.left, last.height + _ROW_PADDING, setting.right)
    lines[-1] = replace(last, height=last.height + _ROW_PADDING + 0.5, marks=(*last.marks, hairline), stays=False)
    return lines


def _cell_lines(setting: Setting, table: Table, row: Row, widths: list[float], size: float = BODY) -> list[list[Words]]:
    """The words of each line of a row."""
    last = len(widths) - 1
    lines: list[list[Words]] = []
    left = setting.left
    for place, (column, width) in enumerate(zip(table.columns, widths, strict=True)):
        room = width - (GAP if place < last else 0)
        # The width that a column was given is the sum of widths that make it up, which can be a hair less.
        for number, text in enumerate(setting.lines(row.cells[place], room + 0.01, _face(row), size)):
            if number == len(lines):
                lines.append([])
            x = left + room if column.is_amount else left
            lines[number].append(Words(x, 0, text, size, _face(row), ends_at_x=column.is_amount))
        left += width
    return lines


def _room_before_amounts(table: Table, widths: list[float]) -> float:
    """Small lines run under the text columns that a row begins with."""
    room = 0.0
    for column, width in zip(table.columns, widths, strict=True):
        if column.is_amount:
            break
        room += width
    return (room or sum(widths)) - GAP


def _padded(strip: Strip, above: float) -> Strip:
    marks = tuple(replace(mark, down=mark.down + above) for mark in strip.marks)
    return replace(strip, height=strip.height + above, marks=marks)


def _face(row: Row) -> Face:
    return "bold" if row.is_sum else "regular"


def set_totals(setting: Setting, totals: Totals) -> list[Strip]:
    """The totals in the right part of the page, all of them together."""
    strips = [strip for total in totals.totals for strip in _total(setting, total)]
    if not strips:
        return []
    strips[0] = _padded(strips[0], 6)
    strips[-1] = replace(strips[-1], stays=False)
    return strips


def _total(setting: Setting, total: Total) -> list[Strip]:
    left = setting.left + setting.room * _TOTALS_FROM
    face: Face = "bold" if total.is_sum else "regular"
    size = _SUM_SIZE if total.is_sum else BODY
    amount = setting.letters.drawable(total.amount, face)
    lines = setting.lines(total.label, setting.right - left - setting.width_of(amount, face, size) - GAP, face, size)
    end = Words(setting.right, 0, amount, size, face, ends_at_x=True)
    over = (Stroke(left, -size - 4, setting.right, 0.8, "accent"),) if total.is_sum else ()
    strips = [
        strip_of(
            Words(left, 0, line, size, face),
            *((end, *over) if place == 0 else ()),
            size=size,
            above=8 if over and place == 0 else 1.5,
            below=2 if total.is_sum else 0,
            stays=True,
        )
        for place, line in enumerate(lines)
    ]
    return strips + [
        strip_of(Words(left, 0, line, SMALL, tone="quiet"), size=SMALL, stays=True)
        for text in total.details
        for line in setting.lines(text, setting.right - left - GAP, size=SMALL)
    ]
