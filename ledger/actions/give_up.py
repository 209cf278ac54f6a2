"""Give a debt up, and take what is paid on it after all."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, seal
from ledger.errors import NotPossible
from ledger.jobs.after_sale import read_debt
from ledger.jobs.job import Job
from ledger.jobs.owed import Owed, owe
from ledger.jobs.records import read_job, read_job_to_act
from ledger.jobs.written_off import Debt, settle_write_off
from ledger.taxes.filing_rules import basis_of_job
from ledger.taxes.rules import claims_bad_debt_tax
from ledger.taxes.taxed_entries import read_unreported_tax
from ledger.text import read_text


@dataclass(frozen=True)
class GiveUpRequest:
    job: int
    why: str


def preview(books: Books, request: GiveUpRequest) -> Debt:
    """The debt that would be given up. Raises NotFound, and NotPossible where nothing is owed."""
    job = read_job_to_act(books, request.job)
    debt = read_debt(books, job, is_tax_claimed=claims_bad_debt_tax(books, job.id))
    if debt.charge_cents + debt.tax_cents <= 0:
        raise NotPossible(f"Nothing is owed on job {job.id}.", "There is nothing to give up.", "job")
    if basis_of_job(books, job.id) == "payment":
        # Tax that was reported with a deposit was paid by the customer, and is no part of the debt's.
        return replace(debt, claimed_cents=min(debt.claimed_cents, read_unreported_tax(books, job.id)))
    return debt


def perform(books: Books, request: GiveUpRequest) -> tuple[Job, Sealed]:
    """The job as it stands after, and the entry. Raises as `preview` does."""
    return perform_and_tell(books, request)[:2]


def perform_and_tell(books: Books, request: GiveUpRequest) -> tuple[Job, Sealed, Debt]:
    """The same, with what was given up."""
    why = read_text(request.why, "why", limit=300)
    with books.writing() as write:
        debt = preview(books, request)
        sealed = seal(books, write, settle_write_off(debt, read_accounts(books), why, books.today))
        owe(books, write, sealed.number, debt.job, Owed(-debt.charge_cents, -debt.tax_cents))
        return read_job(books, debt.job), sealed, debt
