"""Keep a photograph, scan or letter with what it proves, and find what has none."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ledger.books.books import Books
from ledger.books.documents import attach, kind_of, read_document
from ledger.books.entries import read_entry
from ledger.errors import NotUnderstood
from ledger.jobs.records import read_job


@dataclass(frozen=True)
class AttachRequest:
    """What it belongs to: an entry or a job."""

    file: Path
    entry: int | None = None
    job: int | None = None


@dataclass(frozen=True)
class Kept:
    """digest: the name under which it is kept. kind: as its content says, whatever its name says."""

    digest: str
    kind: str
    label: str


def perform(books: Books, request: AttachRequest) -> Kept:
    """Raises NotFound for the file, the entry or the job, NotPossible for a file that is empty or above 20 MB."""
    if (request.entry is None) == (request.job is None):
        raise NotUnderstood("A document belongs to one entry or one job.", "Say --entry N or --job N.", "entry")
    content = read_document(request.file, "file")
    with books.writing() as write:
        if request.entry is not None:
            read_entry(books, request.entry)
        if request.job is not None:
            read_job(books, request.job)
        digest = attach(books, write, content, request.file.name, entry=request.entry, job=request.job)
        return Kept(digest, kind_of(content), request.file.name)
