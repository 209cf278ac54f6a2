"""A deposit before pickup, or money towards what was left owed after."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import take_money
from ledger.actions.registry import act
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.jobs.job import Job
from ledger.jobs.payments import WAYS, How
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form

_PERFORM = {"take_deposit": take_money.take_deposit, "take_balance": take_money.take_balance}


class JobMoneyForm(Form):
    """Amount, how it is paid, its number or fee."""

    def __init__(self, books: Books, act_id: str, job: Job) -> None:
        self.title_words = f"{act(act_id).words}, job {job.id}"
        super().__init__(books)
        self.act_id = act_id
        self.job = job

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Amount"),
            Asked("paid", "How paid", hint=", ".join(WAYS), known=WAYS, only_known=True),
            Asked("number", "Check number"),
            Asked("fee", "Card fee"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        amount = self.showing.amount
        lines = [f"{self.job.customer.name}: {self.job.piece}"]
        lines.append(f"Held now {amount(self.job.deposit_cents)}, owed now {amount(self.job.owed_cents)}")
        self.sound(self._request())
        return lines

    def save(self) -> str:
        request = self.sound(self._request())
        _, sealed = _PERFORM[self.act_id](self.books_on(), request)
        return f"Entry {sealed.number}: {self.showing.amount(request.cents)}, {request.how}."

    def _request(self) -> take_money.MoneyRequest:
        return take_money.MoneyRequest(
            job=self.job.id,
            cents=self.amount("amount"),
            how=self.read("paid", _how, "cash"),
            fee_cents=self.amount("fee", zero=True),
            number=self.text_or_none("number"),
        )


def _how(text: str) -> How:
    for way in WAYS:
        if text.casefold() == way:
            return way
    raise NotUnderstood("How is it paid?", f"Say {', '.join(WAYS)}.", "paid")
