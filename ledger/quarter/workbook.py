"""The packet as a workbook: a sheet a table, every sum a live formula beside the value that it has today."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from io import BytesIO
from typing import TYPE_CHECKING, Any

from ledger.money import Currency, whole_units
from ledger.quarter.packet import FACE, Packet
from ledger.quarter.table import Cell, Field, PacketTable

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.worksheet import Worksheet

# What a workbook says of the day on which it was made: nothing that changes.
_CREATED = datetime(2000, 1, 1)
_HEAD_ROWS = 3
_WIDTHS = {"text": 30, "amount": 14, "percent": 10, "quantity": 12, "count": 9, "day": 12}
Formats = dict[str, Any]


def packet_workbook(packet: Packet, currency: Currency) -> bytes:
    """The bytes of an XLSX file, the same for the same packet. Text is text: nothing in it is a formula or a link."""
    from xlsxwriter import Workbook

    file = BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    book = Workbook(file, options)
    book.set_properties({"title": f"{packet.workshop}: {packet.span.label}", "created": _CREATED, "comments": FACE})
    formats = _formats(book, currency)
    totals = book.add_worksheet("totals")
    for each in packet.tables:
        _write_table(book.add_worksheet(each.name), each, formats, currency)
    _write_totals(totals, packet, formats, currency)
    book.close()
    return file.getvalue()


def _formats(book: Workbook, currency: Currency) -> Formats:
    decimals = "." + "0" * currency.decimals if currency.decimals else ""
    amount = f"#,##0{decimals}"
    return {
        "title": book.add_format({"bold": True, "font_size": 14}),
        "head": book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"}),
        "note": book.add_format({"italic": True}),
        "text": book.add_format({}),
        "amount": book.add_format({"num_format": amount}),
        "sum": book.add_format({"num_format": amount, "bold": True, "top": 1}),
        "label": book.add_format({"bold": True, "top": 1}),
        "percent": book.add_format({"num_format": "0.000"}),
        "quantity": book.add_format({"num_format": "General"}),
        "count": book.add_format({"num_format": "0"}),
        "day": book.add_format({"num_format": "yyyy-mm-dd"}),
    }


def _write_table(sheet: Worksheet, table: PacketTable, formats: Formats, currency: Currency) -> None:
    """Title, note, heads, rows, and a row of sums."""
    sheet.write_string(0, 0, table.title, formats["title"])
    sheet.write_string(1, 0, table.note, formats["note"])
    for place, field in enumerate(table.fields):
        sheet.set_column(place, place, _WIDTHS[field.kind])
        sheet.write_string(_HEAD_ROWS - 1, place, field.head, formats["head"])
    for number, row in enumerate(table.rows, start=_HEAD_ROWS):
        for place, (cell, field) in enumerate(zip(row, table.fields, strict=True)):
            _write_cell(sheet, number, place, cell, field, formats, currency)
    last = _HEAD_ROWS + len(table.rows)
    if any(each.is_summed for each in table.fields):
        sheet.write_string(last, 0, "Together", formats["label"])
    for place, field in enumerate(table.fields):
        if field.is_summed:
            value = whole_units(table.sum_of(place), currency)
            sheet.write_formula(last, place, sum_formula(table, place), formats["sum"], str(value))
    sheet.freeze_panes(_HEAD_ROWS, 0)


def _write_cell(
    sheet: Worksheet, row: int, place: int, cell: Cell, field: Field, formats: Formats, currency: Currency
) -> None:
    form = formats[field.kind]
    match cell:
        case None:
            pass
        case date():
            sheet.write_datetime(row, place, datetime(cell.year, cell.month, cell.day), form)
        case int() if field.kind == "amount":
            sheet.write_number(row, place, Fraction(whole_units(cell, currency)), form)
        case int() | Decimal():
            sheet.write_number(row, place, Fraction(cell), form)
        case str():
            sheet.write_string(row, place, cell, form)


def sum_formula(table: PacketTable, place: int) -> str:
    """The sum of a column's rows; nought where there are none."""
    column = chr(ord("A") + place)
    first, last = _HEAD_ROWS + 1, _HEAD_ROWS + len(table.rows)
    return f"=SUM({column}{first}:{column}{last})" if table.rows else "=0"


def _sum_cell(table: PacketTable) -> str:
    """Where the last summed column of a table has its sum, seen from another sheet."""
    place = max(number for number, each in enumerate(table.fields) if each.is_summed)
    return f"'{table.name}'!{chr(ord('A') + place)}{_HEAD_ROWS + len(table.rows) + 1}"


def _write_totals(sheet: Worksheet, packet: Packet, formats: Formats, currency: Currency) -> None:
    """The cover: live references to the sums of the other sheets, what is printed on the packet's face, the checks."""
    tables = {each.name: each for each in packet.tables}
    summary = packet.summary
    lines = (
        ("Income", f"={_sum_cell(tables['income'])}", summary.income_cents),
        ("Expenses", f"={_sum_cell(tables['expenses'])}", summary.expenses_cents),
        ("Net", "=B4-B5", summary.net_cents),
        ("Sales tax taken, no income", f"={_sum_cell(tables['sales tax'])}", summary.taken_cents),
    )
    sheet.set_column(0, 0, 56)
    sheet.set_column(1, 1, 16)
    so_far = ", so far" if packet.span.so_far else ""
    sheet.write_string(0, 0, f"{packet.workshop}, {packet.span.label}{so_far}", formats["title"])
    sheet.write_string(1, 0, FACE, formats["note"])
    for row, (label, formula, cents) in enumerate(lines, start=_HEAD_ROWS):
        sheet.write_string(row, 0, label, formats["text"])
        sheet.write_formula(row, 1, formula, formats["amount"], str(whole_units(cents, currency)))
    for row, text in enumerate(_closing_lines(packet), start=_HEAD_ROWS + len(lines) + 1):
        sheet.write_string(row, 0, text, formats["text"])


def _closing_lines(packet: Packet) -> Iterator[str]:
    passed = sum(1 for each in packet.checks if each.ok)
    yield f"{packet.method}; built on {packet.day}; head {packet.head}"
    yield f"{passed} of {len(packet.checks)} checks passed; see the sheet «checks»"
    yield from (f"Withheld: {each}" for each in packet.withheld)
