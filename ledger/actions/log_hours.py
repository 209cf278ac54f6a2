"""Log hours at a job. Nothing is posted: they say what an hour of it earned."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.jobs.records import read_job
from ledger.machine.job_earnings_record import hours_by_job, log_hours, take_hours_back

MOST_HOURS = 24


@dataclass(frozen=True)
class HoursRequest:
    """hours: None takes back what was logged last at the job."""

    job: int
    hours: Decimal | None


def perform(books: Books, request: HoursRequest) -> Decimal:
    """All hours at the job afterwards. Raises NotFound for a job that there is not, NotUnderstood for too many."""
    if request.hours is not None and request.hours > MOST_HOURS:
        raise NotUnderstood(
            f"{request.hours} hours are more than a day has.", "Log each day's hours on its day.", "hours"
        )
    with books.writing() as write:
        job = read_job(books, request.job)
        if request.hours is None:
            take_hours_back(books, write, job.id)
        else:
            log_hours(books, write, job.id, request.hours)
        return hours_by_job(books, books.today).get(job.id, Decimal(0))
