"""Add work to a job before its pickup, at today's prices: a line forgotten at intake, storage by the terms agreed."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.actions.take_in import WantedLine
from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.job import Job
from ledger.jobs.prices import price_named
from ledger.jobs.pricing import PricedLine, price_line
from ledger.jobs.records import add_lines, read_job, read_job_to_act

ADDED_FROM = ("asked", "booked", "in-hand", "ready")


@dataclass(frozen=True)
class AddWorkRequest:
    job: int
    lines: tuple[WantedLine, ...]


def preview(books: Books, request: AddWorkRequest) -> tuple[PricedLine, ...]:
    """The lines at today's prices. Raises NotFound, NotPossible, NotUnderstood."""
    job = read_job_to_act(books, request.job)
    if job.status not in ADDED_FROM:
        raise NotPossible(
            f"Job {job.id} is {job.status.replace('-', ' ')}.",
            "Work is added before pickup; after it, take a new job in.",
            "job",
        )
    if not request.lines:
        raise NotUnderstood("There is no line of work.", 'Say what is to be done: --line "NAME".', "line")
    return tuple(
        price_line(price_named(books, each.name, books.today), job.size, books.currency, each.quantity)
        for each in request.lines
    )


def perform(books: Books, request: AddWorkRequest) -> Job:
    """The job as it stands after. Raises as `preview` does."""
    with books.writing() as write:
        lines = preview(books, request)
        add_lines(write, request.job, lines, first=len(read_job(books, request.job).lines) + 1)
        return read_job(books, request.job)
