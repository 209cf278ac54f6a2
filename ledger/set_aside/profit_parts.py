"""A tax year's net profit on the cash method, opened: income, the bridge from the books, and each expense."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.results.period import read_statement
from ledger.results.statement import CashBridge
from ledger.set_aside.account_parts import account_parts
from ledger.set_aside.part import Part


def profit_parts(books: Books, start: date, end: date) -> Iterator[Part]:
    """The parts of a period's net profit; those that are expenses stand below zero."""
    accounts, found = read_accounts(books), read_statement(books, start, end)
    for line in found.income:
        if line.cents:
            yield Part(line.account.name, line.cents, opens=_opened(books, accounts, line.account, start, end))
    yield from _bridge(found.bridge)
    for line in found.expenses:
        yield Part(line.account.name, -line.cents, opens=_opened(books, accounts, line.account, start, end))


def _opened(books: Books, accounts: Accounts, account: Account, start: date, end: date) -> partial[tuple[Part, ...]]:
    """Its own entries, and those of the categories that were merged into it. Both kinds stand credit positive."""
    merged = tuple(each.id for each in accounts.all if accounts.counted_under(each) == account)
    return partial(account_parts, books, merged, start, end, sign=-1)


def _bridge(bridge: CashBridge) -> Iterator[Part]:
    held = bridge.deposits_received_cents - bridge.deposits_used_cents
    certificates = bridge.certificates_sold_cents - bridge.certificates_used_cents
    owed = bridge.owed_before_cents - bridge.owed_after_cents
    for words, cents in (
        ("Deposits received, less used", held),
        ("Gift certificates sold, less used", certificates),
        ("Owed by customers before, less owed at the end", owed),
    ):
        if cents:
            yield Part(words, cents)
