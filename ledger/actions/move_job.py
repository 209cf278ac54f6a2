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
_LOOK = "See it with «twopurse job show»."
_SAID = {
    "asked": "was asked about, and the piece is not here",
    "booked": "is booked, and the piece is not here",
    "in-hand": "is here already",
    "ready": "is here, and ready already",
    "gone": "is picked up already",
    "called-off": "was called off",
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
            do = f"Say «twopurse job in {job.id}» when it comes." if job.status in _FROM["in"] else _LOOK
            raise NotPossible(f"Job {job.id} {_SAID[job.status]}.", do, "job")
        add_event(books, write, job.id, request.event)
        return read_job(books, job.id)
