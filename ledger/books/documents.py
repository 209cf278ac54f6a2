"""Receipts, photographs and letters, kept in the books folder under their digest."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from ledger.books.books import Books, Row
from ledger.books.places import DOCUMENTS
from ledger.books.transaction import Writing
from ledger.errors import BooksDamaged, NotFound, NotPossible
from ledger.text import clean

DOCUMENT_LIMIT_BYTES = 20 * 1024 * 1024


_THE_SCAN = "Choose the file with the picture or the scan."


def read_document(path: Path, field: str = "document", instead: str = _THE_SCAN) -> bytes:
    """The bytes of a file to attach; instead: what to choose where it is none.

    Raises NotFound or NotPossible: no such file, empty, or above 20 MB.
    """
    try:
        if not path.is_file():
            raise NotFound(f"{path} is no file.", instead, field)
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
        raise NotPossible(f"{path.name} is empty.", instead, field)
    return content


@dataclass(frozen=True)
class Document:
    """One document with one thing that it belongs to. label: the name that its file had."""

    id: int
    digest: str
    label: str
    kept_on: date
    entry: int | None = None
    job: int | None = None
    item: str | None = None
    certificate: int | None = None

    @property
    def belongs_to(self) -> str:
        """`entry 12`, `job 3`, `item power` or `certificate 2`; what belongs to none of them is the letterhead's."""
        owners = (
            f"{name} {value}"
            for name in ("entry", "job", "item", "certificate")
            if (value := getattr(self, name)) is not None
        )
        return next(owners, "letterhead")


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


# The endings under which a viewer knows each kind, the usual one first.
ENDINGS = {
    "PDF": (".pdf",),
    "PNG picture": (".png",),
    "JPEG picture": (".jpg", ".jpeg"),
    "GIF picture": (".gif",),
    "TIFF picture": (".tif", ".tiff"),
    "HEIC picture": (".heic", ".heif"),
    "WebP picture": (".webp",),
}


def odd_name(label: str, content: bytes) -> str | None:
    """A sentence where the name of a file says that it is one thing and its content that it is another."""
    ending = Path(label).suffix.casefold()
    kind = kind_of(content)
    says = next((each for each, endings in ENDINGS.items() if ending in endings), None)
    if says is None or says == kind:
        return None
    article = "an" if says.startswith("H") else "a"
    is_a = kind if kind in ("text", "file of another kind") else f"a {kind}"
    return f"«{clean(label)[:80]}» is named as {article} {says}, and by its content it is {is_a}: is it the right file?"


def odd_file(path: Path) -> str | None:
    """The same for a file that was just read, and none where it is gone by now."""
    try:
        return odd_name(path.name, path.read_bytes())
    except OSError:
        return None


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

    The picture of the letterhead alone is kept with none of them. The name is a label only.
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


def read_documents(
    books: Books,
    *,
    entry: int | None = None,
    job: int | None = None,
    item: str | None = None,
    certificate: int | None = None,
    digest: str | None = None,
) -> tuple[Document, ...]:
    """The documents of one thing, or every thing that one document belongs to by the first letters of its digest.

    The newest first. Exactly one of them is asked for.
    """
    asked = {"entry": entry, "job": job, "item": item, "certificate": certificate}
    if digest is not None:
        like = "".join(each for each in digest.casefold() if each in "0123456789abcdef")
        rows = books.rows("select * from attachment where substr(digest, 1, ?) = ? order by id desc", (len(like), like))
        return tuple(map(_document, rows)) if like == digest.casefold() else ()
    ((column, value),) = ((name, said) for name, said in asked.items() if said is not None)
    return tuple(map(_document, books.rows(f"select * from attachment where {column} = ? order by id desc", (value,))))


def read_content(books: Books, digest: str) -> bytes:
    """The bytes of a document. Raises NotFound where its file is gone, BooksDamaged where it is another one."""
    try:
        content = (books.folder / DOCUMENTS / digest).read_bytes()
    except OSError:
        raise NotFound(
            "The file of this document is not in the books folder.", "«twopurse prove» tells what is missing.", None
        ) from None
    if hashlib.sha256(content).hexdigest() != digest:
        raise BooksDamaged(
            "The file of this document is not the one that was kept.", "«twopurse prove» tells what was changed.", None
        )
    return content


def _document(row: Row) -> Document:
    return Document(
        id=row["id"],
        digest=row["digest"],
        label=row["label"],
        kept_on=date.fromisoformat(row["at"]),
        entry=row["entry"],
        job=row["job"],
        item=row["item"],
        certificate=row["certificate"],
    )
