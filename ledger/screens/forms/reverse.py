"""Undo an entry: its mirror is booked, and why."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.actions import reverse
from ledger.books.books import Books
from ledger.books.entries import Entry
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import paired


class ReverseForm(Form):
    """Why. Raises NotPossible where something rests on the entry."""

    def __init__(self, books: Books, entry: Entry) -> None:
        self.title_words = f"Undo entry {entry.number}"
        super().__init__(books)
        reverse.check(books, entry.number)
        self.entry = entry

    def asks(self) -> Sequence[Asked]:
        return (Asked("why", "Why", hint="entered twice"),)

    def preview(self) -> Sequence[str]:
        lines = [paired(each.account.name, self.showing.plain(-each.cents), 44) for each in self.entry.postings]
        return [f"The mirror of: {self.entry.text}", *lines, "Then enter it again as it should be."]

    def save(self) -> str:
        sealed = reverse.perform(self.books, reverse.ReverseRequest(self.entry.number, self.text("why")))
        return f"Entry {sealed.number} undoes entry {self.entry.number}."
