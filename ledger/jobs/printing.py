"""Receipts and quotes as files: the sheet as PDF and as text, side by side in a folder, both or neither."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from ledger.books.books import Books, Settings
from ledger.books.connection import refusal_for_file
from ledger.books.places import RECEIPTS, private_folder, sync_folder, write_durably
from ledger.errors import BooksNotUsable, NotPossible
from ledger.jobs.account_sheet import account_name, account_sheet, read_account
from ledger.jobs.customers import Customer
from ledger.jobs.quotes import describe_quote, quote_name, quote_sheet
from ledger.jobs.receipts import Receipt, receipt_name, receipt_sheet
from ledger.jobs.records import read_intake, read_job
from ledger.jobs.sales import read_receipt
from ledger.paper.locales import LocalForms
from ledger.paper.pdf import sheet_pdf
from ledger.paper.plain import sheet_text
from ledger.paper.sheet import Sheet
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import rules_on


@dataclass(frozen=True)
class Printed:
    """A sheet in both its forms. name: that of its files, without an ending."""

    name: str
    pdf: bytes
    text: str

    def pdf_in(self, folder: Path) -> Path:
        return folder / f"{self.name}.pdf"

    def text_in(self, folder: Path) -> Path:
        return folder / f"{self.name}.txt"


def receipts_folder(books: Books) -> Path:
    return books.folder / RECEIPTS


def printed_receipt(receipt: Receipt, settings: Settings) -> Printed:
    return _printed(receipt_name(receipt), receipt_sheet(receipt, _forms(settings)), settings)


def print_receipt_again(books: Books, job: int) -> tuple[Receipt, Printed]:
    """The receipt of a job's last pickup, from the books. Raises NotFound, and NotPossible before pickup."""
    receipt = read_receipt(books, job)
    return receipt, printed_receipt(receipt, books.settings)


def print_quote(books: Books, job_number: int) -> Printed:
    """The quote of a job as of today. Raises NotFound, and NotPossible where the job is over or a rate is missing."""
    job = read_job(books, job_number)
    if job.status in ("gone", "called-off"):
        gone = job.status == "gone"
        raise NotPossible(
            f"Job {job.id} is {'picked up' if gone else 'called off'}, so there is nothing to quote.",
            f"Its receipt is printed with «twopurse receipt {job.id}»." if gone else "Take it in again as a new job.",
            "job",
        )
    quote = describe_quote(
        books.settings,
        job,
        rules_on(books, books.today),
        newest_certificate(books, job.customer.party.id),
        read_intake(books, job.id),
        books.today,
    )
    return _printed(quote_name(quote), quote_sheet(quote, _forms(books.settings)), books.settings)


def print_account(books: Books, customer: Customer) -> Printed:
    """A customer's account as of today."""
    account = read_account(books, customer)
    return _printed(account_name(account), account_sheet(account, _forms(books.settings)), books.settings)


def keep_in(folder: Path, printed: Printed) -> None:
    """Write both files, in place of older ones of their names. Raises BooksNotUsable, and then neither is new."""
    contents = {printed.pdf_in(folder): printed.pdf, printed.text_in(folder): printed.text.encode()}
    waiting = {path: path.with_name(f".{path.name}.part") for path in contents}
    try:
        private_folder(folder)
        for path, content in contents.items():
            write_durably(waiting[path], content)
        for path in contents:
            waiting[path].replace(path)
        sync_folder(folder)
    except OSError as error:
        for path in waiting.values():
            with suppress(OSError):
                path.unlink()
        refusal = refusal_for_file(error, folder)
        raise BooksNotUsable(refusal.what, refusal.do, "to") from error


def _forms(settings: Settings) -> LocalForms:
    return LocalForms(settings.locale, settings.currency)


def _printed(name: str, sheet: Sheet, settings: Settings) -> Printed:
    return Printed(name, sheet_pdf(sheet, _forms(settings).paper()), sheet_text(sheet))
