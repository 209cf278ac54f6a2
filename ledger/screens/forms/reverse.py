"""Undo an entry: its mirror is booked, and why. Where no entry is chosen, it is the last one that still stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ledger.actions import reverse
from ledger.actions.undo import last_entry
from ledger.books.books import Books
from ledger.books.entries import Entry
from ledger.errors import NotPossible, Refused
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.tax_return import UnfileForm
from ledger.screens.showing import Showing, paired
from ledger.taxes.filed_returns import read_filed

_LINE = 44


class ReverseForm(Form):
    """Why. undoing: the undoing that was booked last of all. Raises NotPossible where something rests on the entry."""

    def __init__(self, books: Books, entry: Entry, undoing: Entry | None = None) -> None:
        self.title_words = f"Undo entry {entry.number}"
        super().__init__(books)
        reverse.check(books, entry.number)
        self.entry = entry
        self.undoing = undoing

    def asks(self) -> Sequence[Asked]:
        return (Asked("why", "Why", hint="such as entered twice"),)

    def preview(self) -> Sequence[str]:
        return [*self._which(), *self._mirror(), "Then enter it again as it should be."]

    def save(self) -> str:
        sealed = reverse.perform(self.books, reverse.ReverseRequest(self.entry.number, self.text("why")))
        return f"Entry {sealed.number} undoes entry {self.entry.number}: {self.entry.text}."

    def _which(self) -> Iterator[str]:
        undoing = self.undoing
        if undoing is not None:
            yield f"Entry {undoing.number} is an undoing already, of entry {undoing.reverses}. Before it stands:"
        yield told_entry(self.entry, self.showing)

    def _mirror(self) -> Iterator[str]:
        yield "What is booked to undo it:"
        for each in self.entry.postings:
            yield "  " + paired(each.account.name, self.showing.plain(-each.cents), _LINE)
        if self.entry.kind == "pickup":
            yield f"The piece of job {self.entry.job} is on the Bench again."


def undo_form(books: Books, entry: Entry, undoing: Entry | None = None) -> Form:
    """The form that undoes an entry: what the last filing booked goes with the filing. Raises NotPossible."""
    filed = read_filed(books)
    if filed and filed[-1].entry == entry.number:
        return UnfileForm(books, None)
    return ReverseForm(books, entry, undoing)


def last_to_undo(books: Books) -> Form:
    """The form that undoes the last entry. Raises NotPossible, naming the entry, where that is not done by a mirror."""
    found = last_entry(books)
    try:
        return undo_form(books, found.entry, found.undoing)
    except Refused as refused:
        told = told_entry(found.entry, Showing(books.settings))
        raise NotPossible(f"The last entry stands: {told}. {refused.what}", refused.do, refused.field) from refused


def told_entry(entry: Entry, showing: Showing) -> str:
    """`Entry 12, Mar 18, 2026, Corner shop: thread`."""
    who = f"{entry.who}: " if entry.who else ""
    return f"Entry {entry.number}, {showing.day(entry.on)}, {who}{entry.text}"
