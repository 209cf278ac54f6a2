"""Receipts that have no photograph, scan or letter."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books


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
