"""Pay her own income and self-employment tax: estimated tax, or what is due with a return."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft
from ledger.books.entries import Sealed, seal
from ledger.taxes.own_returns import keep_payment
from ledger.taxes.own_tax_entry import TaxFor, settle_payment, tax_for

USUAL_ACCOUNT = "tax savings"


@dataclass(frozen=True)
class EstimatedTaxRequest:
    """from_name: an account of either purse. tax_year, period: unless given, those that are due next. with_return: what
    was left to pay with the return, last year's unless a year is given."""

    cents: int
    from_name: str = USUAL_ACCOUNT
    tax_year: int | None = None
    period: int | None = None
    with_return: bool = False


@dataclass(frozen=True)
class SettledPayment:
    paid_for: TaxFor
    draft: Draft


def preview(books: Books, request: EstimatedTaxRequest) -> SettledPayment:
    """What would be booked. Raises NotFound for the account, NotPossible, NotUnderstood."""
    accounts = read_accounts(books)
    paid_for = tax_for(books.today, request.tax_year, request.period, with_return=request.with_return)
    paid_from = accounts.named(request.from_name, "from")
    return SettledPayment(paid_for, settle_payment(paid_from, request.cents, paid_for, accounts, books.today))


def perform(books: Books, request: EstimatedTaxRequest) -> tuple[SettledPayment, Sealed]:
    """Book a payment and mark it with its tax year and period. Raises as `preview` does."""
    with books.writing() as write:
        settled = preview(books, request)
        sealed = seal(books, write, settled.draft)
        keep_payment(write, sealed.number, settled.paid_for.tax_year, settled.paid_for.period, request.cents)
        return settled, sealed
