"""Commands for statements at any time: on the screen, as PDF, as a list for other programs."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from ledger.books.books import Books
from ledger.commands.manners import Answer, Group, Session, amount_in, answers, read_path
from ledger.periods import Period, parse_period, quarter_holding

if TYPE_CHECKING:
    from ledger.quarter.table import Cell, CellKind, PacketTable

_PERIOD = click.argument("period", required=False)
_PDF = click.option("--pdf", metavar="FILE", help="Write it as PDF too.")
_CSV = click.option("--csv", "csv_file", metavar="FILE", help="Write it as a list too.")


@click.group("report", cls=Group)
def report() -> None:
    """Statements of the workshop, at any time.

    Of this quarter unless PERIOD says another.
    """


@report.command("profit-and-loss")
@_PERIOD
@click.option("--accrual", is_flag=True, help="Income on the day of pickup. Not the return's method.")
@_PDF
@_CSV
@answers
def profit_and_loss(
    session: Session, period: str | None, accrual: bool, pdf: str | None, csv_file: str | None
) -> Answer:
    """Income less expenses, on the cash method.

    PERIOD is a year, quarter, month or span; this quarter unless given.
    """
    return _answer(session, "profit-and-loss", period, pdf, csv_file, accrual=accrual)


@report.command("balance-sheet")
@_PERIOD
@_PDF
@_CSV
@answers
def balance_sheet(session: Session, period: str | None, pdf: str | None, csv_file: str | None) -> Answer:
    """What the workshop has and owes.

    At the end of PERIOD, this quarter unless given, beside the day before it.
    """
    return _answer(session, "balance-sheet", period, pdf, csv_file)


@report.command("trial-balance")
@_PERIOD
@_PDF
@_CSV
@answers
def trial_balance(session: Session, period: str | None, pdf: str | None, csv_file: str | None) -> Answer:
    """Every account, debit and credit.

    At the end of PERIOD, this quarter unless given.
    """
    return _answer(session, "trial-balance", period, pdf, csv_file)


@report.command("form-lines")
@_PERIOD
@_PDF
@_CSV
@answers
def form_lines(session: Session, period: str | None, pdf: str | None, csv_file: str | None) -> Answer:
    """The lines of Schedule C that the books can fill.

    A working sheet: your accountant decides. PERIOD lies in one year; this quarter unless given.
    """
    return _answer(session, "form-lines", period, pdf, csv_file)


@report.command("customer")
@click.argument("name")
@_PERIOD
@_PDF
@_CSV
@answers
def customer(session: Session, name: str, period: str | None, pdf: str | None, csv_file: str | None) -> Answer:
    """The account of one customer.

    NAME is the customer. PERIOD is a year, quarter, month or span; this quarter unless given.
    """
    from ledger.jobs.customers import customer_named
    from ledger.quarter.customer_table import customer_table
    from ledger.quarter.span import span_of

    with session.books() as books:
        days = _days(session, period)
        tables = (customer_table(books, customer_named(books, name), span_of(books, days)),)
        return _told(books, "customer", tables, days, pdf, csv_file)


def _answer(
    session: Session, kind: str, period: str | None, pdf: str | None, csv_file: str | None, *, accrual: bool = False
) -> Answer:
    from ledger.quarter.reports import read_report

    with session.books() as books:
        days = _days(session, period)
        return _told(books, kind, read_report(books, kind, days, accrual=accrual), days, pdf, csv_file)


def _days(session: Session, period: str | None) -> Period:
    return parse_period(period) if period is not None else quarter_holding(session.today)


def _told(
    books: Books, kind: str, tables: tuple[PacketTable, ...], days: Period, pdf: str | None, csv_file: str | None
) -> Answer:
    written = _write(books, tables, days, pdf, csv_file)
    data = {"report": kind, "period": days.label, "tables": [_table_data(books, each) for each in tables]}
    files = {"pdf": _said(written.get("pdf")), "csv": _said(written.get("csv"))}
    return Answer(data | files, _lines(books, tables))


def _write(
    books: Books, tables: tuple[PacketTable, ...], days: Period, pdf: str | None, csv_file: str | None
) -> dict[str, Path]:
    from ledger.books.kept_lists import write_beside
    from ledger.books.letterhead import read_letterhead
    from ledger.paper.letterhead import on_letterhead
    from ledger.paper.locales import LocalForms
    from ledger.paper.pdf import sheet_pdf
    from ledger.quarter.packet_folder import table_csv
    from ledger.quarter.reports import report_sheet

    written = {}
    if pdf is not None:
        forms = LocalForms(books.settings.locale, books.currency)
        sheet = on_letterhead(report_sheet(books, tables, days, forms), read_letterhead(books, books.today))
        content = sheet_pdf(sheet, forms.paper())
        written["pdf"] = write_beside(read_path(pdf, "pdf"), content, "pdf")
    if csv_file is not None:
        content = b"\r\n".join(table_csv(each, books.currency) for each in tables)
        written["csv"] = write_beside(read_path(csv_file, "csv"), content, "csv")
    return written


def _table_data(books: Books, table: PacketTable) -> dict[str, Any]:
    """The heads once, then each row as a list; sums stand at their columns, null where nothing is summed."""
    kinds = [field.kind for field in table.fields]
    amount = amount_in(books.currency)
    return {
        "table": table.name,
        "title": table.title,
        "columns": [field.head for field in table.fields],
        "rows": [[_value(books, cell, kind) for cell, kind in zip(row, kinds, strict=True)] for row in table.rows],
        "sums": [amount(table.sum_of(at)) if field.is_summed else None for at, field in enumerate(table.fields)],
        "note": table.note,
    }


def _value(books: Books, cell: Cell, kind: CellKind) -> str | int | None:
    match cell:
        case date():
            return cell.isoformat()
        case Decimal():
            return str(cell)
        case int() if kind == "amount":
            return amount_in(books.currency)(cell)
        case _:
            return cell


def _lines(books: Books, tables: tuple[PacketTable, ...]) -> list[str]:
    from ledger.paper.locales import LocalForms
    from ledger.paper.plain import sheet_text
    from ledger.paper.sheet import Sheet
    from ledger.quarter.packet_sheet import table_blocks

    forms = LocalForms(books.settings.locale, books.currency)
    blocks = tuple(block for each in tables for block in table_blocks(each, forms))
    return sheet_text(Sheet((books.settings.name,), "", blocks), width=78).splitlines()


def _said(path: Path | None) -> str | None:
    return str(path) if path else None


COMMANDS = (report,)
