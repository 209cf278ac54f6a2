"""Receipts and quotes as files: the sheet as PDF and as text, side by side in a folder, both or neither."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from ledger.books.books import Books, Settings
from ledger.books.connection import refusal_for_file
from ledger.books.letterhead import read_letterhead
from ledger.books.places import RECEIPTS, private_folder, sync_folder, write_durably
from ledger.errors import BooksNotUsable, NotPossible
from ledger.jobs.account_sheet import account_name, account_sheet, read_account
from ledger.jobs.customers import Customer
from ledger.jobs.job import Job
from ledger.jobs.quotes import Quote, describe_quote, intake_form_name, quote_name, quote_sheet
from ledger.jobs.receipts import Receipt, receipt_name, receipt_sheet
from ledger.jobs.records import read_intake, read_job
from ledger.jobs.sales import read_receipt
from ledger.paper.letterhead import NAME_ALONE, Letterhead, on_letterhead
from ledger.paper.locales import LocalForms
from ledger.paper.pdf import sheet_pdf
from ledger.paper.plain import WIDTH, sheet_text
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


def printed_receipt(receipt: Receipt, settings: Settings, letterhead: Letterhead = NAME_ALONE) -> Printed:
    return printed_sheet(receipt_name(receipt), receipt_sheet(receipt, _forms(settings)), settings, letterhead)


def print_receipt(books: Books, receipt: Receipt) -> Printed:
    """On the letterhead of its own day, so that printed again it is the paper that the customer has."""
    return printed_receipt(receipt, books.settings, read_letterhead(books, receipt.day))


def print_receipt_again(books: Books, job: int) -> tuple[Receipt, Printed]:
    """The receipt of a job's last pickup, from the books. Raises NotFound, and NotPossible before pickup."""
    receipt = read_receipt(books, job)
    return receipt, print_receipt(books, receipt)


def print_quote(books: Books, job_number: int) -> Printed:
    """The quote of a job as of today. Raises NotFound, and NotPossible where the job is over or a rate is missing."""
    quote = _read_quote(books, job_number)
    return print_sheet(books, quote_name(quote), quote_sheet(quote, _forms(books.settings)))


def print_intake_form(books: Books, job_number: int) -> Printed:
    """What both sign when a piece comes in. Raises as `print_quote`, and NotPossible where the piece is not here."""
    quote = _read_quote(books, job_number)
    if not quote.is_here:
        raise NotPossible(
            f"The piece of job {job_number} is not here yet.",
            f"Its quote is printed with «twopurse quote {job_number}».",
            "job",
        )
    return print_sheet(books, intake_form_name(quote), quote_sheet(quote, _forms(books.settings)))


def print_paper_of(books: Books, job: Job) -> Printed:
    """The paper that a job wants now: its quote, its intake form while the piece is here, its receipt afterwards."""
    if job.status == "gone":
        return print_receipt_again(books, job.id)[1]
    is_here = job.status in ("in-hand", "ready")
    return print_intake_form(books, job.id) if is_here else print_quote(books, job.id)


def _read_quote(books: Books, job_number: int) -> Quote:
    job = read_job(books, job_number)
    if job.status in ("gone", "called-off"):
        gone = job.status == "gone"
        raise NotPossible(
            f"Job {job.id} is {'picked up' if gone else 'called off'}, so there is nothing to quote.",
            f"Its receipt is printed with «twopurse receipt {job.id}»." if gone else "Take it in again as a new job.",
            "job",
        )
    return describe_quote(
        books.settings,
        job,
        rules_on(books, books.today),
        newest_certificate(books, job.customer.party.id),
        read_intake(books, job.id),
        books.today,
    )


def print_account(books: Books, customer: Customer) -> Printed:
    """A customer's account as of today."""
    account = read_account(books, customer)
    return print_sheet(books, account_name(account), account_sheet(account, _forms(books.settings)))


def beside_the_first(folder: Path, printed: Printed) -> Printed:
    """Under another name where a paper of that name and other content lies there: what was printed first stays."""
    first = printed.pdf_in(folder)
    is_another = first.is_file() and first.read_bytes() != printed.pdf
    return replace(printed, name=f"{printed.name}-again") if is_another else printed


def keep_in(folder: Path, printed: Printed) -> None:
    """Write both files, in place of older ones of their names. Raises BooksNotUsable; neither is ever half written."""
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


def print_sheet(books: Books, name: str, sheet: Sheet, text_width: int = WIDTH) -> Printed:
    """Any sheet on today's letterhead, in both forms."""
    return printed_sheet(name, sheet, books.settings, read_letterhead(books, books.today), text_width)


def printed_sheet(
    name: str, sheet: Sheet, settings: Settings, letterhead: Letterhead, text_width: int = WIDTH
) -> Printed:
    headed = on_letterhead(sheet, letterhead)
    return Printed(name, sheet_pdf(headed, _forms(settings).paper()), sheet_text(headed, text_width))
