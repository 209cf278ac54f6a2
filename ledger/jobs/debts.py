"""What customers owe: each job of theirs that is not paid, and since when."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from ledger.books.books import Books, Row
from ledger.jobs.customers import Customer, read_customer


@dataclass(frozen=True)
class OwedJob:
    """since: the day from which something has been owed without a break. cents: charge and tax together."""

    job: int
    customer: Customer
    piece: str
    since: date
    cents: int


def read_owed_jobs(books: Books, customer: int | None = None) -> tuple[OwedJob, ...]:
    """Jobs that owe at the end of today, of one customer or of all, the oldest debt first."""
    rows = books.rows(
        "select job.id, job.customer, job.piece, entry.date, sum(charge + tax) as cents from owed_part "
        "join entry on entry.number = owed_part.entry join job on job.id = owed_part.job "
        "where entry.date <= ?1 and (?2 is null or job.customer = ?2) "
        "group by job.id, entry.number order by job.id, entry.number",
        (books.today.isoformat(), customer),
    )
    owed = (_owed_job(books, list(parts)) for _, parts in groupby(rows, key=lambda row: row["id"]))
    return tuple(sorted((each for each in owed if each.cents), key=lambda each: (each.since, each.job)))


def _owed_job(books: Books, parts: list[Row]) -> OwedJob:
    first = parts[0]
    since, cents = _owed_since((date.fromisoformat(each["date"]), each["cents"]) for each in parts)
    return OwedJob(first["id"], read_customer(books, first["customer"]), first["piece"], since, cents)


def _owed_since(changes: Iterable[tuple[date, int]]) -> tuple[date, int]:
    """The day on which the balance last left zero, and what it is now."""
    since, cents = date.min, 0
    for day, change in changes:
        if cents == 0:
            since = day
        cents += change
    return since, cents
