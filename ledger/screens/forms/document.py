"""A photograph, scan or letter, kept with the entry that is selected."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ledger.actions import attach
from ledger.books.books import Books
from ledger.books.entries import Entry
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form


class DocumentForm(Form):
    def __init__(self, books: Books, entry: Entry) -> None:
        self.title_words = f"A document for entry {entry.number}"
        super().__init__(books)
        self.entry = entry

    def asks(self) -> Sequence[Asked]:
        return (Asked("file", "File", hint="drag it here, or type its name"),)

    def preview(self) -> Sequence[str]:
        return [self.entry.text, "Its content decides what it is; at most 20 MB."]

    def save(self) -> str:
        # A file that is dragged into a terminal arrives in quotation marks or with escaped spaces.
        name = self.text("file").strip("'\"").replace("\\ ", " ")
        kept = attach.perform(self.books, attach.AttachRequest(Path(name).expanduser(), entry=self.entry.number))
        return f"Kept «{kept.label}» with entry {self.entry.number}: a {kept.kind}."
