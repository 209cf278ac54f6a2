"""People who are paid for work: a payment, and which tax form she has of somebody."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ledger.actions import paid_people as act
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import paired
from ledger.spending.habits import known_shops
from ledger.spending.spend import PAYING_ROLES

_WHO_DECIDES = "Whether somebody is an employee, your accountant and the tax office decide."


class PayForWorkForm(Form):
    title_words = "Pay somebody for work"

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        self.name_before = subject if isinstance(subject, str) else ""
        self.paying = [each.name for each in read_accounts(books).all if each.role in PAYING_ROLES]

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("who", "Who", self.name_before, known=known_shops(self.books)),
            Asked("amount", "Amount"),
            Asked("from", "Paid from", "checking", known=self.paying, only_known=True),
            Asked("why", "For", hint="such as binding"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        if not (self.text("who") and self.text("amount")):
            return [_WHO_DECIDES]
        spent = act.preview(self.books_on(), self.sound(self._request()))
        lines = [paired(each.account.name, self.showing.plain(each.cents), 44) for each in spent.draft.postings]
        return [*lines, _WHO_DECIDES]

    def save(self) -> str:
        _, sealed = act.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: paid to {self.text('who')}."

    def _request(self) -> act.WorkPaidRequest:
        return act.WorkPaidRequest(self.text("who"), self.amount("amount"), self.text("from"), self.text_or_none("why"))


class TaxFormForm(Form):
    title_words = "A tax form that you have"

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        self.name_before = subject if isinstance(subject, str) else ""

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("who", "Of whom", self.name_before, known=known_shops(self.books)),
            Asked("form", "Form", hint="such as W-9, March 2026"),
        )

    def preview(self) -> Sequence[str]:
        return ["Only that you have it is kept here, and no number of a person.", _WHO_DECIDES]

    def save(self) -> str:
        party = act.keep_form(self.books, act.TaxFormRequest(self.text("who"), self.text("form")))
        return f"You have {self.text('form')} of {party.name}."
