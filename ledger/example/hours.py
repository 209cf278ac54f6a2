"""The hours that she wrote down at the jobs of the last months: by the size of the piece, some slower than others."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal
from random import Random

from ledger.actions import log_hours
from ledger.books.books import Books
from ledger.example.courses import PlannedJob, Step
from ledger.example.working_days import WorkingDays

LOGGED_DAYS = 200
_IN_PERCENT = 70
_SQUARE_INCHES_AN_HOUR = (1500, 2600)
_QUARTERS = 4


def with_hours(jobs: Iterable[PlannedJob], days: WorkingDays) -> Iterator[PlannedJob]:
    """The jobs, with hours at most of those that came in within the last months."""
    draw = Random("hours at jobs")
    for job in jobs:
        chance, pace = draw.randrange(100), draw.randrange(*_SQUARE_INCHES_AN_HOUR)
        if job.taken_on >= days.before_today(LOGGED_DAYS) and chance < _IN_PERCENT and job.ready_on is not None:
            yield replace(job, steps=(*job.steps, Step(job.ready_on, _Log(_hours(job, pace)))))
        else:
            yield job


def _hours(job: PlannedJob, pace: int) -> Decimal:
    """In quarters of an hour, with one of them to load the frame."""
    width, length = job.request.width, job.request.length
    assert width is not None
    assert length is not None
    return Decimal(int(width * length * _QUARTERS / pace) + 1) / _QUARTERS


class _Log:
    def __init__(self, hours: Decimal) -> None:
        self.hours = hours

    def __call__(self, books: Books, job: int) -> None:
        log_hours.perform(books, log_hours.HoursRequest(job, self.hours))
