"""Money moved within a purse, drawn, put in, or paid back to the owner."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import transfer
from ledger.actions.registry import act_of_verb
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import paired
from ledger.spending.transfers import MONEY_ROLES

_USUAL = {
    "move": ("cash box", "checking"),
    "draw": ("checking", "household checking"),
    "put-in": ("household checking", "checking"),
    "pay-back": ("checking", "household checking"),
}


class TransferForm(Form):
    """Amount, from, to, why. Raises NotPossible where nothing is owed that could be paid back."""

    def __init__(self, books: Books, kind: transfer.Act) -> None:
        self.title_words = act_of_verb(kind).words
        super().__init__(books)
        self.kind: transfer.Act = kind
        if kind == "pay-back":
            transfer.preview(books, transfer.TransferRequest(kind, None, *_USUAL[kind]))
        self.names = [each.name for each in read_accounts(books).all if each.role in MONEY_ROLES]

    def asks(self) -> Sequence[Asked]:
        usual_from, usual_to = _USUAL[self.kind]
        return (
            Asked("amount", "Amount", hint="if empty: all of it" if self.kind == "pay-back" else ""),
            Asked("from", "From", usual_from, known=self.names, only_known=True),
            Asked("to", "To", usual_to, known=self.names, only_known=True),
            Asked("why", "Note"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        draft = transfer.preview(self.books_on(), self.sound(self._request()))
        return [paired(each.account.name, self.showing.plain(each.cents), 44) for each in draft.postings]

    def save(self) -> str:
        sealed = transfer.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: from {self.text('from')} to {self.text('to')}."

    def _request(self) -> transfer.TransferRequest:
        all_of_it = self.kind == "pay-back" and not self.text("amount")
        return transfer.TransferRequest(
            act=self.kind,
            cents=None if all_of_it else self.amount("amount"),
            from_name=self.text("from"),
            to_name=self.text("to"),
            why=self.text_or_none("why"),
        )
