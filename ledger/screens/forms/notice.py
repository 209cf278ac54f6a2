"""A note that the owner of a piece was told to fetch it, and the notices that went out before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import send_notice
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.jobs.waiting import LAW_DECIDES, read_notices, read_waiting
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm
from ledger.screens.showing import counted


class NoticeForm(JobForm):
    """By which way, and what was said. Raises NotPossible where the piece is not here."""

    act_id = "send_notice"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        if job.status not in ("in-hand", "ready"):
            raise NotPossible(f"The piece of job {job.id} is not here.", "Nobody has to fetch it.", "job")

    def asks(self) -> Sequence[Asked]:
        return (Asked("how", "Told how", hint="such as phoned"), Asked("on", "Date", value="today"))

    def preview(self) -> Sequence[str]:
        return list(self._told(self.sound(self.books_on())))

    def save(self) -> str:
        books, request = self.books_on(), send_notice.NoticeRequest(self.job.id, self.reason("how"))
        notices = send_notice.perform(books, self.sound(request))
        return f"Job {self.job.id} has {counted(len(notices), 'notice')} now."

    def _told(self, books: Books) -> Iterator[str]:
        yield self.about()
        waiting = next((each for each in read_waiting(books, 0) if each.job.id == self.job.id), None)
        if waiting is not None:
            yield f"Ready since {self.showing.day(waiting.ready_since)}, {counted(waiting.days, 'day')}."
        yield from (f"Told {self.showing.day(each.on)}: {each.how}" for each in read_notices(books, self.job.id))
        yield LAW_DECIDES
