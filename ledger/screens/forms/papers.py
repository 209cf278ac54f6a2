"""What is opened or printed at once: a document in the system's viewer, a call sheet, the whole set-up list."""

from __future__ import annotations

from typing import Any

from checklists.progress import Standing
from ledger.actions import print_set_up
from ledger.actions.attach import Owner, documents_of
from ledger.books.books import Books
from ledger.books.entries import Entry
from ledger.books.viewer import show_document
from ledger.errors import NotPossible
from ledger.jobs.job import Job
from ledger.screens.forms.paper_page import PaperPage


def view(books: Books, subject: Any) -> str:
    """Open the newest document of what is selected. Raises NotPossible where it has none or nothing is selected."""
    found = documents_of(books, _owner(subject))
    if not found:
        raise NotPossible("There is no document with it.", "f keeps one.", None)
    show_document(books, found[0])
    others = f" One of {len(found)}." if len(found) > 1 else ""
    return f"Opened «{found[0].label}».{others}"


def call_sheet(books: Books, subject: Any) -> PaperPage:
    """Printed for the office that the selected item asks, and shown."""
    if not isinstance(subject, Standing) or subject.item is None:
        raise NotPossible("No item is selected.", "Choose one in Set-up first.", None)
    call, printed, folder = print_set_up.print_call_sheet(books, print_set_up.CallSheetRequest(subject.item.ask))
    return PaperPage(f"To ask: {call.office}", printed.text.splitlines(), f"For paper: {printed.pdf_in(folder)}")


def whole_list(books: Books, subject: Any) -> PaperPage:
    """The whole list printed into the receipts folder, and shown."""
    printed, folder = print_set_up.print_list(books, print_set_up.ListRequest())
    return PaperPage("Set-up list", printed.text.splitlines(), f"For paper: {printed.pdf_in(folder)}")


def _owner(subject: Any) -> Owner:
    if isinstance(subject, Entry):
        return Owner(entry=subject.number)
    if isinstance(subject, Job):
        return Owner(job=subject.id)
    if isinstance(subject, Standing):
        return Owner(item=subject.id)
    raise NotPossible("Nothing is selected that has documents.", "Choose an entry, a job or an item first.", None)
