"""The checks that are no sums: the entries' seals, the documents' digests, and each bank account's agreement."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.books import Books
from ledger.books.chain import broken_link_between, head
from ledger.quarter.checks import Check
from ledger.quarter.documents import MISSING, PacketDocument


def proof_checks(
    books: Books, start: date, end: date, documents: tuple[PacketDocument, ...] | None = None
) -> Iterator[Check]:
    """The checks of the days from start to end, both included; documents only where they were read."""
    yield _seals(books, start, end)
    if documents is not None:
        lost = [each for each in documents if each.kind == MISSING]
        entries = ", ".join(str(each.entry) for each in lost)
        yield Check("documents are what their digests say", fault=f"of entries {entries}" if lost else "")


def _seals(books: Books, start: date, end: date) -> Check:
    name = f"every entry is as it was sealed; head {head(books.connection)}"
    row = books.row(
        "select min(number), max(number) from entry where date between ? and ?", (start.isoformat(), end.isoformat())
    )
    if row is None or row[0] is None:
        return Check(name)
    broken = broken_link_between(books.connection, row[0], row[1])
    return Check(name, fault=f"entry {broken} is not" if broken else "")
