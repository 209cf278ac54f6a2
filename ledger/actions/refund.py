"""Refund a sale, whole or in part, on its own day: nothing of the sale is changed."""

from __future__ import annotations

from typing import cast

from ledger.actions.take_money import add_payments
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed, seal
from ledger.jobs.after_sale import read_standing_sale
from ledger.jobs.owed import NOTHING, Owed, owe
from ledger.jobs.payments import OWED, How, Payment
from ledger.jobs.records import read_job_to_act
from ledger.jobs.refund import Refunded, RefundFacts, RefundRequest, settle


def preview(books: Books, request: RefundRequest) -> Refunded:
    """What a refund would give back. Raises NotFound, NotPossible."""
    job = read_job_to_act(books, request.job)
    facts = RefundFacts(
        sale=read_standing_sale(books, job),
        job=job.id,
        piece=job.piece,
        party=job.customer.party.id,
        accounts=read_accounts(books),
        currency=books.currency,
    )
    return settle(facts, request, books.today)


def perform(books: Books, request: RefundRequest) -> tuple[Refunded, int, Sealed]:
    """The refund, the entry of the sale that it concerns, and its own entry. Raises as `preview` does."""
    with books.writing() as write:
        refunded = preview(books, request)
        job = read_job_to_act(books, request.job)
        assert job.sale is not None, "a refund was worked out, so there is a sale"
        sealed = seal(books, write, refunded.draft)
        if request.how == OWED:
            owe(
                books,
                write,
                sealed.number,
                job.id,
                Owed(-refunded.charge_cents - refunded.tip_cents, -refunded.tax_cents),
            )
        else:
            add_payments(write, sealed, job.id, [Payment(cast("How", request.how), -refunded.cents)])
            owe(books, write, sealed.number, job.id, NOTHING)
    return refunded, job.sale, sealed
