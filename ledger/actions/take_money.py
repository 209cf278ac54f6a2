"""Money for a job outside its pickup: a deposit before, or what was left owed after."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, seal
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.jobs.after_sale import read_given_up
from ledger.jobs.job import Job
from ledger.jobs.owed import Owed, owe, read_owed
from ledger.jobs.payments import How, Payment, money_in, split_payment
from ledger.jobs.records import read_job, read_job_to_act
from ledger.jobs.written_off import Debt, settle_recovery
from ledger.money import plain_amount

DEPOSIT_FROM = ("asked", "booked", "in-hand", "ready")


@dataclass(frozen=True)
class MoneyRequest:
    """cents: what came in; fee_cents: what the card company keeps of it."""

    job: int
    cents: int
    how: How
    fee_cents: int = 0
    number: str | None = None

    @property
    def payment(self) -> Payment:
        return Payment(self.how, self.cents, self.fee_cents, self.number)


def preview_deposit(books: Books, request: MoneyRequest) -> Draft:
    """What a deposit would book. Raises NotFound, NotPossible."""
    _check_fee(request)
    job = read_job_to_act(books, request.job)
    if job.status not in DEPOSIT_FROM:
        raise NotPossible(
            f"Job {job.id} is {job.status.replace('-', ' ')}.", "A deposit is taken before pickup.", "job"
        )
    return _draft(books, job, request, "deposit", "customer_deposits")


def take_deposit(books: Books, request: MoneyRequest) -> tuple[Job, Sealed]:
    """A deposit is held until pickup and carries no tax. Raises NotFound, NotPossible."""
    with books.writing() as write:
        sealed = _keep(books, write, request, preview_deposit(books, request))
        return read_job(books, request.job), sealed


def preview_balance(books: Books, request: MoneyRequest) -> Draft:
    """What money towards a debt would book, also after it was given up. Raises NotFound, NotPossible."""
    _check_fee(request)
    job = read_job_to_act(books, request.job)
    given_up = read_given_up(books, job)
    if not job.owed_cents and request.cents <= given_up.charge_cents + given_up.tax_cents:
        accounts = read_accounts(books)
        parts = split_payment(request.cents, given_up.charge_cents, given_up.tax_cents)
        return settle_recovery(given_up, accounts, money_in(accounts, [request.payment]), parts, books.today)
    if request.cents > job.owed_cents:
        raise _too_much(books, job, given_up)
    return _draft(books, job, request, "payment", "owed_by_customers")


def take_balance(books: Books, request: MoneyRequest) -> tuple[Job, Sealed]:
    """Money towards what a job still owes, spread over charge and tax. Raises NotFound, NotPossible.

    On a debt that was given up it is income after all, and its tax is due again where it was claimed.
    """
    with books.writing() as write:
        draft, owed = preview_balance(books, request), read_owed(books, request.job)
        sealed = _keep(books, write, request, draft)
        if draft.kind == "payment":
            charge, tax = split_payment(request.cents, owed.charge_cents, owed.tax_cents)
            owe(books, write, sealed.number, request.job, Owed(-charge, -tax))
        return read_job(books, request.job), sealed


def _too_much(books: Books, job: Job, given_up: Debt) -> NotPossible:
    can_be_paid = job.owed_cents or given_up.charge_cents + given_up.tax_cents
    owes = "owes" if job.owed_cents or not can_be_paid else "owed, before it was given up,"
    return NotPossible(
        f"Job {job.id} {owes} {plain_amount(can_be_paid, books.currency)}.",
        "Take that much or less." if can_be_paid else "There is nothing to pay on it.",
        "amount",
    )


def _draft(books: Books, job: Job, request: MoneyRequest, kind: str, role: str) -> Draft:
    accounts = read_accounts(books)
    lines = postings(
        *((each.account, each.cents) for each in money_in(accounts, [request.payment])),
        (accounts[role], -request.cents),
    )
    text = f"{kind.capitalize()}: {job.piece}"[:500]
    return Draft(on=books.today, kind=kind, text=text, postings=lines, who=job.customer.party.id, job=job.id)


def _keep(books: Books, write: Writing, request: MoneyRequest, draft: Draft) -> Sealed:
    sealed = seal(books, write, draft)
    add_payments(write, sealed, request.job, [request.payment])
    return sealed


def add_payments(write: Writing, sealed: Sealed, job: int, payments: list[Payment]) -> None:
    """Keep how money came in, beside the entry that books it."""
    for each in payments:
        write.add(
            "payment",
            entry=sealed.number,
            job=job,
            how=each.how,
            cents=each.cents,
            fee=each.fee_cents,
            reference=each.reference,
        )


def _check_fee(request: MoneyRequest) -> None:
    if request.fee_cents and (request.how != "card" or request.fee_cents > request.cents):
        raise NotPossible(
            "The fee does not fit the payment.", "Give a fee only with a card, at most its amount.", "fee"
        )
