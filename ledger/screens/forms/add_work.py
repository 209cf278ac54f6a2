"""Work added to a job before its pickup, at today's prices: a line forgotten at intake, storage by the terms agreed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import add_work
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.jobs.prices import price_list
from ledger.jobs.pricing import PricedLine
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm
from ledger.screens.forms.work_lines import read_work, work_asked


class AddWorkForm(JobForm):
    """A field for each price. Raises NotPossible for a job that is gone, and while the price list is empty."""

    act_id = "add_work"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        self.prices = price_list(books, books.today)
        if job.status not in add_work.ADDED_FROM:
            status = job.status.replace("-", " ")
            raise NotPossible(f"Job {job.id} is {status}.", "Work is added before pickup; take a new job in.", "job")
        if not self.prices:
            raise NotPossible("The price list is empty.", "Enter a price with «twopurse price».", None)

    def asks(self) -> Sequence[Asked]:
        return tuple(work_asked(self.prices))

    def preview(self) -> Sequence[str]:
        request = self.sound(self._request())
        if not request.lines:
            return [self.about(), "An x beside the work, or how many."]
        return list(self._told(add_work.preview(self.books, request)))

    def save(self) -> str:
        job = add_work.perform(self.books, self.sound(self._request()))
        return f"Job {job.id} has {len(job.lines)} lines of work now."

    def _told(self, lines: tuple[PricedLine, ...]) -> Iterator[str]:
        yield self.about()
        quoted = sum(each.cents for each in self.job.lines)
        yield self.pair("Lines so far", quoted)
        yield from (self.pair(each.price.name, each.cents) for each in lines)
        yield self.pair("Lines then, before minimum, rush and tax", quoted + sum(each.cents for each in lines))

    def _request(self) -> add_work.AddWorkRequest:
        return add_work.AddWorkRequest(self.job.id, tuple(read_work(self, self.prices)))
