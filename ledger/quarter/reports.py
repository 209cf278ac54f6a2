"""Statements at any time: profit and loss, balance sheet, trial balance, as the tables that a packet has too."""

from __future__ import annotations

from collections.abc import Iterator

from ledger.books.books import Books
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Block, Notes, Sheet, Title
from ledger.periods import Period
from ledger.quarter.packet import FACE
from ledger.quarter.packet_sheet import table_blocks
from ledger.quarter.proof_tables import trial_table
from ledger.quarter.result_tables import bridge_table, expense_table, form_table, income_table
from ledger.quarter.span import PacketChoice, Span, span_of
from ledger.quarter.table import Field, PacketTable, amounts
from ledger.quarter.year_tables import balance_table

KINDS = ("profit-and-loss", "balance-sheet", "trial-balance", "form-lines")


def read_report(books: Books, kind: str, period: Period, *, accrual: bool = False) -> tuple[PacketTable, ...]:
    """The tables of a statement; kind: one of KINDS."""
    span = span_of(books, period)
    match kind:
        case "profit-and-loss":
            return tuple(_profit_and_loss(books, span, PacketChoice(accrual=accrual)))
        case "balance-sheet":
            return (balance_table(books, span),)
        case "trial-balance":
            return (trial_table(books, span),)
        case _:
            form = form_table(books, span)
            return (form,) if form else ()


def _profit_and_loss(books: Books, span: Span, choice: PacketChoice) -> Iterator[PacketTable]:
    income, expenses = income_table(books, span, choice), expense_table(books, span)
    yield income
    yield expenses
    earned, spent = income.sum_of(1), expenses.sum_of(len(expenses.fields) - 1)
    yield PacketTable("net", "Income less expenses", (Field("What"), *amounts("Amount")), (("net", earned - spent),))
    if not choice.accrual:
        yield bridge_table(books, span)


def report_sheet(books: Books, tables: tuple[PacketTable, ...], period: Period, forms: LocalForms) -> Sheet:
    """The statement on paper."""
    span = span_of(books, period)
    so_far = ", so far" if span.so_far else ""
    blocks: list[Block] = [Title(f"{span.label}{so_far}", forms.day(books.today)), Notes((FACE,))]
    for each in tables:
        blocks += table_blocks(each, forms)
    return Sheet(
        letterhead=(books.settings.name,),
        about=f"{books.settings.name}: {span.label}",
        blocks=tuple(blocks),
        foot=f"{span.label}{so_far} · not audited, not a tax return",
    )
