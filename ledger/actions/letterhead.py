"""The letterhead of her papers: lines under the workshop's name and a picture beside it, from today on."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ledger.books.books import Books
from ledger.books.documents import odd_name, read_document
from ledger.books.letterhead import read_letterhead, write_letterhead
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.printing import Printed, printed_sheet, receipts_folder
from ledger.paper.letterhead import Letterhead, read_lines
from ledger.paper.locales import LocalForms
from ledger.paper.picture_file import read_picture
from ledger.paper.sheet import Notes, Sheet, Title

_ABOUT = (
    "Your papers carry this from today on: receipts, quotes, intake forms, accounts, lists and the packet. A call "
    "sheet has the name and a small picture.",
    "What was printed stays as it was, and a receipt printed again has the letterhead of its own day.",
)


@dataclass(frozen=True)
class LetterheadRequest:
    """lines: all that stand under the name, None to leave them. picture: the file of a new one, None to leave it.

    drops_picture: from now on without one.
    """

    lines: tuple[str, ...] | None = None
    picture: Path | None = None
    drops_picture: bool = False


@dataclass(frozen=True)
class LetterheadKept:
    """pdf, text: a sample sheet, to look at."""

    letterhead: Letterhead
    pdf: Path
    text: Path


def preview(books: Books, request: LetterheadRequest) -> Letterhead:
    """The letterhead as it would be. Raises NotFound, NotUnderstood, and NotPossible for a picture that cannot be."""
    now = read_letterhead(books, books.today)
    if request.picture is not None and request.drops_picture:
        raise NotUnderstood("A new picture and none at once.", "Name a picture, or none.", "picture")
    lines = now.lines if request.lines is None else read_lines(request.lines)
    if request.picture is None:
        return Letterhead(lines, None if request.drops_picture else now.picture)
    content = read_document(request.picture, "picture")
    odd = odd_name(request.picture.name, content)
    if odd is not None:
        raise NotPossible(odd, "Give the file the name of what it is, or choose another.", "picture")
    return Letterhead(lines, read_picture(content, request.picture.name))


def perform(books: Books, request: LetterheadRequest) -> LetterheadKept:
    """Keep it, and print a sample sheet with it into the receipts folder. Raises as `preview` does."""
    letterhead = preview(books, request)
    printed, folder = _sample(books, letterhead), receipts_folder(books)
    with books.writing() as write:
        write_letterhead(books, write, letterhead, request.picture.name if request.picture else "")
        write.add_file(printed.pdf_in(folder), printed.pdf)
        write.add_file(printed.text_in(folder), printed.text.encode())
    return LetterheadKept(letterhead, printed.pdf_in(folder), printed.text_in(folder))


def _sample(books: Books, letterhead: Letterhead) -> Printed:
    settings = books.settings
    day = LocalForms(settings.locale, settings.currency).day(books.today)
    sheet = Sheet((settings.name,), f"{settings.name}: letterhead", (Title("Letterhead", day), Notes(_ABOUT)))
    return printed_sheet(f"letterhead-{books.today.isoformat()}", sheet, settings, letterhead)
