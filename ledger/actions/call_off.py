"""Call a job off before pickup: its deposit goes back, is kept by the terms agreed, or becomes a gift certificate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ledger.actions.take_money import add_payments
from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, check_date, seal
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.gift_certificates import new_certificate
from ledger.jobs.job import Job
from ledger.jobs.payments import ACCOUNT_OF, How, Payment
from ledger.jobs.records import add_event, read_job, read_job_to_act
from ledger.money import plain_amount

Deposit = Literal["returned", "kept", "certificate"]
DEPOSITS: tuple[Deposit, ...] = ("returned", "kept", "certificate")
KEPT = "Whether a deposit may be kept, the terms agreed at intake and state law decide."
CALLED_OFF_FROM = ("asked", "booked", "in-hand", "ready")


@dataclass(frozen=True)
class CallOffRequest:
    """deposit: what becomes of it, needed where one is held. how: by which way it is handed back."""

    job: int
    deposit: Deposit | None = None
    how: How = "check"


@dataclass(frozen=True)
class CalledOff:
    """certificate: the code of the gift certificate that the deposit became, None where it did not."""

    job: Job
    entry: Sealed | None
    certificate: str | None


def preview(books: Books, request: CallOffRequest) -> Draft | None:
    """What calling off would book; None without a deposit. Raises NotFound, NotPossible, NotUnderstood."""
    return _draft(read_job_to_act(books, request.job), request, read_accounts(books), books)


def perform(books: Books, request: CallOffRequest) -> CalledOff:
    """Raises as `preview` does."""
    with books.writing() as write:
        check_date(books, books.today)
        job = read_job_to_act(books, request.job)
        draft = _draft(job, request, read_accounts(books), books)
        sealed = seal(books, write, draft) if draft is not None else None
        if sealed is not None and request.deposit == "returned":
            add_payments(write, sealed, job.id, [Payment(request.how, -job.deposit_cents)])
        code = None
        if sealed is not None and request.deposit == "certificate":
            code = new_certificate(books, write, sealed.number, job.deposit_cents, job.customer.party.id)
        add_event(books, write, job.id, "called off", sealed.number if sealed else None)
        return CalledOff(read_job(books, job.id), sealed, code)


def _draft(job: Job, request: CallOffRequest, accounts: Accounts, books: Books) -> Draft | None:
    if job.status not in CALLED_OFF_FROM:
        raise NotPossible(
            f"Job {job.id} is {job.status.replace('-', ' ')}.", "Only a job that is not picked up is called off.", "job"
        )
    if not job.deposit_cents:
        return None
    if request.deposit is None:
        raise NotUnderstood(
            f"A deposit of {plain_amount(job.deposit_cents, books.currency)} is held for job {job.id}.",
            "Say --deposit returned, kept or certificate.",
            "deposit",
        )
    to_account, text = _side(request, accounts)
    lines = postings((accounts["customer_deposits"], job.deposit_cents), (to_account, -job.deposit_cents))
    return Draft(
        on=books.today,
        kind="called off",
        text=f"{text}: {job.piece}"[:500],
        postings=lines,
        who=job.customer.party.id,
        job=job.id,
    )


def _side(request: CallOffRequest, accounts: Accounts) -> tuple[Account, str]:
    """Where the deposit goes, and the words for it."""
    if request.deposit == "returned":
        return accounts[ACCOUNT_OF[request.how]], "Called off, deposit returned"
    if request.deposit == "kept":
        return accounts["other_income"], "Called off, deposit kept"
    return accounts["gift_certificates"], "Called off, deposit into a gift certificate"
