"""A payout of the card company: it covers the payments of some days, and what it is short of them is its fee.

Where money went back by card and too little is on its way, the company takes it out of checking instead.
"""

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
    """cents: what came into checking. through: the last day of the payments that it covers; None is every one.

    is_taken: the company took that much out of checking, for money that went back by card.
    """

    cents: int
    through: date | None = None
    is_taken: bool = False

    @property
    def came_in_cents(self) -> int:
        """Below zero where it was taken."""
        return -self.cents if self.is_taken else self.cents


@dataclass(frozen=True)
class Payout:
    """expected_cents: what the covered payments come to. fee_cents: by how much the payout is short of them."""

    covered: tuple[CardMoney, ...]
    expected_cents: int
    fee_cents: int
    draft: Draft


def preview(books: Books, request: PayoutRequest) -> Payout:
    """What a payout would cover. Raises NotPossible where nothing is on its way, or less than came."""
    covered = card_money(books, min(request.through or books.today, books.today))
    expected = sum(each.cents for each in covered)
    if not covered:
        raise NotPossible(
            "No card payment of these days is on its way.",
            "A fee alone is entered with «twopurse spend», under card fees.",
            "amount",
        )
    if request.came_in_cents > expected or (request.is_taken and expected >= 0):
        raise _too_much(books, request, expected)
    accounts = read_accounts(books)
    fee = expected - request.came_in_cents
    lines = postings(
        (accounts["checking"], request.came_in_cents),
        (accounts["card_fees"], fee),
        (accounts["card_settlements"], -expected),
    )
    what = "Taken by the card company for" if request.is_taken else "Card payout of"
    text = f"{what} {len(covered)} payment{'s' if len(covered) > 1 else ''}"
    return Payout(covered, expected, fee, Draft(on=books.today, kind="payout", text=text, postings=lines))


def _too_much(books: Books, request: PayoutRequest, expected: int) -> NotPossible:
    shown = plain_amount(expected, books.currency)
    if request.is_taken:
        return NotPossible(
            f"The card payments that are not paid out yet come to {shown}; less than that is not taken for them.",
            "Check the amount and the days; a fee alone is entered with «twopurse spend», under card fees.",
            "amount",
        )
    return NotPossible(
        f"The card payments that are not paid out yet come to {shown}.",
        "Check the amount and the days; money of another kind is no payout.",
        "amount",
    )


def perform(books: Books, request: PayoutRequest) -> tuple[Payout, Sealed]:
    """Raises as `preview` does."""
    with books.writing() as write:
        payout = preview(books, request)
        sealed = seal(books, write, payout.draft)
        for each in payout.covered:
            write.add("payout_line", entry=sealed.number, payment=each.payment, cents=each.cents)
    return payout, sealed
