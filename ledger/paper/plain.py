"""A sheet as text for the terminal, in lines of at most 48 columns."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import zip_longest

from ledger.paper.sheet import (
    Bars,
    Block,
    Facts,
    Heading,
    Notes,
    Picture,
    Questions,
    Row,
    Sheet,
    Signatures,
    Table,
    Title,
    Total,
    Totals,
)
from ledger.paper.wrapping import share_width, terminal_columns, wrap
from ledger.text import shown

WIDTH = 48
_GAP = 2
_INDENT = "  "


def sheet_text(sheet: Sheet, width: int = WIDTH) -> str:
    """The whole sheet, ending with a line break. Nothing in it can be obeyed by a terminal."""
    rule = "-" * width
    lines = [line for text in sheet.letterhead for line in _wrapped(text, width)]
    for block in sheet.blocks:
        lines += _block(block, width)
        if not isinstance(block, Heading):
            lines.append(rule)
    lines += _apart(sheet.foot, sheet.digits, width) if sheet.foot or sheet.digits else []
    return "\n".join(lines) + "\n"


def _block(block: Block, width: int) -> list[str]:
    match block:
        case Title():
            return _apart(block.text, block.beside, width)
        case Facts():
            return _facts(block, width)
        case Heading():
            return _wrapped(block.text, width)
        case Table():
            return _table(block, width)
        case Totals():
            return [line for total in block.totals for line in _total(total, width)]
        case Bars():
            return _bars(block, width)
        case Picture():
            return [line for text in block.words for line in _wrapped(text, width)]
        case Notes():
            return [line for text in block.texts for line in _wrapped(text, width)]
        case Signatures():
            line_to_write_on = "_" * (width - max(16, width // 3))
            return [line for label in block.labels for line in ("", *_apart(label, line_to_write_on, width))]
        case Questions():
            return [line for heading, texts in block.groups for line in _asked(heading, texts, width)]


def _facts(facts: Facts, width: int) -> list[str]:
    pairs = [*facts.first, *facts.second]
    widest = max((terminal_columns(shown(label)) for label, _ in pairs), default=0) + _GAP
    room = min(widest, width * 2 // 5)
    return [
        (_left(label, room) + line).rstrip()
        for name, value in pairs
        for label, line in zip_longest(_wrapped(name, room - _GAP), _wrapped(value, width - room), fillvalue="")
    ]


def _table(table: Table, width: int) -> list[str]:
    are_amounts = [column.is_amount for column in table.columns]
    heads = Row(tuple(column.head for column in table.columns))
    # Two columns explain themselves; on a strip of paper the line is better saved.
    rows = [heads, *table.rows] if len(table.columns) > 2 else list(table.rows)
    naturals = [
        max((terminal_columns(shown(row.cells[place])) for row in rows), default=0)
        + (_GAP if place < len(table.columns) - 1 else 0)
        for place in range(len(table.columns))
    ]
    widths = [int(each) for each in share_width(naturals, are_amounts, width)]
    return [line for row in rows for line in _row(row, widths, are_amounts, width)]


def _row(row: Row, widths: list[int], are_amounts: list[bool], width: int) -> list[str]:
    last = len(widths) - 1
    rooms = [max(1, each - (_GAP if place < last else 0)) for place, each in enumerate(widths)]
    cells = [_wrapped(cell, room) for cell, room in zip(row.cells, rooms, strict=True)]
    lines = []
    for number in range(max(map(len, cells))):
        line = ""
        for place, cell in enumerate(cells):
            text = cell[number] if number < len(cell) else ""
            line += _right(text, rooms[place]) if are_amounts[place] else _left(text, rooms[place])
            line += " " * _GAP if place < last else ""
        lines.append(line.rstrip())
    return lines + _indented(row.details, width)


def _total(total: Total, width: int) -> list[str]:
    return _apart(total.label, total.amount, width) + _indented(total.details, width)


def _bars(bars: Bars, width: int) -> list[str]:
    labels = max((terminal_columns(shown(each.label)) for each in bars.bars), default=0) + _GAP
    words = max((terminal_columns(shown(each.words)) for each in bars.bars), default=0) + _GAP
    room = max(1, width - labels - words)
    return [
        _left(shown(each.label), labels)
        + _left("#" * round(room * bars.share(each)), room)
        + _right(shown(each.words), words)
        for each in bars.bars
    ]


def _apart(left: str, right: str, width: int) -> list[str]:
    """Two texts at the two edges of a line, the first broken over several where it is long."""
    left, right = shown(left), shown(right)
    room = width - terminal_columns(right) - 1
    if room < width // 4:
        return [*_wrapped(left, width), *(_right(line, width) for line in _wrapped(right, width))]
    lines = _wrapped(left, room)
    return [*lines[:-1], (_left(lines[-1], room + 1) + right).rstrip()]


def _asked(heading: str, texts: Iterable[str], width: int) -> list[str]:
    """A heading and its questions, each with a line under it to write the answer on."""
    line = _INDENT + "_" * (width - len(_INDENT))
    questions = [part for text in texts for part in (*_indented([text], width), "", line)]
    return [*_wrapped(heading, width), *questions, ""]


def _indented(texts: Iterable[str], width: int) -> list[str]:
    return [_INDENT + line for text in texts for line in _wrapped(text, width - len(_INDENT))]


def _wrapped(text: str, room: int) -> list[str]:
    return wrap(shown(text), room, terminal_columns)


def _left(text: str, room: int) -> str:
    return text + " " * (room - terminal_columns(text))


def _right(text: str, room: int) -> str:
    return " " * (room - terminal_columns(text)) + text
