"""Sell a gift certificate: money in, no tax and no income yet, a number that no slip of the pen mistakes."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, seal
from ledger.books.parties import ensure_party
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.jobs.gift_certificates import new_certificate
from ledger.jobs.payments import How, Payment, money_in


@dataclass(frozen=True)
class GiftRequest:
    """who: whom it is sold to, where that is said. fee_cents: what the card company keeps."""

    cents: int
    how: How
    who: str | None = None
    fee_cents: int = 0
    number: str | None = None


def preview(books: Books, request: GiftRequest) -> Draft:
    """What selling it would book. Raises NotPossible."""
    if request.fee_cents and (request.how != "card" or request.fee_cents > request.cents):
        raise NotPossible(
            "The fee does not fit the payment.", "Give a fee only with a card, at most its amount.", "fee"
        )
    accounts = read_accounts(books)
    payment = Payment(request.how, request.cents, request.fee_cents, request.number)
    lines = postings(
        *((each.account, each.cents) for each in money_in(accounts, [payment])),
        (accounts["gift_certificates"], -request.cents),
    )
    return Draft(on=books.today, kind="gift", text="Gift certificate sold", postings=lines)


def perform(books: Books, request: GiftRequest) -> tuple[Sealed, str]:
    """The entry and the certificate's code. Raises as `preview` does, and NotUnderstood for a name that is none."""
    with books.writing() as write:
        draft = preview(books, request)
        party = ensure_party(books, write, request.who) if request.who is not None else None
        sealed = seal(books, write, draft.by(party) if party is not None else draft)
        _keep_payment(write, sealed, request)
        return sealed, new_certificate(books, write, sealed.number, request.cents, party)


def _keep_payment(write: Writing, sealed: Sealed, request: GiftRequest) -> None:
    write.add(
        "payment",
        entry=sealed.number,
        job=None,
        how=request.how,
        cents=request.cents,
        fee=request.fee_cents,
        reference=request.number,
    )
