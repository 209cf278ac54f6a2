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
from ledger.jobs.printing import (
    Printed,
    beside_the_first,
    keep_in,
    print_intake_form,
    print_paper_of,
    print_receipt_again,
    receipts_folder,
)
from ledger.screens.forms.paper_page import PaperPage


def view(books: Books, subject: Any) -> str:
    """Open the newest document of what is selected. Raises NotPossible where it has none or nothing is selected."""
    found = documents_of(books, _owner(subject))
    if not found:
        keeps = "«Attach», found with /, keeps one." if isinstance(subject, Job) else "f keeps one."
        raise NotPossible("There is no document with it.", keeps, None)
    show_document(books, found[0])
    others = f" One of {len(found)}." if len(found) > 1 else ""
    return f"Opened «{found[0].label}».{others}"


def call_sheet(books: Books, subject: Any) -> PaperPage:
    """Printed for the office that the selected item asks, and shown."""
    if not isinstance(subject, Standing) or subject.item is None:
        raise NotPossible("No item is selected.", "Choose one in Set-up first.", None)
    call, printed, folder = print_set_up.print_call_sheet(books, print_set_up.CallSheetRequest(subject.item.ask))
    return PaperPage(f"To ask: {call.office}", printed.text.splitlines(), f"For paper: {printed.pdf_in(folder)}")


def of_job(books: Books, subject: Any) -> PaperPage:
    """What the selected job wants now: its quote, its intake form, or its receipt once more."""
    return _job_page(books, print_paper_of(books, _job(subject)), _job(subject))


def intake_form(books: Books, subject: Any) -> PaperPage:
    """For both to sign. Raises NotPossible where the piece is not here."""
    return _job_page(books, print_intake_form(books, _job(subject).id), _job(subject))


def receipt(books: Books, subject: Any) -> PaperPage:
    """Once more. Raises NotPossible before pickup."""
    return _job_page(books, print_receipt_again(books, _job(subject).id)[1], _job(subject))


def whole_list(books: Books, subject: Any) -> PaperPage:
    """The whole list printed into the receipts folder, and shown."""
    printed, folder = print_set_up.print_list(books, print_set_up.ListRequest())
    return PaperPage("Set-up list", printed.text.splitlines(), f"For paper: {printed.pdf_in(folder)}")


def _job(subject: Any) -> Job:
    if not isinstance(subject, Job):
        raise NotPossible("No job is selected.", "Choose one on the Bench first.", None)
    return subject


def _job_page(books: Books, printed: Printed, job: Job) -> PaperPage:
    folder = receipts_folder(books)
    printed = beside_the_first(folder, printed) if job.status == "gone" else printed
    keep_in(folder, printed)
    below = f"For paper: {printed.pdf_in(folder)}"
    return PaperPage(f"Job {job.id}, {job.customer.name}", printed.text.splitlines(), below)


def _owner(subject: Any) -> Owner:
    if isinstance(subject, Entry):
        return Owner(entry=subject.number)
    if isinstance(subject, Job):
        return Owner(job=subject.id)
    if isinstance(subject, Standing):
        return Owner(item=subject.id)
    raise NotPossible("Nothing is selected that has documents.", "Choose an entry, a job or an item first.", None)
