"""A check that came back, or a card payment that was charged back: the payment alone is undone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import returned_payment
from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible
from ledger.jobs.after_sale import read_payment_to_undo
from ledger.jobs.job import Job
from ledger.jobs.returned import FEE_CLASS, Returned, ReturnedRequest
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm
from ledger.taxes.rules import known_classes

_COMES_BACK = ("check", "card")


class ReturnedForm(JobForm):
    """What came back, the bank's fee, and what the customer is charged for it. NotPossible where nothing could."""

    act_id = "returned_check"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        self.usual = next((how for how in _COMES_BACK if _holds(books, job, how)), None)
        if self.usual is None:
            raise NotPossible(
                f"No check and no card payment that still holds was paid on job {job.id}.",
                "Look at its payments on the Bench.",
                "job",
            )

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("how", "What came back", value=self.usual or "", known=_COMES_BACK, only_known=True),
            Asked("number", "Check number", hint="if empty: the last one"),
            Asked("fee", "The bank takes", hint="if empty: nothing"),
            Asked("charge", "Charge for it", hint="if empty: nothing"),
            Asked("class", "Class of that", value=FEE_CLASS, known=known_classes(self.books), only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        return list(self._told(returned_payment.preview(self.books_on(), self.sound(self._request()))))

    def save(self) -> str:
        job, sealed = returned_payment.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}; job {job.id} owes {self.showing.amount(job.owed_cents)} now."

    def _told(self, returned: Returned) -> Iterator[str]:
        yield returned.draft.text
        yield from self.booked(returned.draft)
        if returned.charge is not None:
            yield "The customer is charged for it:"
            yield from self.booked(returned.charge)
        if self.job.status == "gone":
            yield "The sale and its tax stand; the customer owes again."
        else:
            yield "The deposit is held no more."

    def _request(self) -> ReturnedRequest:
        return ReturnedRequest(
            job=self.job.id,
            how=self.choice("how", _COMES_BACK, "What came back?"),
            fee_cents=self.amount("fee", zero=True),
            charge_cents=self.amount("charge", zero=True),
            number=self.words("number", limit=60),
            charge_class=self.text("class"),
        )


def _holds(books: Books, job: Job, how: str) -> bool:
    try:
        read_payment_to_undo(books, job, how)
    except NotFound:
        return False
    return True
