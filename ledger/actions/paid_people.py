"""Somebody is paid for work on the pieces, and which tax form she has of them."""

from __future__ import annotations

from dataclasses import dataclass

from checklists.values import read_open_text
from ledger.actions import spend
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.entries import Sealed
from ledger.books.parties import Party, party_named
from ledger.spending.information_returns import keep_tax_form
from ledger.spending.spend import Spent


@dataclass(frozen=True)
class WorkPaidRequest:
    """cents: what was paid for the work. paid_from: an account by name, of either purse."""

    name: str
    cents: int
    paid_from: str = "checking"
    why: str | None = None


@dataclass(frozen=True)
class TaxFormRequest:
    """form: such as W-9. No number of a person is kept, only that the form is there."""

    name: str
    form: str


def preview(books: Books, request: WorkPaidRequest) -> Spent:
    """What it would book. Raises as `spend` does."""
    return spend.preview(books, _receipt(books, request))


def perform(books: Books, request: WorkPaidRequest) -> tuple[Spent, Sealed]:
    """Raises as `spend` does."""
    return spend.perform(books, _receipt(books, request))


def keep_form(books: Books, request: TaxFormRequest) -> Party:
    """Raises NotFound for the name, NotUnderstood for a form that says nothing, or holds a Social Security number."""
    party = party_named(books, request.name)
    form = read_open_text(request.form, "form")
    with books.writing() as write:
        keep_tax_form(books, write, party.id, form)
    return party


def _receipt(books: Books, request: WorkPaidRequest) -> spend.SpendRequest:
    category = read_accounts(books)["paid_helpers"].name
    return spend.SpendRequest(request.cents, category, request.paid_from, request.name, why=request.why)
