"""The papers of the set-up list: a call sheet for one office, and the whole list for a folder. Nothing is booked."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from checklists.call_sheet import WIDTH as CALL_SHEET_WIDTH
from checklists.call_sheet import CallSheet, call_sheet
from checklists.printed_list import WIDTH as LIST_WIDTH
from checklists.printed_list import ListOnPaper, list_name, list_sheet
from checklists.progress import KeptAnswer
from checklists.records import read_answers, read_catalogue_of, read_standings
from ledger.actions.hear_call import read_call
from ledger.books.books import Books
from ledger.books.letterhead import read_letterhead
from ledger.jobs.printing import Printed, keep_in, print_sheet, receipts_folder
from ledger.paper.fonts import ShippedLetters
from ledger.paper.locales import LocalForms
from ledger.paper.pages import set_pages
from ledger.paper.pdf import sheet_pdf
from ledger.paper.plain import sheet_text


@dataclass(frozen=True)
class CallSheetRequest:
    """office: as the list names it, or an item that asks it. folder: the receipts folder where it is None."""

    office: str
    folder: Path | None = None


@dataclass(frozen=True)
class ListRequest:
    """folder: the receipts folder where it is None."""

    folder: Path | None = None


def print_call_sheet(books: Books, request: CallSheetRequest) -> tuple[CallSheet, Printed, Path]:
    """The call, both its files, and the folder that they lie in.

    Raises NotFound for the office, NotPossible where nothing is open for it, BooksNotUsable for the folder.
    """
    call = read_call(books, request.office)
    forms = LocalForms(books.settings.locale, books.currency)
    paper, letters = forms.paper(), ShippedLetters()
    letterhead = read_letterhead(books, books.today)
    sheet = call_sheet(call, forms, lambda each: len(set_pages(each, paper, letters)), letterhead)
    printed = Printed(call.name, sheet_pdf(sheet, paper), sheet_text(sheet, CALL_SHEET_WIDTH))
    return call, printed, _kept(books, printed, request.folder)


def print_list(books: Books, request: ListRequest) -> tuple[Printed, Path]:
    """Both files of the whole list, and their folder. Raises BooksNotUsable for the folder."""
    history: dict[str, list[KeptAnswer]] = {}
    for each in read_answers(books):
        history.setdefault(each.item, []).append(each)
    on_paper = ListOnPaper(books.settings.name, books.today, read_catalogue_of(books), read_standings(books), history)
    forms = LocalForms(books.settings.locale, books.currency)
    printed = print_sheet(books, list_name(on_paper), list_sheet(on_paper, forms), LIST_WIDTH)
    return printed, _kept(books, printed, request.folder)


def _kept(books: Books, printed: Printed, folder: Path | None) -> Path:
    place = folder if folder is not None else receipts_folder(books)
    keep_in(place, printed)
    return place
