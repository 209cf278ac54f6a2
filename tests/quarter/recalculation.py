"""A second engine for the workbook's formulas: sums of a column, references to other sheets, differences of cells."""

from __future__ import annotations

import re
from decimal import Decimal
from io import BytesIO

from openpyxl import load_workbook
from openpyxl.workbook import Workbook

_SUM = re.compile(r"=SUM\(([A-Z]+)(\d+):\1(\d+)\)")
_ELSEWHERE = re.compile(r"='([^']+)'!([A-Z]+\d+)")
_DIFFERENCE = re.compile(r"=([A-Z]+\d+)-([A-Z]+\d+)")


def read_back(content: bytes) -> tuple[Workbook, Workbook]:
    """The workbook with its formulas, and with the values that were kept beside them."""
    return load_workbook(BytesIO(content)), load_workbook(BytesIO(content), data_only=True)


def formulas_of(book: Workbook) -> dict[tuple[str, str], str]:
    """Every formula by sheet and cell."""
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    }


def worked_out(book: Workbook, sheet: str, cell: str) -> Decimal:
    """The value of a cell, by its formula where it has one. An unknown kind of formula is an error."""
    value = book[sheet][cell].value
    if not isinstance(value, str):
        return Decimal(str(value if value is not None else 0))
    if value == "=0":
        return Decimal(0)
    if found := _SUM.fullmatch(value):
        column, first, last = found[1], int(found[2]), int(found[3])
        return sum((worked_out(book, sheet, f"{column}{row}") for row in range(first, last + 1)), start=Decimal(0))
    if found := _ELSEWHERE.fullmatch(value):
        return worked_out(book, found[1], found[2])
    if found := _DIFFERENCE.fullmatch(value):
        return worked_out(book, sheet, found[1]) - worked_out(book, sheet, found[2])
    raise AssertionError(f"{sheet}!{cell} holds a formula of a kind that nobody expects: {value}")
