"""Wrong sales tax of a sale put right, once the rate or the answer in the books is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import retax
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.jobs.retax import BORNE, Borne, Retaxed, RetaxRequest
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm

# Stands for the reason in a preview, until one is typed.
_NOT_SAID = "not said yet"
_HINT = "owed, workshop, cash ..."
IN_TRUST = "Tax that was taken too much is the customer's or the state's, never the workshop's."


class RetaxForm(JobForm):
    """What was wrong, and who makes the difference good. Raises NotPossible where the tax is right."""

    act_id = "retax"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        self.usual = _usual(books, job)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("why", "What was wrong", hint="such as no city rate"),
            Asked("borne", "Made good by", value=self.usual, hint=_HINT, known=BORNE, only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        books, request = self.books_on(), self._request(self.words("why", limit=300) or _NOT_SAID)
        return list(self._told(request, retax.preview(books, self.sound(request))))

    def save(self) -> str:
        _, done, sealed = retax.perform(self.books_on(), self.sound(self._request(self.reason())))
        return f"Entry {sealed.number}: the tax of job {self.job.id} is {self.showing.amount(done.tax.tax_cents)} now."

    def _told(self, request: RetaxRequest, done: Retaxed) -> Iterator[str]:
        yield self.about()
        yield self.pair("Sales tax that was taken", done.tax.tax_cents - done.difference_cents)
        yield self.pair("By the rates and answers in the books", done.tax.tax_cents)
        yield self.pair("Difference", done.difference_cents)
        yield _settled(request.borne, done.difference_cents)
        if done.difference_cents < 0:
            yield IN_TRUST

    def _request(self, why: str) -> RetaxRequest:
        return RetaxRequest(self.job.id, why, self.choice("borne", BORNE, "Who makes the difference good?"))


def _usual(books: Books, job: Job) -> Borne:
    """Owed, or by check where too much was taken and nothing is owed that it could come off."""
    try:
        retax.preview(books, RetaxRequest(job.id, _NOT_SAID))
    except NotPossible as refused:
        if refused.field != "borne":
            raise
        return "check"
    return "owed"


def _settled(borne: str, difference_cents: int) -> str:
    """What becomes of the difference."""
    if not difference_cents:
        return "The same in all; it goes to other jurisdictions."
    if borne == "owed":
        return "The customer owes it." if difference_cents > 0 else "It comes off what the customer owes."
    if borne == "workshop":
        return "The workshop bears it." if difference_cents > 0 else "The workshop gets back what it bore."
    return f"The customer {'pays it' if difference_cents > 0 else 'gets it back'} now, by {borne}."
