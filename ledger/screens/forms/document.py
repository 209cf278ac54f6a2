"""A photograph, scan or letter, kept with what is selected or named; and from how much on a receipt wants one."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from checklists.progress import Standing
from ledger.actions import attach
from ledger.actions.document_limit import DocumentLimitRequest, perform
from ledger.books.books import Books
from ledger.books.entries import Entry
from ledger.errors import NotUnderstood, Refused
from ledger.jobs.job import Job
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_file
from ledger.spending.without_document import document_limit_cents

_KINDS = ("entry", "job", "item", "certificate")


class DocumentForm(Form):
    title_words = "Keep a document"

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        self.owner, self.about = _owner_of(subject)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("file", "File", hint="drag it here"),
            Asked("owner", "Kept with", self.owner, hint="such as entry 12", known=[f"{each} " for each in _KINDS]),
        )

    def preview(self) -> Sequence[str]:
        about = [self.about] if self.about and self.text("owner") == self.owner else []
        return [
            *about,
            "Its content decides what it is, and not its name; at most 20 MB.",
            "Kept with an entry, a job, an item of the set-up list, or a customer's certificate by its number.",
        ]

    def save(self) -> str:
        file = self.read("file", lambda text: typed_file(text, "file"), Path())
        owner = self.sound(self.read("owner", _typed_owner, attach.Owner()))
        request = attach.AttachRequest(file, owner.entry, owner.job, owner.item, owner.certificate)
        try:
            kept = attach.perform(self.books, request)
        except Refused as refused:
            if refused.field in _KINDS:
                refused.field = "owner"
            raise
        told = f"Kept «{kept.label}» with {self.text('owner')}: a {kept.kind}."
        return f"{told} {kept.remark}" if kept.remark else told


class DocumentLimitForm(Form):
    title_words = "Which receipts want a document"

    def asks(self) -> Sequence[Asked]:
        return (Asked("amount", "Those above", hint=f"now {self.showing.plain(document_limit_cents(self.books))}"),)

    def preview(self) -> Sequence[str]:
        return ["0: every receipt. What counts as proof, your accountant and the tax office decide."]

    def save(self) -> str:
        if not self.text("amount"):
            raise NotUnderstood("This is still empty.", "Give an amount, or 0 for every receipt.", "amount")
        cents = self.sound(self.amount("amount", zero=True))
        perform(self.books, DocumentLimitRequest(cents))
        return f"Receipts above {self.showing.amount(cents)} want a document."


def _owner_of(subject: Any) -> tuple[str, str]:
    """What is selected, as it is typed, and in words."""
    if isinstance(subject, Entry):
        return f"entry {subject.number}", subject.text
    if isinstance(subject, Job):
        return f"job {subject.id}", f"{subject.customer.name}: {subject.piece}"
    if isinstance(subject, Standing):
        return f"item {subject.id}", subject.item.title if subject.item else ""
    return "", ""


def _typed_owner(text: str) -> attach.Owner:
    word, _, name = text.partition(" ")
    kind = next((each for each in _KINDS if word and each.startswith(word.casefold())), None)
    name = name.strip()
    if kind is None or not name:
        raise NotUnderstood("With what is it kept?", "Say entry 12, job 3, item power or certificate 7.", "owner")
    if kind == "item":
        return attach.Owner(item=name)
    if kind == "certificate":
        return attach.Owner(certificate=name)
    if not (name.isascii() and name.isdigit() and len(name) <= 12):
        raise NotUnderstood(
            f"This is no number of {'an entry' if kind == 'entry' else 'a job'}.", "Say it in digits.", "owner"
        )
    return attach.Owner(entry=int(name)) if kind == "entry" else attach.Owner(job=int(name))
