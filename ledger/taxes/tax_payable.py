"""Sales and use tax as the returns have it, to be held against what stands on the accounts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from ledger.books.balances import balance
from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.taxes.returns import ReturnsBook
from ledger.taxes.taxed_entries import read_charged_tax


@dataclass(frozen=True)
class TaxPayable:
    """At the end of a day, in cents. unfiled: sales and use tax of returns not filed yet. unreported: tax of sales that
    go by payment and are not paid. filed: of filed returns, less what was paid; below zero where there is a credit."""

    unfiled_cents: int
    unreported_cents: int
    filed_cents: int

    @property
    def cents(self) -> int:
        """What sales tax payable and use tax payable should hold together."""
        return self.unfiled_cents + self.unreported_cents + self.filed_cents


def unfiled_and_unpaid(books: Books, on: date) -> TaxPayable:
    """What returns not filed, and returns not paid, come to at the end of a day."""
    then = replace(books, clock=Clock(on, books.clock.now))
    book = ReturnsBook(then)
    unfiled = sum(each.reported.tax_cents for at, each in book.placed if book.is_open(at))
    unfiled += sum(each.cents for at, each in book.use_tax_placed if book.is_open(at))
    filed = sum(each.owed_cents - each.paid_cents - each.allowance_kept_cents for each in book.filed)
    unreported = read_charged_tax(then) - sum(each.reported.tax_cents for _, each in book.placed)
    return TaxPayable(unfiled, unreported, filed)


def unfiled_and_unpaid_cents(books: Books, on: date) -> int:
    """What sales tax payable and use tax payable should hold together at the end of a day, by the returns."""
    return unfiled_and_unpaid(books, on).cents


def tax_payable_off_cents(books: Books, on: date) -> int:
    """By how much the accounts for sales and use tax differ from the returns at the end of a day; zero: they agree.

    The check of a quarter: tax payable equals the worksheets not filed, and what is not paid of those that were.
    """
    standing = -balance(books, "sales_tax_payable", on) - balance(books, "use_tax_payable", on)
    return standing - unfiled_and_unpaid_cents(books, on)
