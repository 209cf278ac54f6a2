"""Hand a deposit back that is held for a job, in whole or part, or turn it into a gift certificate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, cast

from ledger.actions.take_money import add_payments
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, seal
from ledger.errors import NotPossible
from ledger.jobs.gift_certificates import new_certificate
from ledger.jobs.job import Job
from ledger.jobs.owed import NOTHING, owe
from ledger.jobs.payments import ACCOUNT_OF, How, Payment
from ledger.jobs.records import read_job, read_job_to_act
from ledger.money import plain_amount

CERTIFICATE = "certificate"
BackAs = Literal["cash", "check", "card", "transfer", "certificate"]
BACK_AS: tuple[BackAs, ...] = ("cash", "check", "card", "transfer", "certificate")


@dataclass(frozen=True)
class HandBackRequest:
    """cents: how much of what is held; None is all of it. how: by which way it goes back."""

    job: int
    cents: int | None = None
    how: BackAs = "check"


@dataclass(frozen=True)
class HandedBack:
    """certificate: the code of the gift certificate that the deposit became, None where it did not."""

    job: Job
    cents: int
    entry: Sealed
    certificate: str | None


def preview(books: Books, request: HandBackRequest) -> Draft:
    """What handing it back would book. Raises NotFound, and NotPossible for more than is held."""
    job = read_job_to_act(books, request.job)
    cents = job.deposit_cents if request.cents is None else request.cents
    if cents > job.deposit_cents or cents <= 0:
        raise NotPossible(
            f"{plain_amount(job.deposit_cents, books.currency)} is held for job {job.id}.",
            "Hand back that much or less." if job.deposit_cents else "There is nothing to hand back.",
            "amount",
        )
    accounts = read_accounts(books)
    to_account = accounts["gift_certificates" if request.how == CERTIFICATE else ACCOUNT_OF[request.how]]
    what = "Deposit into a gift certificate" if request.how == CERTIFICATE else "Deposit handed back"
    return Draft(
        on=books.today,
        kind="deposit back",
        text=f"{what}: {job.piece}"[:500],
        postings=postings((accounts["customer_deposits"], cents), (to_account, -cents)),
        who=job.customer.party.id,
        job=job.id,
    )


def perform(books: Books, request: HandBackRequest) -> HandedBack:
    """Raises as `preview` does."""
    with books.writing() as write:
        draft = preview(books, request)
        sealed = seal(books, write, draft)
        cents, code = draft.postings[0].cents, None
        if request.how == CERTIFICATE:
            code = new_certificate(books, write, sealed.number, cents, draft.who)
        else:
            add_payments(write, sealed, request.job, [Payment(cast("How", request.how), -cents)])
        owe(books, write, sealed.number, request.job, NOTHING)
        return HandedBack(read_job(books, request.job), cents, sealed, code)
