"""Move money within a purse, draw from the workshop, put into it, and pay back what it owes to the owner."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from typing import Literal

from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft
from ledger.books.entries import Sealed, seal
from ledger.errors import NotPossible
from ledger.jobs.payouts import cover_oldest
from ledger.money import plain_amount
from ledger.spending.transfers import Transfer, settle_draw, settle_move, settle_pay_back, settle_put_in
from ledger.text import read_text

Act = Literal["move", "draw", "put-in", "pay-back"]


@dataclass(frozen=True)
class TransferRequest:
    """Accounts by name. cents: None pays back all that is owed to the owner."""

    act: Act
    cents: int | None
    from_name: str
    to_name: str
    why: str | None = None


def preview(books: Books, request: TransferRequest) -> Draft:
    """What a transfer would book. Raises NotFound for an account, NotPossible, NotUnderstood."""
    accounts = read_accounts(books)
    transfer = Transfer(
        cents=_cents(books, request),
        from_account=accounts.named(request.from_name, "from"),
        to_account=accounts.named(request.to_name, "to"),
        why=read_text(request.why, "why") if request.why is not None else None,
    )
    if request.act == "move":
        return settle_move(transfer, books.today)
    settle = {"draw": settle_draw, "put-in": settle_put_in, "pay-back": settle_pay_back}[request.act]
    return settle(transfer, accounts, books.today)


def perform(books: Books, request: TransferRequest) -> Sealed:
    """Book a transfer. Raises as `preview` does."""
    with books.writing() as write:
        draft = preview(books, request)
        sealed = seal(books, write, draft)
        from_card = -sum(each.cents for each in draft.postings if each.account.role == "card_settlements")
        if from_card > 0:
            cover_oldest(books, write, sealed.number, from_card)
        return sealed


def _cents(books: Books, request: TransferRequest) -> int:
    if request.act == "pay-back":
        return owed_back(books, request.cents)
    assert request.cents is not None, "only paying back has an amount of its own"
    return request.cents


def owed_back(books: Books, cents: int | None) -> int:
    """So much of what the workshop owes its owner, all of it where nothing is said. Raises NotPossible beyond that."""
    owed = _owed_to_owner(books)
    if owed <= 0 or (cents is not None and cents > owed):
        raise NotPossible(
            f"The workshop owes its owner {plain_amount(max(owed, 0), books.currency)}.",
            "Pay back that much or less; anything more is «twopurse draw»."
            if owed > 0
            else "There is nothing to pay back.",
            "amount",
        )
    return cents or owed


def _owed_to_owner(books: Books) -> int:
    """What can be paid back today: no more than is owed today, nor than is left on any later day that has entries."""
    later = books.rows(
        "select sum(-posting.cents) from posting join account on account.id = posting.account "
        "join entry on entry.number = posting.entry where account.role = 'owed_to_owner' and date > ? "
        "group by date order by date",
        (books.today.isoformat(),),
    )
    today = -balance(books, "owed_to_owner", books.today)
    return min(accumulate((int(row[0]) for row in later), initial=today))
