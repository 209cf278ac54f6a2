"""Put the sales tax of a sale right, with the customer's money or without."""

from __future__ import annotations

from dataclasses import replace

from ledger.actions.take_money import add_payments
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, read_entry, seal
from ledger.errors import NotPossible
from ledger.jobs.after_sale import read_borne, read_standing_sale
from ledger.jobs.job import Job
from ledger.jobs.owed import Owed, owe
from ledger.jobs.payments import OWED, WAYS, Payment
from ledger.jobs.records import read_job, read_job_to_act
from ledger.jobs.retax import Retaxed, RetaxFacts, RetaxRequest, settle
from ledger.jobs.shipments import read_shipment
from ledger.jobs.standing_sale import StandingSale
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import rules_at
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
    if sale.written_off_cents:
        raise NotPossible(
            f"What was owed on job {job.id} was given up, and its tax with it.",
            "Undo that first with «twopurse reverse», then put the tax right.",
            "job",
        )
    facts = _facts(books, job, sale)
    return settle(facts, replace(request, why=read_text(request.why, "why", limit=300)), books.today)


def perform(books: Books, request: RetaxRequest) -> tuple[Job, Retaxed, Sealed]:
    """The job as it stands after. Raises as `preview` does."""
    with books.writing() as write:
        retaxed = preview(books, request)
        difference = retaxed.difference_cents
        sealed = seal(books, write, retaxed.draft)
        if request.borne in WAYS and difference:
            add_payments(write, sealed, request.job, [Payment(request.borne, difference)])
        owe(books, write, sealed.number, request.job, Owed(0, difference if request.borne == OWED else 0))
        return read_job(books, request.job), retaxed, sealed


def _facts(books: Books, job: Job, sale: StandingSale) -> RetaxFacts:
    """What held on the day of the sale, where the piece was taken or sent to."""
    sold_on = read_entry(books, sale.entry).on
    certificate = newest_certificate(books, job.customer.party.id, sold_on)
    is_exempt = certificate is not None and certificate.is_valid(sold_on)
    sending = read_shipment(books, job.id)
    return RetaxFacts(
        sale=sale,
        rules=rules_at(books, sold_on, sending.place if sending is not None else None),
        certificate=certificate.id if certificate is not None and is_exempt else None,
        borne_cents=read_borne(books, job),
        currency=books.currency,
        job=job.id,
        piece=job.piece,
        party=job.customer.party.id,
        accounts=read_accounts(books),
    )
