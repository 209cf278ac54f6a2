"""The bench: what is ready, in hand, booked and asked about, and what left it lately, without going through all."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.jobs.job import Job
from ledger.jobs.records import read_job

# Ready ones first: they are what somebody comes for.
BENCH_ORDER = ("ready", "in-hand", "booked", "asked", "gone", "called-off")

_LAST_EVENTS = (
    "select id, job, on_date, what from job_event where id in "
    "(select max(id) from job_event where on_date <= ?1 group by job)"
)
_ON_THE_BENCH = f"select job from ({_LAST_EVENTS}) where what not in ('picked up', 'called off')"
_STILL_OWED = (
    "select owed_part.job from owed_part join entry on entry.number = owed_part.entry where date <= ?1 "
    "group by owed_part.job having sum(charge + tax) <> 0"
)
# Of each job that left the bench: the job, and day, number and kind of the event with which it left.
GONE_EVENTS = f"select job, on_date, id, what from ({_LAST_EVENTS}) where what in ('picked up', 'called off')"
_HOLDING = (
    "select entry.job from entry join posting on posting.entry = entry.number "
    "join account on account.id = posting.account where account.role = 'customer_deposits' and entry.date <= ?1 "
    "group by entry.job having sum(posting.cents) <> 0"
)


@dataclass(frozen=True)
class GoneJob:
    """A job that was picked up or called off, and the day of it."""

    job: Job
    on: date


def read_bench(books: Books) -> tuple[Job, ...]:
    """Jobs that are not gone, and gone ones that still owe: by status, then by the day they are promised for."""
    today = (books.today.isoformat(),)
    numbers = {row[0] for row in books.rows(_ON_THE_BENCH, today)}
    numbers |= {row[0] for row in books.rows(_STILL_OWED, today)}
    jobs = (read_job(books, number) for number in sorted(numbers))
    return tuple(sorted(jobs, key=lambda job: (BENCH_ORDER.index(job.status), job.promised or date.max, job.id)))


def read_held(books: Books) -> tuple[GoneJob, ...]:
    """The jobs that left the bench and for which a deposit is held yet, the longest gone first."""
    rows = books.rows(f"{GONE_EVENTS} and job in ({_HOLDING}) order by on_date, id", (books.today.isoformat(),))
    return tuple(GoneJob(read_job(books, row[0]), date.fromisoformat(row[1])) for row in rows)
