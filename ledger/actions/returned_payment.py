"""A check comes back, or a card payment is charged back: the payment alone is undone, and the job owes again."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, seal
from ledger.jobs.after_sale import read_payment_to_undo
from ledger.jobs.job import Job
from ledger.jobs.owed import Owed, owe
from ledger.jobs.records import read_job, read_job_to_act
from ledger.jobs.returned import PaidBefore, Returned, ReturnedFacts, ReturnedRequest, settle
from ledger.taxes.certificates import newest_certificate
from ledger.taxes.rules import known_class, rules_on


def preview(books: Books, request: ReturnedRequest) -> Returned:
    """What would be undone and charged. Raises NotFound, NotPossible."""
    return settle(_facts(books, request), _known(books, request), books.today)


@dataclass(frozen=True)
class CameBack:
    """job: as it stands after. entry undoes the payment, charge_entry charges the customer where she is charged."""

    job: Job
    paid: PaidBefore
    returned: Returned
    entry: Sealed
    charge_entry: Sealed | None


def perform(books: Books, request: ReturnedRequest) -> tuple[Job, Sealed]:
    """The job as it stands after, and the entry that undoes the payment. Raises as `preview` does."""
    done = perform_and_tell(books, request)
    return done.job, done.entry


def perform_and_tell(books: Books, request: ReturnedRequest) -> CameBack:
    """Raises as `preview` does."""
    with books.writing() as write:
        facts = _facts(books, request)
        returned = settle(facts, _known(books, request), books.today)
        sealed, charged = seal(books, write, returned.draft), None
        write.add("returned_payment", entry=sealed.number, payment=facts.paid.payment)
        charge = min(facts.paid.charge_cents, facts.paid.owed_cents)
        owe(books, write, sealed.number, facts.job, Owed(charge, facts.paid.owed_cents - charge))
        if returned.charge is not None and returned.charge_tax is not None:
            charged = seal(books, write, returned.charge)
            base, tax = returned.charge_tax.base_cents, returned.charge_tax.tax_cents
            owe(books, write, charged.number, facts.job, Owed(base, tax))
        return CameBack(read_job(books, facts.job), facts.paid, returned, sealed, charged)


def _known(books: Books, request: ReturnedRequest) -> ReturnedRequest:
    """The request with the class of the charge as the books spell it."""
    return replace(request, charge_class=known_class(books, request.charge_class))


def _facts(books: Books, request: ReturnedRequest) -> ReturnedFacts:
    job = read_job_to_act(books, request.job)
    certificate = newest_certificate(books, job.customer.party.id)
    is_exempt = certificate is not None and certificate.is_valid(books.today)
    return ReturnedFacts(
        paid=read_payment_to_undo(books, job, request.how, request.number),
        job=job.id,
        piece=job.piece,
        party=job.customer.party.id,
        accounts=read_accounts(books),
        rules=rules_on(books, books.today),
        certificate=certificate.id if certificate is not None and is_exempt else None,
    )
