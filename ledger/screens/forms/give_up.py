"""A debt given up: what the customer will not pay, and what becomes of its tax."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import give_up
from ledger.books.books import Books
from ledger.jobs.job import Job
from ledger.jobs.written_off import NO_DEDUCTION, Debt
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm


class GiveUpForm(JobForm):
    """Why, and on which day. Raises NotPossible where nothing is owed."""

    act_id = "give_up"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        give_up.preview(books, give_up.GiveUpRequest(job.id, ""))

    def asks(self) -> Sequence[Asked]:
        return (Asked("why", "Why", hint="such as moved away"), Asked("on", "Date", value="today"))

    def preview(self) -> Sequence[str]:
        books, why = self.books_on(), self.words("why", limit=300)
        return list(self._told(give_up.preview(books, self.sound(give_up.GiveUpRequest(self.job.id, why or "")))))

    def save(self) -> str:
        books, request = self.books_on(), give_up.GiveUpRequest(self.job.id, self.reason())
        _, sealed = give_up.perform(books, self.sound(request))
        return f"Entry {sealed.number} gives the debt of job {self.job.id} up."

    def _told(self, debt: Debt) -> Iterator[str]:
        yield self.about()
        yield self.pair("Charge", debt.charge_cents)
        yield self.pair("Sales tax", debt.tax_cents)
        yield self.pair("Given up", debt.charge_cents + debt.tax_cents)
        if debt.is_tax_claimed:
            yield "Its tax is claimed back, as your state told you; it is due again if the customer pays."
        elif debt.tax_cents:
            yield "Its tax stays yours to pay, until your state's answer is in, by the command «tax bad-debt»."
        yield NO_DEDUCTION
