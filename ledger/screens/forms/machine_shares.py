"""A machine sold, a further machine, and what share of a machine is the workshop's or of the jobs."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import get_args

from ledger.actions import sell_machine, share_machine
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.machine.cost_entry import TAKING_ROLES
from ledger.machine.record import ShareOf, read_machines
from ledger.money import read_percent
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_date
from ledger.screens.showing import paired

_OF: tuple[ShareOf, ...] = get_args(ShareOf)


class SaleForm(Form):
    title_words = "The machine is sold"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.machines = [each.name for each in read_machines(books)]
        self.taking = [each.name for each in read_accounts(books).all if each.role in TAKING_ROLES]

    def asks(self) -> Sequence[Asked]:
        return (
            *which_machine(self.machines),
            Asked("amount", "It brought"),
            Asked("to", "Paid into", value="checking", known=self.taking, only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        note = "Its gain or loss is your accountant's; whether sales tax is due, the revenue office says."
        if not self.text("amount"):
            return [note]
        draft = sell_machine.preview(self.books_on(), self.sound(self._request()))
        return [*(paired(each.account.name, self.showing.plain(each.cents), 44) for each in draft.postings), note]

    def save(self) -> str:
        sealed = sell_machine.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: sold. What is left of a loan is still to pay."

    def _request(self) -> sell_machine.SellRequest:
        return sell_machine.SellRequest(self.amount("amount"), self.text("to"), chosen_machine(self))


class NewMachineForm(Form):
    title_words = "A further machine"

    def asks(self) -> Sequence[Asked]:
        return (Asked("name", "Name"),)

    def preview(self) -> Sequence[str]:
        return ["It has its own costs, and does a share of the jobs once you say which."]

    def save(self) -> str:
        added = share_machine.add(self.books, share_machine.MachineRequest(self.text("name")))
        return f"«{added.name}» is there."


class MachineShareForm(Form):
    title_words = "A machine's share"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.machines = [each.name for each in read_machines(books)]

    def asks(self) -> Sequence[Asked]:
        return (
            *which_machine(self.machines),
            Asked("of", "Share of", value="use", hint="use or jobs", known=_OF, only_known=True),
            Asked("percent", "Percent"),
            Asked("reason", "Why so much", hint="such as hours logged"),
            Asked("from", "Holds from", value="today"),
        )

    def preview(self) -> Sequence[str]:
        return [
            "Use: how much of it is for the workshop. Jobs: how many of them it does.",
            "Whether the share holds, your accountant decides: keep how you reckoned it.",
        ]

    def save(self) -> str:
        kept = share_machine.perform(self.books, self.sound(self._request()))
        return f"Kept: {self.text('percent')} % for «{kept.name}»."

    def _request(self) -> share_machine.MachineShareRequest:
        books = self.books
        return share_machine.MachineShareRequest(
            percent=self.read("percent", lambda text: read_percent(text, "percent"), Decimal(0)),
            reason=self.text("reason"),
            from_date=self.read(
                "from", lambda text: typed_date(text, books.today, books.settings.locale, "from"), books.today
            ),
            of_what=self.choice("of", _OF, "Of its use, or of the jobs?"),
            machine=chosen_machine(self),
        )


def which_machine(names: Sequence[str]) -> tuple[Asked, ...]:
    """The field that says which machine is meant, where there are several."""
    if len(names) < 2:
        return ()
    return (Asked("machine", "Machine", value=names[0], known=names, only_known=True),)


def chosen_machine(form: Form) -> str | None:
    """The machine that a form names, None for the only one."""
    return form.text_or_none("machine") if "machine" in form.fields else None
