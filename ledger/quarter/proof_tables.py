"""The packet's tables that stand behind the figures: trial balance, every entry, its documents, and what came late."""

from __future__ import annotations

from collections.abc import Iterator

from ledger.books.books import Books
from ledger.books.chain import HEAD_DIGITS
from ledger.books.entries import Entry, Wanted, read_entries
from ledger.jobs.customers import customer_code
from ledger.quarter.checks import Check
from ledger.quarter.documents import PacketDocument
from ledger.quarter.late import read_late
from ledger.quarter.own_questions import answered
from ledger.quarter.span import PacketChoice, Span
from ledger.quarter.table import Field, PacketTable, Row, amounts
from ledger.results.position import read_trial_balance


def check_table(checks: tuple[Check, ...]) -> PacketTable:
    """Every check, passed or not, with the amount by which its two sides differ."""
    fields = (Field("Check"), Field("Passed"), Field("Off by", "amount"))
    rows = tuple((each.name, "yes" if each.ok else "NO", each.off_cents) for each in checks)
    return PacketTable("checks", "Checks that tie these figures to the books", fields, rows)


def question_table(questions: tuple[str, ...]) -> PacketTable:
    rows = tuple((number, each) for number, each in enumerate(questions, start=1))
    return PacketTable("questions", "Still open: questions for you", (Field("", "count"), Field("Question")), rows)


def answer_table(books: Books, span: Span) -> PacketTable:
    """What was said to questions in the period."""
    fields = (Field("Day", "day"), Field("Question"), Field("Answer"), Field("Who"))
    rows = tuple((each.day, each.question, each.answer, each.who) for each in answered(books, span.start, span.end))
    return PacketTable("answers", "Answered", fields, rows)


def late_table(books: Books, span: Span) -> PacketTable:
    """Changed since the last packet."""
    fields = (Field("Entry", "count"), Field("Day", "day"), Field("What"), Field("Why it is here"))
    rows = tuple(
        (each.entry, each.day, each.text, each.why, each.cents) for each in read_late(books, span.start, span.end)
    )
    title = "Changed since the last packet, and late finds"
    return PacketTable("late finds", title, (*fields, Field("Amount", "amount")), rows)


def trial_table(books: Books, span: Span) -> PacketTable:
    fields = (Field("Account"), Field("Kind"), *amounts("Debit", "Credit"))
    rows = tuple(
        (each.account.name, each.account.kind, max(each.cents, 0) or None, max(-each.cents, 0) or None)
        for each in read_trial_balance(books, span.end)
    )
    return PacketTable("trial balance", f"Trial balance of the workshop on {span.end}", fields, rows)


def entry_table(books: Books, span: Span, choice: PacketChoice) -> PacketTable:
    """Every workshop posting of every entry; debit positive."""
    customers = {row["party"]: customer_code(row["id"]) for row in books.rows("select id, party from customer")}
    parties = {
        row["number"]: customers[row["who"]]
        for row in books.rows("select number, who from entry where who in (select party from customer)")
    }
    found = read_entries(books, Wanted(since=span.start, through=span.end))
    fields = (
        *(
            Field("Entry", "count"),
            Field("Day", "day"),
            Field("Belongs on", "day"),
            Field("Kind"),
            Field("Job", "count"),
        ),
        *(Field("Who"), Field("What"), Field("Account"), *amounts("Debit positive")),
        *(Field("Reverses", "count"), Field("Digest")),
    )
    rows = tuple(
        row for each in found for row in _postings(each, None if choice.with_names else parties.get(each.number))
    )
    title = "Every entry, the workshop's postings"
    return PacketTable("entries", title, fields, rows, "Debit positive: each entry adds to zero.", on_paper=False)


def _postings(entry: Entry, number_of_customer: str | None) -> Iterator[Row]:
    for posting in entry.postings:
        if posting.account.purse == "business":
            yield (
                *(entry.number, entry.on, entry.belongs_on, entry.kind, entry.job),
                *(number_of_customer or entry.who, entry.text, posting.account.name, posting.cents),
                *(entry.reverses, entry.digest[:HEAD_DIGITS]),
            )


def document_table(documents: tuple[PacketDocument, ...]) -> PacketTable:
    """From entry to document: what is kept, and the file in this packet."""
    fields = (
        *(Field("Entry", "count"), Field("File"), Field("Kind"), Field("Kept as"), Field("Bytes", "count")),
        Field("SHA-256"),
    )
    rows = tuple(
        (each.entry, each.file or "withheld", each.kind, each.label, each.size_bytes, each.digest) for each in documents
    )
    return PacketTable("documents", "Documents behind the entries", fields, rows, on_paper=False)
