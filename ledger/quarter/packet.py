"""The packet of a period before it is written: every table, check and question, and what was held back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.chain import head
from ledger.machine.curve import Curve
from ledger.machine.curve_record import curve_points
from ledger.periods import Period
from ledger.quarter.bank_tables import agreement_checks, agreement_table
from ledger.quarter.checks import Check, run_checks
from ledger.quarter.documents import PacketDocument, read_documents
from ledger.quarter.held_tables import held_tables
from ledger.quarter.numbered import by_number, number_customers, read_numbers
from ledger.quarter.proof_checks import proof_checks
from ledger.quarter.proof_tables import (
    answer_table,
    check_table,
    document_table,
    entry_table,
    late_table,
    question_table,
    trial_table,
)
from ledger.quarter.questions import find_questions
from ledger.quarter.result_tables import result_tables, unknown_lines
from ledger.quarter.span import PacketChoice, Span, span_of
from ledger.quarter.table import PacketTable
from ledger.quarter.tax_tables import exemption_table, tax_tables
from ledger.quarter.year_tables import year_tables
from ledger.results.period import read_statement
from ledger.results.sold import Share, by_month, read_sold

# What stands on the face of whatever shows a period.
FACE = "From the owner's records, not audited, not a tax return: your accountant decides."


@dataclass(frozen=True)
class Summary:
    """What the cover says, in cents. taken_cents: sales tax taken in the period, which is no income."""

    income_cents: int
    expenses_cents: int
    taken_cents: int

    @property
    def net_cents(self) -> int:
        return self.income_cents - self.expenses_cents


@dataclass(frozen=True)
class Packet:
    """Everything that a packet says. day: the one that it is built on. head: the last entry of the books then."""

    workshop: str
    span: Span
    choice: PacketChoice
    day: date
    head: str
    summary: Summary
    sales_by_month: tuple[Share, ...]
    curve: Curve
    checks: tuple[Check, ...]
    questions: tuple[str, ...]
    tables: tuple[PacketTable, ...]
    documents: tuple[PacketDocument, ...]
    withheld: tuple[str, ...]

    @property
    def method(self) -> str:
        return "accrual, not the return's method" if self.choice.accrual else "cash method"


def read_packet(books: Books, period: Period, choice: PacketChoice) -> Packet:
    """The packet of a period as far as the books go today. Nothing is written to the books."""
    span = span_of(books, period)
    documents = read_documents(books, span, choice)
    checks = read_checks(books, span, documents)
    numbers = {} if choice.with_names else read_numbers(books)
    asked = (*find_questions(books, span.start, span.end), *_not_published(span))
    questions = tuple(by_number(each, numbers) for each in asked)
    statement = read_statement(books, span.start, span.end)
    tables = number_customers(
        (*_figures(books, span, choice), *_proof(books, span, choice, checks, questions, documents)), numbers
    )
    return Packet(
        workshop=books.settings.name,
        span=span,
        choice=choice,
        day=books.today,
        head=str(head(books.connection)),
        summary=Summary(
            statement.income_cents(accrual=choice.accrual),
            statement.expenses_cents,
            next(each.sum_of(len(each.fields) - 1) for each in tables if each.name == "sales tax"),
        ),
        sales_by_month=by_month(read_sold(books, span.start, span.end)),
        curve=curve_points(books),
        checks=checks,
        questions=questions,
        tables=tables,
        documents=documents,
        withheld=tuple(_withheld(books, span, choice, documents)),
    )


def read_checks(books: Books, span: Span, documents: tuple[PacketDocument, ...]) -> tuple[Check, ...]:
    """Every check that the packet tells of."""
    return (
        *run_checks(books, span.start, span.end),
        *agreement_checks(books, span.end),
        *proof_checks(books, span.start, span.end, documents),
    )


def _figures(books: Books, span: Span, choice: PacketChoice) -> Iterator[PacketTable]:
    yield from result_tables(books, span, choice)
    yield from tax_tables(books, span)
    yield exemption_table(books, span)
    yield from held_tables(books, span, choice)
    yield from year_tables(books, span, choice)


def _proof(
    books: Books,
    span: Span,
    choice: PacketChoice,
    checks: tuple[Check, ...],
    questions: tuple[str, ...],
    documents: tuple[PacketDocument, ...],
) -> Iterator[PacketTable]:
    """What stands behind the figures."""
    yield agreement_table(books, span)
    yield check_table(checks)
    yield question_table(questions)
    yield answer_table(books, span)
    yield late_table(books, span)
    yield trial_table(books, span)
    yield entry_table(books, span, choice)
    yield document_table(documents)


def _not_published(span: Span) -> tuple[str, ...]:
    """A figure never slides forward: where a year's lines are not published yet the packet leaves them out, and says
    so."""
    missing = unknown_lines(span.end.year)
    return (missing,) if missing else ()


def _withheld(books: Books, span: Span, choice: PacketChoice, documents: tuple[PacketDocument, ...]) -> Iterator[str]:
    """What stays in the house, each a sentence."""
    if not choice.with_names:
        yield "The names of customers, who are numbered, but for the exemption certificates, on a sheet of their own."
        yield "Look through the words of entries: a part of a name, or a nickname, stands as it was typed."
    yield "The contacts of everyone, and the photographs and measures of the pieces."
    household = books.value(
        "select count(*) from posting join entry on entry.number = posting.entry "
        "where purse = 'personal' and entry.date between ? and ?",
        (span.start.isoformat(), span.end.isoformat()),
    )
    if household:
        yield f"{household} postings of the household's purse; what passed between the purses is listed."
    if documents and not choice.with_documents:
        yield f"{len(documents)} documents, which are named with their digests."
