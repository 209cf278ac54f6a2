"""A part of what a machine cost: paid today, or a figure from before the books."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ledger.actions import add_machine_cost as act
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.machine.cost import KINDS
from ledger.machine.record import read_machines
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_amount, typed_date
from ledger.screens.showing import paired
from ledger.spending.spend import PAYING_ROLES

_YES_NO = ("no", "yes")


class MachineCostForm(Form):
    title_words = "What the machine cost"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.machines = [each.name for each in read_machines(books)]
        accounts = read_accounts(books)
        self.paying = [each.name for each in accounts.all if each.role in {*PAYING_ROLES, "machine_loan"}]

    @property
    def has_several(self) -> bool:
        return len(self.machines) > 1

    def asks(self) -> Sequence[Asked]:
        first = self.machines[0]
        more = (
            Asked("machine", "Machine", value=first, known=self.machines, only_known=True),
            Asked("given_in", "Given in for it", hint=f"{first}=7000"),
        )
        return (
            Asked("what", "What"),
            Asked("amount", "Amount"),
            Asked("kind", "Part of the cost", value="price", known=KINDS, only_known=True),
            Asked("from", "Paid from", hint="if empty: from before", known=self.paying, only_known=True),
            *(more if self.has_several else ()),
            Asked("loan", "Lent of it"),
            Asked("untaxed", "Without sales tax?", hint="yes: use tax is owed", known=_YES_NO, only_known=True),
            Asked("placed", "In use since", hint="if empty: date below"),
            Asked("worth", "Worth then", hint="if it was yours first"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        note = "What is paid is the payback cost. What counts for tax is a memo: your accountant decides."
        if not (self.text("what") and self.text("amount")):
            return [note]
        added = act.preview(self.books_on(), self.sound(self._request()))
        if added.repeats is not None:
            day = self.showing.day(added.repeats.day)
            note = f"The same price is there already, «{added.repeats.what}» of {day}: is this the same one twice?"
        if added.draft is None:
            return ["A figure: nothing is booked.", note]
        return [*(paired(each.account.name, self.showing.plain(each.cents), 44) for each in added.draft.postings), note]

    def save(self) -> str:
        added, sealed = act.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: {added.what}." if sealed is not None else f"Kept as a figure: {added.what}."

    def _request(self) -> act.CostRequest:
        nothing: tuple[str | None, int] = (None, 0)
        traded, traded_cents = self.read("given_in", self._given_in, nothing) if self.has_several else nothing
        untaxed = self.choice("untaxed", _YES_NO, "Yes or no?") == "yes" if self.text("untaxed") else False
        return act.CostRequest(
            cents=self.amount("amount"),
            what=self.text("what"),
            kind=self.choice("kind", KINDS, "Which part of the cost?"),
            paid_from=self.text_or_none("from"),
            machine=self.text_or_none("machine") if self.has_several else None,
            placed_on=self.read("placed", self._placed, None) if self.text("placed") else None,
            loan_cents=self.amount("loan", zero=True),
            traded_cents=traded_cents,
            traded=traded,
            worth_cents=self.amount("worth") if self.text("worth") else None,
            untaxed=untaxed,
        )

    def _placed(self, text: str) -> date | None:
        return typed_date(text, self.books.today, self.books.settings.locale, "placed")

    def _given_in(self, text: str) -> tuple[str | None, int]:
        if not text:
            return None, 0
        name, equals, amount = text.partition("=")
        if not equals:
            raise NotUnderstood("How much was it given in for?", f"Write it like {self.machines[0]}=7000.", "given_in")
        return name, typed_amount(amount.strip(), self.books.currency, self.books.settings.locale, "given_in")
