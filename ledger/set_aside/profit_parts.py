"""A tax year's net profit on the cash method, opened: income, the bridge from the books, and each expense."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import read_accounts
from ledger.books.before_books import STOOD_BEFORE, YearBefore, read_year_before
from ledger.books.books import Books
from ledger.results.period import read_statement
from ledger.results.statement import CashBridge
from ledger.set_aside.account_parts import account_id, account_parts, entry_part
from ledger.set_aside.part import Part


def profit_parts(books: Books, start: date, end: date) -> Iterator[Part]:
    """The parts of a year's net profit, what was before the books among them; expenses stand below zero."""
    accounts, found = read_accounts(books), read_statement(books, start, end)
    before = read_year_before(books, start.year)
    if before.income or before.expenses:
        yield Part("Before these books, as you told it", before.net_cents, opens=partial(_before, before))
    for line in found.income:
        if line.cents:
            yield Part(line.account.name, line.cents, opens=_opened(books, accounts, line.account, start, end))
    yield from _bridge(books, found.bridge, start, end)
    for line in found.expenses:
        yield Part(line.account.name, -line.cents, opens=_opened(books, accounts, line.account, start, end))


def _before(before: YearBefore) -> Iterator[Part]:
    for sign, figures in ((1, before.income), (-1, before.expenses)):
        yield from (Part(each.account.name, sign * each.cents) for each in figures if each.account is not None)


def _opened(books: Books, accounts: Accounts, account: Account, start: date, end: date) -> partial[tuple[Part, ...]]:
    """Its own entries, and those of the categories that were merged into it. Both kinds stand credit positive."""
    merged = tuple(each.id for each in accounts.all if accounts.counted_under(each) == account)
    return partial(account_parts, books, merged, start, end, sign=-1)


def _bridge(books: Books, bridge: CashBridge, start: date, end: date) -> Iterator[Part]:
    """What the cash method counts on another day than the books do."""
    held = bridge.deposits_received_cents - bridge.deposits_used_cents
    certificates = bridge.certificates_sold_cents - bridge.certificates_used_cents
    owed = bridge.owed_before_cents - bridge.owed_after_cents
    for words, cents, role in (
        ("Deposits received, less used", held, "customer_deposits"),
        ("Gift certificates sold, less used", certificates, "gift_certificates"),
    ):
        if cents:
            account = (account_id(books, role),)
            yield Part(words, cents, opens=partial(account_parts, books, account, start, end, sign=-1, flows_only=True))
    if owed:
        words = "Owed by customers before, less owed at the end"
        yield Part(words, owed, opens=partial(_owed_charges, books, start, end))


def _owed_charges(books: Books, start: date, end: date) -> Iterator[Part]:
    """What each entry added to what customers owe without its tax, below zero, or took off it."""
    rows = books.rows(
        "select entry.number, entry.date, entry.text, sum(charge) as cents from owed_part "
        f"join entry on entry.number = owed_part.entry where date between ? and ? and not {STOOD_BEFORE} "
        "group by entry.number having sum(charge) <> 0 order by entry.number",
        (start.isoformat(), end.isoformat()),
    )
    return (entry_part(row, -1) for row in rows)
