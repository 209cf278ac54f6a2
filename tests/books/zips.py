"""What is in a backup, and what stands in the books that it was made from."""

from __future__ import annotations

import io
import zipfile
from contextlib import closing
from pathlib import Path
from typing import Any

from ledger.books.balances import balances, read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.books.opening import open_books
from ledger.books.places import DOCUMENTS
from ledger.books.prove import prove
from tests.books import sample

TODAY = sample.TODAY.isoformat()
CLOCK = sample.clock_on(sample.TODAY)


def standing(folder: Path) -> dict[str, Any]:
    """What a person would compare: the trial balance, the documents, the head, the entries."""
    with closing(open_books(folder, CLOCK)) as books:
        proof = prove(books)
        assert proof.findings == ()
        return {
            "balances": {each.account.name: each.cents for each in balances(books, sample.TODAY)},
            "documents": {path.name: path.read_bytes() for path in (folder / DOCUMENTS).iterdir()},
            "head": proof.head,
            "entries": [tuple(row) for row in books.rows("select * from entry order by number")],
        }


def members(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def zipped(files: dict[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", method) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return written.getvalue()


def add_tips(books: Books, count: int) -> None:
    accounts = read_accounts(books)
    with books.writing() as write:
        for number in range(count):
            lines = postings((accounts["checking"], 100 + number), (accounts["tips"], -100 - number))
            seal(books, write, Draft(sample.TODAY, "other", "Invented", lines))
