"""Keep a photograph, scan or letter with what it proves, and find what has none."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from checklists.records import read_catalogue_of
from ledger.books.books import Books
from ledger.books.documents import Document, attach, kind_of, odd_name, read_document, read_documents
from ledger.books.entries import read_entry
from ledger.errors import NotFound, NotUnderstood, unknown_name
from ledger.jobs.records import read_job
from ledger.text import name_key


@dataclass(frozen=True)
class Owner:
    """What a document belongs to, one of them: an entry, a job, an item of the set-up list by its id, or a customer's
    certificate by its number."""

    entry: int | None = None
    job: int | None = None
    item: str | None = None
    certificate: str | None = None


@dataclass(frozen=True)
class AttachRequest:
    """A file, and what it belongs to: exactly one of them."""

    file: Path
    entry: int | None = None
    job: int | None = None
    item: str | None = None
    certificate: str | None = None

    @property
    def owner(self) -> Owner:
        return Owner(self.entry, self.job, self.item, self.certificate)


@dataclass(frozen=True)
class Kept:
    """digest: the name under which it is kept. kind: as its content says, whatever its name says. remark: where the two
    differ."""

    digest: str
    kind: str
    label: str
    remark: str | None = None


def perform(books: Books, request: AttachRequest) -> Kept:
    """Raises NotFound for the file or its owner, NotUnderstood unless there is one owner, NotPossible for a file that
    is empty or above 20 MB."""
    given = _one_of(request.owner)
    content = read_document(request.file, "file")
    with books.writing() as write:
        digest = attach(books, write, content, request.file.name, **_found(books, given))
        return Kept(digest, kind_of(content), request.file.name, odd_name(request.file.name, content))


def documents_of(books: Books, owner: Owner) -> tuple[Document, ...]:
    """The documents of one thing, the newest first. Raises as `perform` does for what is not in the books."""
    return read_documents(books, **_found(books, _one_of(owner)))


def _one_of(owner: Owner) -> dict[str, Any]:
    given = {name: value for name, value in vars(owner).items() if value is not None}
    if len(given) != 1:
        raise NotUnderstood(
            "A document belongs to one thing: an entry, a job, an item of the set-up list or a certificate.",
            "Say --entry N, --job N, --item ITEM or --certificate NUMBER.",
            "entry",
        )
    return given


def _found(books: Books, given: dict[str, Any]) -> dict[str, Any]:
    """The owner as it stands in the books. Raises NotFound."""
    ((name, value),) = given.items()
    match name:
        case "entry":
            return {"entry": read_entry(books, value).number}
        case "job":
            return {"job": read_job(books, value).id}
        case "item":
            return {"item": read_catalogue_of(books).item(value).id}
    return {"certificate": _certificate_numbered(books, value)}


def _certificate_numbered(books: Books, number: str) -> int:
    """The newest certificate of that number. Raises NotFound, offering the nearest."""
    rows = books.rows("select id, number from certificate where number is not null order by id desc")
    found = next((row["id"] for row in rows if name_key(row["number"]) == name_key(number)), None)
    if found is None and not rows:
        raise NotFound("No customer has shown a certificate.", "Keep one with «twopurse customer keep».", "certificate")
    if found is None:
        raise unknown_name("certificate", number, [row["number"] for row in rows], "certificate")
    return int(found)
