"""A deposit handed back that is held for a job, or a part of it, also where the job came to less."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import hand_back
from ledger.actions.hand_back import BACK_AS, CERTIFICATE
from ledger.books.books import Books
from ledger.jobs.gift_certificates import UNUSED
from ledger.jobs.job import Job
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm
from ledger.screens.forms.paper_page import certificate_page


class HandBackForm(JobForm):
    """How much, and by which way. Raises NotPossible where nothing is held."""

    act_id = "hand_back"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        hand_back.preview(books, hand_back.HandBackRequest(job.id))

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Handed back", hint="if empty: all of it"),
            Asked("paid", "Goes back by", value="check", hint="such as cash", known=BACK_AS, only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        books, request = self.books_on(), self._request()
        lines = [self.about(), *self.booked(hand_back.preview(books, self.sound(request)))]
        return [*lines, UNUSED] if request.how == CERTIFICATE else lines

    def save(self) -> str:
        done = hand_back.perform(self.books_on(), self.sound(self._request()))
        amount = self.showing.amount(done.cents)
        if done.certificate is None:
            return f"Entry {done.entry.number} hands {amount} back."
        self.app.call_later(self.app.push_screen, certificate_page(done.certificate, amount))
        return f"Entry {done.entry.number}: {amount} is gift certificate {done.certificate}."

    def _request(self) -> hand_back.HandBackRequest:
        return hand_back.HandBackRequest(
            job=self.job.id,
            cents=self.amount("amount") if self.text("amount") else None,
            how=self.choice("paid", BACK_AS, "How does it go back?"),
        )
