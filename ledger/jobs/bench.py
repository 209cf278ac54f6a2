"""The bench: what is ready, in hand, booked and asked about, read without going through every job there ever was."""

from __future__ import annotations

from datetime import date

from ledger.books.books import Books
from ledger.jobs.job import Job
from ledger.jobs.records import read_job

# Ready ones first: they are what somebody comes for.
BENCH_ORDER = ("ready", "in-hand", "booked", "asked", "gone")

_ON_THE_BENCH = """
    select job from job_event where id in (
        select max(id) from job_event where on_date <= ? group by job
    ) and what not in ('picked up', 'called off')
"""
_STILL_OWED = "select job from owed_part group by job having sum(charge + tax) <> 0"


def read_bench(books: Books) -> tuple[Job, ...]:
    """Jobs that are not gone, and gone ones that still owe: by status, then by the day they are promised for."""
    numbers = {row[0] for row in books.rows(_ON_THE_BENCH, (books.today.isoformat(),))}
    numbers |= {row[0] for row in books.rows(_STILL_OWED)}
    jobs = (read_job(books, number) for number in sorted(numbers))
    return tuple(sorted(jobs, key=lambda job: (BENCH_ORDER.index(job.status), job.promised or date.max, job.id)))
