"""A pickup that should not have been, undone: its mirror is booked, and the piece is where it was before."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import void
from ledger.books.books import Books
from ledger.books.entries import read_entry
from ledger.jobs.job import Job
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm


class VoidForm(JobForm):
    """Why, and on which day. Raises NotPossible for a job without a pickup, and for one that stands."""

    act_id = "void"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        void.check(books, job.id)
        self.sale = read_entry(books, job.sale) if job.sale is not None else None

    def asks(self) -> Sequence[Asked]:
        return (Asked("why", "Why", hint="such as other piece"), Asked("on", "Date", value="today"))

    def preview(self) -> Sequence[str]:
        void.check(self.sound(self.books_on()), self.job.id)
        if self.sale is None:
            return [self.about(), "The work was given away, so no money moved. The piece is here again."]
        lines = [self.pair(each.account.name, -each.cents) for each in self.sale.postings]
        return [f"The mirror of entry {self.sale.number}, {self.sale.text}", *lines]

    def save(self) -> str:
        books, request = self.books_on(), void.VoidRequest(self.job.id, self.reason())
        if self.sale is None:
            job = void.undo_giving_away(books, self.sound(request))
            return f"Job {job.id} is {job.status.replace('-', ' ')} again; no money had moved."
        job, sealed = void.perform(books, self.sound(request))
        return f"Entry {sealed.number} undoes the pickup; job {job.id} is {job.status.replace('-', ' ')} again."
