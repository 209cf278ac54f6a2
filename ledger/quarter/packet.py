"""The packet of a period before it is written: every table, check and question, and what was held back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.chain import head
from ledger.machine.payback_record import read_payback
from ledger.periods import Period
from ledger.quarter.checks import Check, run_checks
from ledger.quarter.documents import PacketDocument, read_documents
from ledger.quarter.held_tables import held_tables
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
class MachineSoFar:
    """Cost and what was earned towards it by the end of today, in cents."""

    cost_cents: int
    earned_cents: int


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
    machine: MachineSoFar
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
    checks = (
        *run_checks(books, span.start, span.end),
        *proof_checks(books, span.start, span.end, documents),
    )
    questions = (*find_questions(books, span.start, span.end), *_not_published(span))
    statement = read_statement(books, span.start, span.end)
    tax = tuple(tax_tables(books, span))
    machine = read_payback(books)
    return Packet(
        workshop=books.settings.name,
        span=span,
        choice=choice,
        day=books.today,
        head=str(head(books.connection)),
        summary=Summary(
            statement.income_cents(accrual=choice.accrual),
            statement.expenses_cents,
            next(each.sum_of(len(each.fields) - 1) for each in tax if each.name == "sales tax"),
        ),
        sales_by_month=by_month(read_sold(books, span.start, span.end)),
        machine=MachineSoFar(machine.cost_cents, machine.earned_cents),
        checks=checks,
        questions=questions,
        tables=(
            *result_tables(books, span, choice),
            *tax,
            exemption_table(books, span),
            *held_tables(books, span, choice),
            *year_tables(books, span, choice),
            check_table(checks),
            question_table(questions),
            answer_table(books, span),
            late_table(books, span),
            trial_table(books, span),
            entry_table(books, span, choice),
            document_table(documents),
        ),
        documents=documents,
        withheld=tuple(_withheld(books, span, choice, documents)),
    )


def _not_published(span: Span) -> tuple[str, ...]:
    """A figure never slides forward: where a year's lines are not published yet the packet leaves them out, and says
    so."""
    missing = unknown_lines(span.end.year)
    return (missing,) if missing else ()


def _withheld(books: Books, span: Span, choice: PacketChoice, documents: tuple[PacketDocument, ...]) -> Iterator[str]:
    """What stays in the house, each a sentence."""
    if not choice.with_names:
        yield "The names of customers, who are numbered, but for the exemption certificates, on a sheet of their own."
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
