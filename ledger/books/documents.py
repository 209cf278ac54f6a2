"""Receipts, photographs and letters, kept in the books folder under their digest."""

from __future__ import annotations

import hashlib
from pathlib import Path

from ledger.books.books import Books
from ledger.books.places import DOCUMENTS
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible
from ledger.text import clean

DOCUMENT_LIMIT_BYTES = 20 * 1024 * 1024


def read_document(path: Path, field: str = "document") -> bytes:
    """The bytes of a file to attach. Raises NotFound or NotPossible: no such file, empty, or above 20 MB."""
    try:
        if not path.is_file():
            raise NotFound(f"{path} is no file.", "Choose the file with the picture or the scan.", field)
        size = path.stat().st_size
        if size > DOCUMENT_LIMIT_BYTES:
            raise NotPossible(
                f"{path.name} is larger than {DOCUMENT_LIMIT_BYTES // 1024 // 1024} MB.",
                "Make the picture smaller, or scan it again at a lower resolution.",
                field,
            )
        content = path.read_bytes()
    except OSError:
        raise NotFound(f"The file {path} cannot be read.", "Check its name and folder.", field) from None
    if not content:
        raise NotPossible(f"{path.name} is empty.", "Choose the file with the picture or the scan.", field)
    return content


# The first bytes by which a file says what it is.
_SIGNATURES = (
    (b"%PDF-", "PDF"),
    (b"\x89PNG\r\n\x1a\n", "PNG picture"),
    (b"\xff\xd8\xff", "JPEG picture"),
    (b"GIF8", "GIF picture"),
    (b"II*\0", "TIFF picture"),
    (b"MM\0*", "TIFF picture"),
    (b"PK\x03\x04", "zip file"),
)


def kind_of(content: bytes) -> str:
    """What a document is by its content, whatever its name says."""
    for signature, kind in _SIGNATURES:
        if content.startswith(signature):
            return kind
    if content[4:12] in (b"ftypheic", b"ftypheix", b"ftypmif1"):
        return "HEIC picture"
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "WebP picture"
    try:
        content.decode("utf-8")
    except UnicodeDecodeError:
        return "file of another kind"
    return "text"


def attach(
    books: Books,
    write: Writing,
    content: bytes,
    label: str,
    *,
    entry: int | None = None,
    job: int | None = None,
    item: str | None = None,
    certificate: int | None = None,
) -> str:
    """Keep a document with an entry, a job, a customer's certificate or an item of the set-up list; its digest.

    The name is a label only.
    """
    digest = hashlib.sha256(content).hexdigest()
    write.add_document(books.folder / DOCUMENTS / digest, content)
    write.add(
        "attachment",
        digest=digest,
        label=clean(label)[:200] or "document",
        bytes=len(content),
        entry=entry,
        job=job,
        item=item,
        certificate=certificate,
        at=books.today.isoformat(),
    )
    return digest
