"""The packet's tables of what the workshop holds and is owed, and of what passed between the purses."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books
from ledger.jobs.customers import read_customer
from ledger.jobs.gift_certificates import UNUSED
from ledger.quarter.span import PacketChoice, Span
from ledger.quarter.table import Field, PacketTable, amounts
from ledger.spending.crossings import read_crossings

_GROSS = (
    "What customers paid by card, before the fee: a 1099-K shows it gross. Fees are in the expenses. An account that "
    "takes cards and an app may each send one."
)


def held_tables(books: Books, span: Span, choice: PacketChoice) -> Iterator[PacketTable]:
    yield deposits_table(books, span, choice)
    yield owed_table(books, span, choice)
    yield gift_table(books, span)
    yield card_table(books, span)
    yield crossings_table(books, span)


def customer_shown(books: Books, customer: int, choice: PacketChoice) -> str:
    """A customer by name where she says so, else by number."""
    found = read_customer(books, customer)
    return found.name if choice.with_names else found.code


def deposits_table(books: Books, span: Span, choice: PacketChoice) -> PacketTable:
    """Deposits held at the end, by job."""
    rows = books.rows(
        "select job.id, job.customer, -sum(posting.cents) as cents from posting "
        "join account on account.id = posting.account join entry on entry.number = posting.entry "
        "join job on job.id = entry.job where account.role = 'customer_deposits' and entry.date <= ? "
        "group by job.id having sum(posting.cents) <> 0 order by job.id",
        (span.end.isoformat(),),
    )
    fields = (Field("Job", "count"), Field("Customer"), *amounts("Held"))
    cells = tuple((row["id"], customer_shown(books, row["customer"], choice), row["cents"]) for row in rows)
    return PacketTable("deposits held", f"Customer deposits held on {span.end}", fields, cells)


def owed_table(books: Books, span: Span, choice: PacketChoice) -> PacketTable:
    """Accounts receivable at the end, by job: the charge and its tax."""
    rows = books.rows(
        "select job.id, job.customer, sum(charge) as charge, sum(tax) as tax, "
        "sum(charge + tax) as owed from owed_part "
        "join entry on entry.number = owed_part.entry join job on job.id = owed_part.job where entry.date <= ? "
        "group by job.id having sum(charge + tax) <> 0 order by job.id",
        (span.end.isoformat(),),
    )
    fields = (Field("Job", "count"), Field("Customer"), *amounts("Charge", "Tax", "Together"))
    cells = tuple(
        (
            row["id"],
            customer_shown(books, row["customer"], choice),
            row["charge"],
            row["tax"],
            row["charge"] + row["tax"],
        )
        for row in rows
    )
    return PacketTable("owed by customers", f"Accounts receivable on {span.end}", fields, cells)


def gift_table(books: Books, span: Span) -> PacketTable:
    """Gift certificates not used up at the end."""
    rows = books.rows(
        "select code, on_date, sum(gift_movement.cents) as left_cents from gift_certificate "
        "join gift_movement on gift_movement.certificate = gift_certificate.id "
        "join entry on entry.number = gift_movement.entry where entry.date <= ? "
        "group by gift_certificate.id having sum(gift_movement.cents) <> 0 order by gift_certificate.id",
        (span.end.isoformat(),),
    )
    fields = (Field("Certificate"), Field("Sold", "day"), *amounts("Left"))
    cells = tuple((row["code"], date.fromisoformat(row["on_date"]), row["left_cents"]) for row in rows)
    return PacketTable("certificates out", f"Gift certificates out on {span.end}", fields, cells, UNUSED)


def card_table(books: Books, span: Span) -> PacketTable:
    """Card payments by month, gross of fees."""
    rows = books.rows(
        "select substr(entry.date, 1, 7) as month, count(*) as payments, sum(payment.cents) as cents from payment "
        "join entry on entry.number = payment.entry where how = 'card' and entry.date between ? and ? "
        f"and not {STOOD_BEFORE} "
        "group by month order by month",
        (span.start.isoformat(), span.end.isoformat()),
    )
    fields = (Field("Month"), Field("Payments", "count"), *amounts("Gross"))
    cells = tuple((row["month"], row["payments"], row["cents"]) for row in rows)
    return PacketTable("card takings", "Card takings by month, gross of fees", fields, cells, _GROSS)


def crossings_table(books: Books, span: Span) -> PacketTable:
    """Every passage between the purses, with its reason."""
    found = read_crossings(books, span.start, span.end)
    cells = tuple(
        (each.entry, each.day, each.kind, each.why, "yes" if each.settled else "not yet", each.cents)
        for each in found.items
    )
    fields = (
        *(Field("Entry", "count"), Field("Day", "day"), Field("Passage"), Field("Why"), Field("Settled")),
        Field("Amount", "amount"),
    )
    return PacketTable(
        "crossings", "Between the purses: owner's contributions and draws", fields, cells, found.sentence
    )
