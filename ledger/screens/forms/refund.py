"""Money given back for a piece that is gone, on its own day: the sale itself is not changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import refund
from ledger.books.books import Books
from ledger.jobs.after_sale import read_standing_sale
from ledger.jobs.job import Job
from ledger.jobs.payments import OWED, WAYS
from ledger.jobs.refund import Refunded, RefundRequest
from ledger.screens.forms.field import Asked
from ledger.screens.forms.job_form import JobForm

_BACK_BY = (*WAYS, OWED)


class RefundForm(JobForm):
    """How much with its tax, by which way, and why. Raises NotPossible for a job without a sale."""

    act_id = "refund"

    def __init__(self, books: Books, job: Job) -> None:
        super().__init__(books, job)
        self.sale = read_standing_sale(books, job)
        self.paid_cents = self.sale.paid_cents - self.sale.tip_cents

    def asks(self) -> Sequence[Asked]:
        way = "check" if self.paid_cents > 0 else OWED
        tip = (Asked("tip", "Of the tip", hint="if empty: nothing"),) if self.sale.tip_cents else ()
        return (
            Asked("amount", "Given back", hint="if empty: all, with tax"),
            Asked("paid", "Goes back by", value=way, hint="such as cash, owed", known=_BACK_BY, only_known=True),
            *tip,
            Asked("why", "Why"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        return list(self._told(refund.preview(self.books_on(), self.sound(self._request()))))

    def save(self) -> str:
        refunded, _, sealed = refund.perform(self.books_on(), self.sound(self._request()))
        back, tax = self.showing.amount(refunded.cents), self.showing.amount(refunded.tax_cents)
        return f"Entry {sealed.number} gives back {back}, of it {tax} sales tax."

    def _told(self, refunded: Refunded) -> Iterator[str]:
        yield self.about()
        amount, tip = self.showing.amount, ", its tip apart" if self.sale.tip_cents else ""
        yield f"Paid and not given back {amount(self.paid_cents)}{tip}; still owed {amount(self.sale.owed_cents)}"
        yield self.pair("Charge", refunded.charge_cents)
        yield self.pair("Sales tax, at the sale's own rates", refunded.tax_cents)
        if refunded.tip_cents:
            yield self.pair("Tip", refunded.tip_cents)
        yield self.pair("Goes back", refunded.cents)

    def _request(self) -> RefundRequest:
        return RefundRequest(
            job=self.job.id,
            cents=self.amount("amount") if self.text("amount") else None,
            how=self.choice("paid", _BACK_BY, "How does it go back?"),
            tip_cents=self.amount("tip", zero=True) if self.sale.tip_cents else 0,
            why=self.words("why"),
        )
