"""Void a pickup that should not have been: its entry is mirrored, and the piece is where it was before."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.actions import reverse
from ledger.books.books import Books
from ledger.books.entries import Sealed
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.jobs.records import read_job, read_job_to_act


@dataclass(frozen=True)
class VoidRequest:
    job: int
    why: str


def perform(books: Books, request: VoidRequest) -> tuple[Job, Sealed]:
    """The job as it stands after, and the entry. Raises NotFound, and NotPossible naming what to use instead."""
    job = read_job_to_act(books, request.job)
    if job.sale is None:
        raise NotPossible(
            f"Job {job.id} has no pickup to void: it is {job.status.replace('-', ' ')}.",
            f"See it with «twopurse job show {job.id}».",
            "job",
        )
    sealed = reverse.perform(books, reverse.ReverseRequest(job.sale, request.why))
    return read_job(books, job.id), sealed
