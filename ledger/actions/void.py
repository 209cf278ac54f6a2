"""Void a pickup that should not have been: its entry is mirrored, and the piece is where it was before."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.actions import reverse
from ledger.books.books import Books
from ledger.books.entries import Sealed, check_date
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.jobs.records import add_event, is_before_books, read_job, read_job_to_act, read_jobs
from ledger.text import read_text


@dataclass(frozen=True)
class VoidRequest:
    job: int
    why: str


def perform(books: Books, request: VoidRequest) -> tuple[Job, Sealed]:
    """The job as it stands after, and the entry. Raises NotFound, and NotPossible naming what to use instead."""
    with books.all_or_nothing() as together:
        sealed = reverse.perform(together, reverse.ReverseRequest(_pickup_of(together, request.job), request.why))
        return read_job(together, request.job), sealed


def check(books: Books, job_number: int) -> None:
    """Whether the pickup can be voided today, given away or not. Raises as `perform` does."""
    if was_given_away(books, job_number):
        read_job_to_act(books, job_number)
        check_date(books, books.today)
    else:
        reverse.check(books, _pickup_of(books, job_number))


def _pickup_of(books: Books, job_number: int) -> int:
    """The entry of a job's pickup."""
    job = read_job_to_act(books, job_number)
    if job.sale is None:
        raise NotPossible(
            f"Job {job.id} has no pickup to void: it is {job.status.replace('-', ' ')}.",
            f"See it with «twopurse job show {job.id}».",
            "job",
        )
    return job.sale


def was_given_away(books: Books, job_number: int) -> bool:
    """Whether the piece is gone and no money moved, so that there is no entry to mirror."""
    gone = any(each.id == job_number and each.sale is None for each in read_jobs(books, ["gone"]))
    return gone and not is_before_books(books, job_number)


def undo_giving_away(books: Books, request: VoidRequest) -> Job:
    """The job after the pickup of work given away was undone: the piece is here again. Raises NotFound, NotPossible."""
    read_text(request.why, "why", limit=300)
    with books.writing() as write:
        check_date(books, books.today)
        job = read_job_to_act(books, request.job)
        if job.status != "gone" or job.sale is not None or is_before_books(books, job.id):
            raise NotPossible(f"Job {request.job} was not given away.", "Its pickup is voided by its entry.", "job")
        add_event(books, write, request.job, "pickup undone")
        return read_job(books, request.job)
