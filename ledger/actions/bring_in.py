"""Bring in what she bought before the business began: it enters at the lesser of its cost and its worth on that day.

The machine's payback cost stays what was paid for it, a figure. The lesser of cost and worth: IRS Publication 551, on
property changed from personal to business use (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import Sealed, seal
from ledger.machine.record import add_cost
from ledger.text import read_text


@dataclass(frozen=True)
class BringInRequest:
    """cost_cents: what was paid. worth_cents: what it is worth today. category: None for the machine itself."""

    what: str
    cost_cents: int
    worth_cents: int
    category: str | None = None


def preview(books: Books, request: BringInRequest) -> Draft:
    """What bringing it in would book. Raises NotFound for the category, NotUnderstood."""
    accounts = read_accounts(books)
    return settle(request, _account(books, accounts, request), accounts, books.today)


def settle(request: BringInRequest, account: Account, accounts: Accounts, today: date) -> Draft:
    """The lesser of cost and worth, as a contribution of the owner out of what the household had already."""
    cents = min(request.cost_cents, request.worth_cents)
    lines = postings(
        (account, cents),
        (accounts["owners_contributions"], -cents),
        (accounts["workshop_mirror"], cents),
        (accounts["household_opening_balance"], -cents),
    )
    text = f"Brought in: {read_text(request.what, 'what', limit=300)}"
    return Draft(on=today, kind="brought in", text=text, postings=lines)


def perform(books: Books, request: BringInRequest) -> Sealed:
    """Raises as `preview` does."""
    with books.writing() as write:
        sealed = seal(books, write, preview(books, request))
        if request.category is None:
            add_cost(
                books,
                write,
                request.what,
                request.cost_cents,
                books.today,
                sealed.number,
                worth_cents=request.worth_cents,
            )
        return sealed


def _account(books: Books, accounts: Accounts, request: BringInRequest) -> Account:
    return accounts["machine"] if request.category is None else accounts.category(request.category, day=books.today)
