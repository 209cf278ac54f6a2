"""The packet's tables that look beyond the period: balances at both ends, the quarters of a year, who was paid."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from ledger.books.before_books import BEFORE_WORDS, read_year_before
from ledger.books.books import Books
from ledger.periods import Period, quarter_holding, year_holding
from ledger.quarter.span import PacketChoice, Span, span_of
from ledger.quarter.table import Field, PacketTable, Row, amounts
from ledger.results.period import read_statement
from ledger.results.position import BalanceSheet, read_balance_sheet
from ledger.spending.information_returns import read_people_paid, threshold

_PAID_NOTE = (
    "Paid in the calendar year under paid helpers. A return may be due from {dollars} on{sure}: your accountant."
)


def year_tables(books: Books, span: Span, choice: PacketChoice) -> Iterator[PacketTable]:
    yield balance_table(books, span)
    quarters = quarters_in(span.period)
    if len(quarters) > 1:
        yield quarters_table(books, quarters, choice)
    yield people_table(books, span)
    yield equipment_table(books, span)


def quarters_in(period: Period) -> tuple[Period, ...]:
    """The whole quarters of a year, none for any other period."""
    if (period.start, period.end) != (year_holding(period.start).start, year_holding(period.start).end):
        return ()
    return tuple(quarter_holding(date(period.start.year, month, 1)) for month in (1, 4, 7, 10))


def balance_table(books: Books, span: Span) -> PacketTable:
    """Assets, liabilities and equity at the beginning and at the end; profit is what the accounts of both leave."""
    ends = [read_balance_sheet(books, day) for day in (span.start - timedelta(days=1), span.end)]
    rows: list[Row] = []
    for kind, of_kind in (("asset", _assets), ("liability", _liabilities), ("equity", _equity)):
        before, after = (of_kind(each) for each in ends)
        names = dict.fromkeys((*before, *after))
        rows += ((kind, name, before.get(name, 0), after.get(name, 0)) for name in names)
    rows.append(("", "assets together", *(each.assets_cents for each in ends)))
    rows.append(("", "liabilities and equity together", *(each.liabilities_cents + each.equity_cents for each in ends)))
    fields = (Field("Kind"), Field("Account"), Field("Before", "amount"), Field("At the end", "amount"))
    title = f"Balance sheet on {span.end}, with the day before the period"
    return PacketTable("balance sheet", title, fields, tuple(rows))


def _assets(sheet: BalanceSheet) -> dict[str, int]:
    return {each.account.name: each.cents for each in sheet.assets}


def _liabilities(sheet: BalanceSheet) -> dict[str, int]:
    return {each.account.name: each.cents for each in sheet.liabilities}


def _equity(sheet: BalanceSheet) -> dict[str, int]:
    named = {each.account.name: each.cents for each in sheet.equity}
    return named | {"income less expenses since the books began": sheet.profit_cents}


def quarters_table(books: Books, quarters: tuple[Period, ...], choice: PacketChoice) -> PacketTable:
    """Income, expenses and net of each quarter, and of what was before the books, which add to the year."""
    before = read_year_before(books, quarters[0].start.year)
    told = (before.income_cents, before.expenses_cents, before.net_cents)
    rows: list[Row] = [(BEFORE_WORDS, *told)] if any(told) else []
    for each in quarters:
        span = span_of(books, each)
        found = read_statement(books, span.start, span.end)
        income = found.income_cents(accrual=choice.accrual)
        rows.append((each.label, income, found.expenses_cents, income - found.expenses_cents))
    fields = (Field("Quarter"), *amounts("Income", "Expenses", "Net"))
    return PacketTable("quarters", "The quarters, which add to the year", fields, tuple(rows))


def people_table(books: Books, span: Span) -> PacketTable:
    """Helpers paid in the year, beside the threshold of an information return."""
    least = threshold(span.end.year)
    sure = "" if least.is_known else f" (no published figure for {span.end.year} yet)"
    rows = tuple(
        (each.name, "on file: " + each.tax_form if each.tax_form else "nothing on file", each.cents)
        for each in read_people_paid(books, span.end.year)
    )
    note = _PAID_NOTE.format(dollars=f"{least.dollars:,}", sure=sure)
    fields = (Field("Who"), Field("Form"), *amounts("Paid this year"))
    return PacketTable("people paid", f"People paid to help in {span.end.year}", fields, rows, note)


def equipment_table(books: Books, span: Span) -> PacketTable:
    """What the machine account took in up to the end, and what was noted as its cost: depreciable property."""
    rows = books.rows(
        "select on_date, what, cents, entry from machine_cost where on_date <= ? order by on_date, id",
        (span.end.isoformat(),),
    )
    fields = (Field("Day", "day"), Field("What"), Field("Entry", "count"), *amounts("Cost"))
    cells = tuple((date.fromisoformat(row["on_date"]), row["what"], row["entry"], row["cents"]) for row in rows)
    note = "Depreciable property as she paid for it. Class, method and what belongs to it are for you to decide."
    return PacketTable("equipment", "Machine and equipment", fields, cells, note)
