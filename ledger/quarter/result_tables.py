"""The packet's tables of income and expenses."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import FigureNotKnown
from ledger.figures.look_up import schedule_c_line
from ledger.figures.published import FormLine
from ledger.periods import year_holding
from ledger.quarter.span import PacketChoice, Span
from ledger.quarter.table import Field, PacketTable, Row, amounts, by_name_and_part
from ledger.results.filled import FilledForm, read_form
from ledger.results.lines import schedule_c_lines
from ledger.results.method import read_method
from ledger.results.period import read_statement
from ledger.results.sold import SoldLine, by_customer_kind, by_place, read_sold

_BRIDGE_NOTE = (
    "Cash method: income counts on the day it is received. The books count a job on the day of pickup; this is the way "
    "from one to the other. Amounts that customers owe are without their tax."
)


def income_table(books: Books, span: Span, choice: PacketChoice) -> PacketTable:
    """Income by account, and what lies between the books and the method."""
    found = read_statement(books, span.start, span.end)
    between = found.income_cents(accrual=choice.accrual) - found.bridge.books_cents
    rows = [(each.account.name, each.cents) for each in found.income if each.cents]
    rows += [("deposits, certificates and balances owed", between)] if between else []
    method = "accrual, which is not the return's method" if choice.accrual else "cash method"
    return PacketTable("income", f"Income, {method}", (Field("What"), *amounts("Amount")), tuple(rows))


def bridge_table(books: Books, span: Span) -> PacketTable:
    """From job income in the books to income on the cash method."""
    bridge = read_statement(books, span.start, span.end).bridge
    rows = (
        ("income as the books have it", bridge.books_cents),
        ("plus deposits received", bridge.deposits_received_cents),
        ("less deposits used or given back", -bridge.deposits_used_cents),
        ("plus gift certificates sold", bridge.certificates_sold_cents),
        ("less gift certificates used", -bridge.certificates_used_cents),
        ("plus what customers owed before", bridge.owed_before_cents),
        ("less what customers owe at the end", -bridge.owed_after_cents),
    )
    fields = (Field("From the books to cash"), *amounts("Amount"))
    return PacketTable("cash bridge", "From the books to the cash method", fields, rows, _BRIDGE_NOTE)


def work_table(sold: tuple[SoldLine, ...], span: Span) -> PacketTable:
    """Sales by kind of work and month, refunds in a row of their own."""
    parts = [each.label for each in span.parts]
    sales = ((each.work, span.part_of(each.day), each.cents) for each in sold if not each.is_refund)
    refunds = (("refunds", span.part_of(each.day), each.cents) for each in sold if each.is_refund)
    found = [*by_name_and_part(sales, parts), *by_name_and_part(refunds, parts)]
    fields = (Field("Kind of work"), *amounts(*parts, "Total"))
    title = "Sales by kind of work, without tax, by day of pickup"
    return PacketTable("sales by work", title, fields, tuple((name, *cents) for name, cents in found))


def customer_tables(sold: tuple[SoldLine, ...]) -> Iterator[PacketTable]:
    for name, title, head, shares in (
        ("sales by customer kind", "Sales by kind of customer", "Customers", by_customer_kind(sold)),
        ("sales by place", "Sales by where the pieces went", "Where", by_place(sold)),
    ):
        rows = tuple((each.name, each.cents) for each in shares)
        yield PacketTable(name, title, (Field(head), *amounts("Amount")), rows)


def expense_table(books: Books, span: Span) -> PacketTable:
    """Expenses by category and month, each with its line of the form."""
    accounts, parts = read_accounts(books), [each.label for each in span.parts]
    moved = books.rows(
        "select account, entry.date, sum(cents) as cents from posting "
        "join entry on entry.number = posting.entry join account on account.id = posting.account "
        "where account.kind = 'expense' and account.purse = 'business' and entry.date between ? and ? "
        "group by account, entry.date order by account, entry.date",
        (span.start.isoformat(), span.end.isoformat()),
    )
    counted = {row["account"]: accounts.counted_under(accounts.with_id(row["account"])) for row in moved}
    goods = read_method(books, span.end).wants_cost_of_goods
    year = span.end.year
    lines = {} if unknown_lines(year) else schedule_c_lines(list(counted.values()), year, cost_of_goods=goods)
    cells = (
        (counted[row["account"]].name, span.part_of(date.fromisoformat(row["date"])), row["cents"]) for row in moved
    )
    rows: tuple[Row, ...] = tuple(
        (name, _numbered(lines[name]) if lines else "not known", *cents)
        for name, cents in by_name_and_part(cells, parts)
    )
    fields = (Field("Category"), Field("Line"), *amounts(*parts, "Total"))
    note = f"Lines of Schedule C for {year}. Your accountant decides which line each belongs on.{_NOT_SEEN}"
    return PacketTable("expenses", "Expenses by category", fields, rows, note)


def form_table(books: Books, span: Span) -> PacketTable | None:
    """The lines of the form that can be filled; none for a span over two tax years, or a year that is not published."""
    year = span.end.year
    if span.start.year != year or unknown_lines(year) is not None:
        return None
    whole = year_holding(span.period.start)
    is_whole_year = (span.period.start, span.period.end) == (whole.start, whole.end)
    filled = read_form(books, span.start, span.end, whole_year=is_whole_year)
    before = filled.before.cents if filled.before is not None else {}
    keys = dict.fromkeys((*filled.form.cents, *before))
    lines = [(schedule_c_line(key, year, asked_by="the packet"), key) for key in keys]
    rows: list[Row] = sorted(
        ((_numbered(line), line.key.replace("_", " "), *_amounts(filled, key)) for line, key in lines),
        key=lambda row: _place(str(row[0])),
    )
    heads = ("Amount",) if filled.before is None else ("Before these books", "In these books", "Year")
    fields = (Field("Line"), Field("What"), *(Field(each, "amount") for each in heads))
    title = f"Lines of Schedule C, {year}, cash method"
    return PacketTable("form lines", title, fields, tuple(rows), _form_note(filled))


def _amounts(filled: FilledForm, key: str) -> tuple[int, ...]:
    """A line's amount; of a year that began before the books, the part before them and theirs too."""
    cents = filled.form.cents.get(key, 0)
    if filled.before is None:
        return (cents,)
    before = filled.before.cents.get(key, 0)
    return before, cents - before, cents


