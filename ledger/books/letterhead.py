"""The letterhead of a day: kept as choices that hold from a day on, its picture among the documents."""

from __future__ import annotations

import hashlib
from datetime import date
from typing import Final

from ledger.books.books import Books
from ledger.books.documents import attach, read_content
from ledger.books.settings import choose, chosen
from ledger.books.transaction import Writing
from ledger.errors import Refused
from ledger.paper.letterhead import Letterhead
from ledger.paper.picture_file import kept_picture
from ledger.paper.sheet import LetterPicture

_LINES: Final = "letterhead lines"
_PICTURE: Final = "letterhead picture"


def read_letterhead(books: Books, on: date) -> Letterhead:
    """The letterhead of papers of a day: a receipt printed again carries that of its own day."""
    lines = chosen(books, _LINES, on) or ""
    digest = chosen(books, _PICTURE, on)
    return Letterhead(tuple(lines.split("\n")) if lines else (), _picture(books, digest) if digest else None)


def write_letterhead(books: Books, write: Writing, letterhead: Letterhead, label: str) -> None:
    """Keep what has changed, from today on. label: the name that the file of the picture had."""
    before = read_letterhead(books, books.today)
    if letterhead.lines != before.lines:
        choose(write, _LINES, "\n".join(letterhead.lines), books.today, books.today)
    if letterhead.picture is None:
        if chosen(books, _PICTURE, books.today):
            choose(write, _PICTURE, "", books.today, books.today)
    elif picture_digest(letterhead.picture) != chosen(books, _PICTURE, books.today):
        digest = attach(books, write, letterhead.picture.png, label)
        choose(write, _PICTURE, digest, books.today, books.today)


def picture_digest(picture: LetterPicture) -> str:
    """The name under which its file is kept."""
    return hashlib.sha256(picture.png).hexdigest()


def _picture(books: Books, digest: str) -> LetterPicture | None:
    try:
        return kept_picture(read_content(books, digest))
    except Refused:
        # A customer at the counter gets a receipt all the same; `prove` tells that the file is gone.
        return None
