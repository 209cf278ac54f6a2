"""What was hers before the business: it enters at the lesser of cost and worth."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import bring_in
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form


class BringInForm(Form):
    title_words = "Yours before the business"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.categories = [each.name for each in read_accounts(books).of_kind("expense")]

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("what", "What"),
            Asked("cost", "It cost"),
            Asked("worth", "It is worth", hint="today"),
            Asked("category", "For", hint="if empty: the machine", known=self.categories, only_known=True),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        lines = ["It enters at the lesser of cost and worth. Which value counts for tax, your accountant decides."]
        if not (self.text("what") and self.text("cost") and self.text("worth")):
            return lines
        draft = bring_in.preview(self.books_on(), self.sound(self._request()))
        return [*(f"{each.account.name:<30}{self.showing.plain(each.cents):>14}" for each in draft.postings), *lines]

    def save(self) -> str:
        request = self._request()
        sealed = bring_in.perform(self.books_on(), self.sound(request))
        return f"Entry {sealed.number}: {request.what}."

    def _request(self) -> bring_in.BringInRequest:
        return bring_in.BringInRequest(
            self.text("what"), self.amount("cost"), self.amount("worth"), self.text_or_none("category")
        )
