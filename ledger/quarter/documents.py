"""The documents behind the entries of a period: receipts, scans and letters, under names that are the packet's own."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from ledger.books.books import Books
from ledger.books.documents import kind_of
from ledger.books.places import DOCUMENTS
from ledger.quarter.span import PacketChoice, Span

_ENDINGS = {
    "PDF": "pdf",
    "PNG picture": "png",
    "JPEG picture": "jpg",
    "GIF picture": "gif",
    "TIFF picture": "tif",
    "HEIC picture": "heic",
    "WebP picture": "webp",
    "text": "txt",
}
MISSING = "missing"


@dataclass(frozen=True)
class PacketDocument:
    """label: the name that it came with, which is text and no path. file: its name here, empty where it is withheld or
    missing. content: None where it is withheld or its file is not what its digest says."""

    entry: int
    label: str
    digest: str
    kind: str
    size_bytes: int
    file: str
    content: bytes | None


def read_documents(books: Books, span: Span, choice: PacketChoice) -> tuple[PacketDocument, ...]:
    """The documents of entries of the period, by entry."""
    rows = books.rows(
        "select attachment.* from attachment join entry on entry.number = attachment.entry "
        "where entry.date between ? and ? order by attachment.entry, attachment.id",
        (span.start.isoformat(), span.end.isoformat()),
    )
    numbers: dict[int, int] = {}
    found = []
    for row in rows:
        entry = row["entry"]
        numbers[entry] = numbers.get(entry, 0) + 1
        content = _content(books, row["digest"])
        kind = kind_of(content) if content is not None else MISSING
        file = f"entry-{entry:05d}-{numbers[entry]}.{_ENDINGS.get(kind, 'bin')}"
        is_there = content is not None and choice.with_documents
        found.append(
            PacketDocument(
                entry=entry,
                label=row["label"],
                digest=row["digest"],
                kind=kind,
                size_bytes=row["bytes"],
                file=file if is_there else "",
                content=content if is_there else None,
            )
        )
    return tuple(found)


def _content(books: Books, digest: str) -> bytes | None:
    """The bytes under a digest, None where the file is gone or holds something else."""
    try:
        content = (books.folder / DOCUMENTS / digest).read_bytes()
    except OSError:
        return None
    return content if hashlib.sha256(content).hexdigest() == digest else None
