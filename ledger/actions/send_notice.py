"""Note that the owner of a piece was told to fetch it."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.records import read_job_to_act
from ledger.jobs.waiting import Notice, add_notice, read_notices
from ledger.text import read_text


@dataclass(frozen=True)
class NoticeRequest:
    """how: by which way, and what was said."""

    job: int
    how: str


def perform(books: Books, request: NoticeRequest) -> tuple[Notice, ...]:
    """Every notice on the job. Raises NotFound, and NotPossible where the piece is not here."""
    how = read_text(request.how, "how")
    with books.writing() as write:
        job = read_job_to_act(books, request.job)
        if job.status not in ("in-hand", "ready"):
            raise NotPossible(f"The piece of job {job.id} is not here.", "Nobody has to fetch it.", "job")
        add_notice(books, write, job.id, how)
        return read_notices(books, job.id)
