"""A payout of the card company: it covers the payments of some days, and what it is short of them is its fee."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, seal
from ledger.errors import NotPossible
from ledger.jobs.payouts import CardMoney, card_money
from ledger.money import plain_amount


@dataclass(frozen=True)
class PayoutRequest:
    """cents: what came into checking. through: the last day of the payments that it covers; None is every one."""

    cents: int
    through: date | None = None


@dataclass(frozen=True)
class Payout:
    """expected_cents: what the covered payments come to. fee_cents: by how much the payout is short of them."""

    covered: tuple[CardMoney, ...]
    expected_cents: int
    fee_cents: int
    draft: Draft


def preview(books: Books, request: PayoutRequest) -> Payout:
    """What a payout would cover. Raises NotPossible where nothing is on its way, or less than came."""
    covered = card_money(books, request.through or books.today)
    expected = sum(each.cents for each in covered)
    if request.cents > expected:
        raise NotPossible(
            f"The card payments that are not paid out yet come to {plain_amount(expected, books.currency)}.",
            "Check the amount and the days; money of another kind is no payout.",
            "amount",
        )
    accounts = read_accounts(books)
    fee = expected - request.cents
    lines = postings(
        (accounts["checking"], request.cents),
        (accounts["card_fees"], fee),
        (accounts["card_settlements"], -expected),
    )
    draft = Draft(on=books.today, kind="payout", text=f"Card payout of {len(covered)} payments", postings=lines)
    return Payout(covered, expected, fee, draft)


def perform(books: Books, request: PayoutRequest) -> tuple[Payout, Sealed]:
    """Raises as `preview` does."""
    with books.writing() as write:
        payout = preview(books, request)
        sealed = seal(books, write, payout.draft)
        for each in payout.covered:
            write.add("payout_line", entry=sealed.number, payment=each.payment, cents=each.cents)
    return payout, sealed
