"""What customers owe: each job of theirs that is gone and not paid, and since when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.jobs.customers import Customer, read_customer


@dataclass(frozen=True)
class OwedJob:
    """since: the day from which it is owed. cents: charge and tax together."""

    job: int
    customer: Customer
    piece: str
    since: date
    cents: int


def read_owed_jobs(books: Books, customer: int | None = None) -> tuple[OwedJob, ...]:
    """Jobs that owe at the end of today, of one customer or of all, the oldest debt first."""
    rows = books.rows(
        "select job.id, job.customer, job.piece, min(entry.date), sum(charge + tax) from owed_part "
        "join entry on entry.number = owed_part.entry join job on job.id = owed_part.job "
        "where entry.date <= ?1 and (?2 is null or job.customer = ?2) "
        "group by job.id having sum(charge + tax) <> 0 order by min(entry.date), job.id",
        (books.today.isoformat(), customer),
    )
    return tuple(
        OwedJob(row[0], read_customer(books, row[1]), row[2], date.fromisoformat(row[3]), row[4]) for row in rows
    )
