"""A job called off before its pickup: what becomes of a deposit, and of the piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import call_off
from ledger.actions.call_off import DEPOSITS, KEPT
from ledger.books.books import Books
from ledger.books.drafts import Draft
from ledger.jobs.gift_certificates import UNUSED
from ledger.jobs.job import Job
from ledger.jobs.payments import WAYS
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import WAYS_HINT, JobForm
from ledger.screens.forms.paper_page import certificate_page


class CallOffForm(JobForm):
    """Asks about the deposit where one is held. Raises NotPossible for a job that is gone."""

    act_id = "call_off"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        call_off.preview(books, call_off.CallOffRequest(job.id, "returned"))

    def asks(self) -> Sequence[Asked]:
        on = Asked("on", "Date", value="today")
        if not self.job.deposit_cents:
            return (on,)
        return (
            Asked("deposit", "The deposit is", hint="such as returned", known=DEPOSITS, only_known=True),
            Asked("paid", "Goes back by", value="check", hint=WAYS_HINT, known=WAYS, only_known=True),
            on,
        )

    def preview(self) -> Sequence[str]:
        books = self.books_on()
        if self.job.deposit_cents and not self.text("deposit"):
            return [self.about(), f"{self._held()} is held: returned, kept, or turned into a gift certificate?"]
        request = self.sound(self._request())
        return list(self._told(request, call_off.preview(books, request)))

    def save(self) -> str:
        done = call_off.perform(self.books_on(), self.sound(self._request()))
        told = f"Job {self.job.id} is called off."
        if done.certificate is None:
            return told
        self.app.call_later(self.app.push_screen, certificate_page(done.certificate, self._held()))
        return f"{told} Its deposit is gift certificate {done.certificate}."

    def _told(self, request: call_off.CallOffRequest, draft: Draft | None) -> Iterator[str]:
        yield self.about()
        if draft is None:
            yield "No deposit is held."
        else:
            yield from self.booked(draft)
        if request.deposit == "kept":
            yield KEPT
        if request.deposit == "certificate":
            yield UNUSED
        if self.job.status in ("in-hand", "ready"):
            yield "The piece goes home."

    def _request(self) -> call_off.CallOffRequest:
        if not self.job.deposit_cents:
            return call_off.CallOffRequest(self.job.id)
        return call_off.CallOffRequest(
            job=self.job.id,
            deposit=self.choice("deposit", DEPOSITS, f"{self._held()} is held. What becomes of it?"),
            how=self.choice("paid", WAYS, "How does it go back?"),
        )

    def _held(self) -> str:
        return self.showing.amount(self.job.deposit_cents)
