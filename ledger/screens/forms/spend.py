"""A receipt: the shop, the amount, what it was for, what it was paid from, and the household's part."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from textual.widgets import Input

from ledger.actions import spend
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.spending.habits import known_shops, last_habit
from ledger.spending.spend import PAYING_ROLES


class SpendForm(Form):
    title_words = "Spend"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        accounts = read_accounts(books)
        self.categories = [each.name for each in accounts.of_kind("expense")]
        self.paying = [each.name for each in accounts.all if each.role in PAYING_ROLES]
        self.shops = known_shops(books)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("who", "Shop", known=self.shops),
            Asked("amount", "Whole receipt", hint="12.50+3 is added up"),
            Asked("category", "For", hint="thread, batting ...", known=self.categories, only_known=True),
            Asked("from", "Paid from", hint="workshop card ...", known=self.paying, only_known=True),
            Asked("home", "Household part", hint="nothing"),
            Asked("owed", "Owed back?", hint="yes if you paid", known=("yes", "no"), only_known=True),
            Asked("untaxed", "No sales tax?", hint="yes if untaxed", known=("yes", "no"), only_known=True),
            Asked("why", "Note"),
            Asked("document", "Photo or scan", hint="a file"),
            Asked("on", "Date", value="today"),
        )

    def on_input_blurred(self, event: Input.Blurred) -> None:
        super().on_input_blurred(event)
        if event.input.id == "who":
            self._bring_habit()

    def _bring_habit(self) -> None:
        """A shop seen before brings its last category and account, where nothing is typed there yet."""
        habit = last_habit(self.books, self.text("who")) if self.text("who") else None
        if habit is not None:
            for name, value in (("category", habit.category), ("from", habit.paid_from)):
                if not self.text(name):
                    self.field(name).input.value = value

    def preview(self) -> Sequence[str]:
        spent = spend.preview(self.books_on(), self.sound(self._request()))
        amount = self.showing.amount
        lines = [f"Workshop {amount(spent.business_cents)}, household {amount(spent.personal_cents)}"]
        if spent.crossing:
            lines.append(f"Between the purses: {spent.crossing.kind}, {amount(spent.crossing.cents)}")
        return lines

    def save(self) -> str:
        spent, sealed = spend.perform(self.books_on(), self.sound(self._request()))
        total = self.showing.amount(spent.business_cents + spent.personal_cents)
        return f"Entry {sealed.number}: {total} to {self.text('who')}."

    def _request(self) -> spend.SpendRequest:
        document = self.text_or_none("document")
        return spend.SpendRequest(
            amount_cents=self.amount("amount"),
            category=self.read("category", lambda text: _needed(text, "category"), ""),
            paid_from=self.read("from", lambda text: _needed(text, "from"), ""),
            who=self.read("who", lambda text: _needed(text, "who"), ""),
            home_cents=self.amount("home", zero=True),
            owed=self.read("owed", lambda text: _is_yes(text, "owed"), False),
            untaxed=self.read("untaxed", lambda text: _is_yes(text, "untaxed"), False),
            why=self.text_or_none("why"),
            document=Path(document).expanduser() if document else None,
        )


def _needed(text: str, field: str) -> str:
    if not text:
        raise NotUnderstood("This is still empty.", "Type the first letters.", field)
    return text


def _is_yes(text: str, field: str) -> bool:
    if text.casefold() not in ("", "y", "yes", "n", "no"):
        raise NotUnderstood("Yes or no?", "Type y or n.", field)
    return text.casefold().startswith("y")
