"""Move a job on: the piece comes in, is ready, or goes back unfinished. Coming and going are visits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.jobs.records import add_event, read_job, read_job_to_act

# The statuses from which each event can follow.
_FROM = {"in": ("asked", "booked"), "ready": ("in-hand",), "back": ("in-hand", "ready")}
_SENTENCES = {
    "in": "comes in only where it was asked about or booked",
    "ready": "is made ready only from in hand",
    "back": "goes back only while the piece is here",
}


@dataclass(frozen=True)
class MoveRequest:
    job: int
    event: Literal["in", "ready", "back"]


def perform(books: Books, request: MoveRequest) -> Job:
    """The job after the event. Raises NotFound, NotPossible."""
    with books.writing() as write:
        job = read_job_to_act(books, request.job)
        if job.status not in _FROM[request.event]:
            raise NotPossible(
                f"Job {job.id} is {job.status}, and a job {_SENTENCES[request.event]}.",
                "See it with «twopurse job show».",
                "job",
            )
        add_event(books, write, job.id, request.event)
        return read_job(books, job.id)