def unknown_lines(tax_year: int) -> str | None:
    """What has to be added before the form's lines of a year can be named, None where they can."""
    try:
        schedule_c_line("supplies", tax_year, asked_by="the packet")
    except FigureNotKnown as refused:
        return str(refused)
    return None


_NOT_SEEN = " *: the number was not seen in that year's form."


def _numbered(line: FormLine) -> str:
    """The number of a line, marked where it was not seen in the form of that year."""
    return line.number if line.confirmed else f"{line.number} *"


def _place(number: str) -> tuple[int, str]:
    """Lines in the order of the form: 9 before 10, 16a before 16b."""
    digits = "".join(each for each in number.split(" ")[0] if each.isdigit())
    return int(digits), number


def _form_note(filled: FilledForm) -> str:
    beside = "With the figures that stand beside the books: mileage, the part of meals that counts, the home."
    unsure = f" How sure they are: {'; '.join(filled.notes)}." if filled.notes else ""
    return f"{beside}{unsure} A working sheet, not a return: your accountant decides.{_NOT_SEEN}"


def result_tables(books: Books, span: Span, choice: PacketChoice) -> Iterator[PacketTable]:
    sold = read_sold(books, span.start, span.end)
    yield income_table(books, span, choice)
    yield bridge_table(books, span)
    yield work_table(sold, span)
    yield from customer_tables(sold)
    yield expense_table(books, span)
    form = form_table(books, span)
    if form is not None:
        yield form
