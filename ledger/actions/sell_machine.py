"""Sell a machine: what comes back for it. Its gain or loss is the accountant's, and what is left of a loan stays."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft
from ledger.books.entries import Sealed, check_date, seal
from ledger.machine.cost_entry import settle_sold
from ledger.machine.record import add_cost, machine_named


@dataclass(frozen=True)
class SellRequest:
    """cents: what it brought. into: the account that the money came into, by name. machine: None is the first."""

    cents: int
    into: str = "checking"
    machine: str | None = None


def preview(books: Books, request: SellRequest) -> Draft:
    """What a sale would book. Raises NotFound, NotPossible."""
    accounts = read_accounts(books)
    machine = machine_named(books, request.machine)
    return settle_sold(machine.name, request.cents, accounts.named(request.into, "to"), accounts, books.today)


def perform(books: Books, request: SellRequest) -> Sealed:
    """Raises as `preview` does."""
    with books.writing() as write:
        check_date(books, books.today)
        sealed = seal(books, write, preview(books, request))
        machine = machine_named(books, request.machine)
        words = f"Sold: {machine.name}"
        add_cost(books, write, words, -request.cents, books.today, sealed.number, kind="resale", machine=machine.id)
        return sealed
