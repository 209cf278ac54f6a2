"""Receipts that have no photograph, scan or letter, and from how much on they want one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.settings import chosen
from ledger.money import read_amount

# Her limit above which a receipt wants a document; this much where she has not said another.
DOCUMENT_LIMIT = "document limit"
_USUAL_LIMIT_UNITS = 75


@dataclass(frozen=True)
class WithoutDocument:
    entry: int
    day: date
    text: str
    cents: int


def entries_without_document(books: Books, start: date, end: date, above_cents: int) -> tuple[WithoutDocument, ...]:
    """Receipts above a limit with nothing attached, the largest first. cents: the whole receipt."""
    rows = books.rows(
        "select entry.number, entry.date, entry.text, (select sum(cents) from posting "
        "join account on account.id = posting.account where posting.entry = entry.number "
        "and account.kind = 'expense' and account.purse = 'business') as spent from entry "
        "where kind in ('spend', 'brought in') and entry.date between ? and ? and reverses is null "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number) "
        "and not exists (select 1 from attachment where attachment.entry = entry.number) order by spent desc, number",
        (start.isoformat(), end.isoformat()),
    )
    return tuple(
        WithoutDocument(row[0], date.fromisoformat(row[1]), row[2], row[3])
        for row in rows
        if row[3] is not None and row[3] > above_cents
    )


def document_limit_cents(books: Books) -> int:
    """Her limit as of today."""
    said = chosen(books, DOCUMENT_LIMIT, books.today)
    return read_amount(said, books.currency, zero=True) if said else _USUAL_LIMIT_UNITS * books.currency.minor_units
