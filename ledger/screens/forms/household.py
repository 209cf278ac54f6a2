"""The household's side: what it had to begin with, what it is when it pays for the workshop, and what is let go."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import let_go, open_household, spend
from ledger.books.balances import read_accounts
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import paired


class OpenHouseholdForm(Form):
    title_words = "What the household had to begin with"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("account", "Account", self._names()[0], known=self._names(), only_known=True),
            Asked("amount", "Amount", hint="of a card, what is owed"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        lines = ["It stands against the household's own opening balance; nothing passes between the purses."]
        if not self.text("amount"):
            return lines
        draft = open_household.preview(self.books_on(), self.sound(self._request()))
        return [*(paired(each.account.name, self.showing.plain(each.cents), 44) for each in draft.postings), *lines]

    def save(self) -> str:
        sealed = open_household.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: {self.text('account')} is opened."

    def _names(self) -> list[str]:
        return [each.name for each in read_accounts(self.books).all if each.role in open_household.OPENED]

    def _request(self) -> open_household.HouseholdOpeningRequest:
        return open_household.HouseholdOpeningRequest(self.amount("amount"), self.text("account"))


class HouseholdPaysForm(Form):
    title_words = "What the household pays for the workshop"

    def asks(self) -> Sequence[Asked]:
        known = spend.HOUSEHOLD_CHOICES
        return (Asked("choice", "It is", spend.household_choice(self.books), known=known, only_known=True),)

    def preview(self) -> Sequence[str]:
        return [
            "owed: the workshop pays it back to you. contribution: you put it in.",
            "It holds from today on, and a single receipt can say otherwise.",
        ]

    def save(self) -> str:
        known = spend.HOUSEHOLD_CHOICES
        choice = self.sound(self.choice("choice", known, "Which of the two?"))
        spend.choose_what_household_pays(self.books, choice)
        return f"From today on it is {choice}."


class LetGoForm(Form):
    """Nothing is paid back: what was owed becomes a contribution."""

    title_words = "Let go of what the workshop owes you"

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("amount", "Amount", hint="if empty: all of it"),
            Asked("why", "Note"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        draft = let_go.preview(self.books_on(), self.sound(self._request()))
        return [paired(each.account.name, self.showing.plain(each.cents), 44) for each in draft.postings]

    def save(self) -> str:
        sealed = let_go.perform(self.books_on(), self.sound(self._request()))
        return f"Entry {sealed.number}: a contribution now, and owed to you no more."

    def _request(self) -> let_go.LetGoRequest:
        cents = self.amount("amount") if self.text("amount") else None
        return let_go.LetGoRequest(cents, self.text_or_none("why"))
