"""What a job owes, as charge and tax: a sale not paid adds, a payment takes away in proportion."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books


@dataclass(frozen=True)
class Owed:
    charge_cents: int
    tax_cents: int


def read_owed(books: Books, job: int) -> Owed:
    """What a job owes at the end of today."""
    row = books.row(
        "select coalesce(sum(charge), 0), coalesce(sum(tax), 0) from owed_part "
        "join entry on entry.number = owed_part.entry where owed_part.job = ? and date <= ?",
        (job, books.today.isoformat()),
    )
    assert row is not None
    return Owed(row[0], row[1])
