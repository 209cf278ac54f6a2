"""Pieces that nobody fetches: since when they are ready, and which notices went out.

How long a piece must be kept, and what may be done with it then, state law and the terms agreed at intake decide.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.jobs.job import Job
from ledger.jobs.records import read_jobs

WAITING_DAYS = 30
LAW_DECIDES = "How long a piece must be kept, and what may become of it, your terms and state law decide: ask a lawyer."


@dataclass(frozen=True)
class Notice:
    on: date
    how: str


@dataclass(frozen=True)
class WaitingPiece:
    """ready_since: the day from which it could have been fetched."""

    job: Job
    ready_since: date
    days: int
    notices: tuple[Notice, ...]


def add_notice(books: Books, write: Writing, job: int, how: str) -> None:
    write.add("notice", job=job, how=how, on_date=books.today.isoformat())


def read_notices(books: Books, job: int) -> tuple[Notice, ...]:
    rows = books.rows(
        "select on_date, how from notice where job = ? and on_date <= ? order by id", (job, books.today.isoformat())
    )
    return tuple(Notice(date.fromisoformat(row[0]), row[1]) for row in rows)


def read_waiting(books: Books, least_days: int = WAITING_DAYS) -> tuple[WaitingPiece, ...]:
    """Ready pieces that were not fetched for so many days, the longest first."""
    waiting = [_waiting(books, job) for job in read_jobs(books, ["ready"])]
    return tuple(sorted((each for each in waiting if each.days >= least_days), key=lambda each: each.ready_since))


def _waiting(books: Books, job: Job) -> WaitingPiece:
    since = date.fromisoformat(
        books.value(
            "select max(on_date) from job_event where job = ? and what = 'ready' and on_date <= ?",
            (job.id, books.today.isoformat()),
        )
    )
    return WaitingPiece(job, since, (books.today - since).days, read_notices(books, job.id))
