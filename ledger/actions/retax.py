"""Put the sales tax of a sale right, with the customer's money or without."""

from __future__ import annotations

from dataclasses import replace

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, read_entry, seal
from ledger.errors import NotPossible
from ledger.jobs.after_sale import read_standing_sale
from ledger.jobs.job import Job
from ledger.jobs.records import read_job, read_job_to_act
from ledger.jobs.retax import Retaxed, RetaxFacts, RetaxRequest, settle
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import rules_on
from ledger.text import read_text


def preview(books: Books, request: RetaxRequest) -> Retaxed:
    """What putting the tax right would book. Raises NotFound, NotPossible."""
    job = read_job_to_act(books, request.job)
    sale = read_standing_sale(books, job)
    if any(line.includes_tax for line in job.lines):
        raise NotPossible(
            "The prices of this job have their tax in them, so that the charge would change too.",
            "Refund the sale, and enter the job again.",
            "job",
        )
    sold_on = read_entry(books, sale.entry).on
    then = replace(books, clock=replace(books.clock, today=sold_on))
    certificate = newest_certificate(then, job.customer.party.id)
    facts = RetaxFacts(
        sale=sale,
        rules=rules_on(books, sold_on),
        is_exempt=certificate is not None and certificate.is_valid(sold_on),
        job=job.id,
        piece=job.piece,
        party=job.customer.party.id,
        accounts=read_accounts(books),
    )
    return settle(facts, replace(request, why=read_text(request.why, "why", limit=300)), books.today)


def perform(books: Books, request: RetaxRequest) -> tuple[Job, Retaxed, Sealed]:
    """The job as it stands after. Raises as `preview` does."""
    with books.writing() as write:
        retaxed = preview(books, request)
        sealed = seal(books, write, retaxed.draft)
        if request.borne == "owed" and retaxed.difference_cents:
            write.add("owed_part", entry=sealed.number, job=request.job, charge=0, tax=retaxed.difference_cents)
        return read_job(books, request.job), retaxed, sealed
