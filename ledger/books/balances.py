"""Accounts in the books, and their balances from month totals and the running month's postings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account, Accounts, NewAccount
from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.text import name_key


@dataclass(frozen=True)
class Balance:
    """debit positive, in cents, at the end of a day."""

    account: Account
    cents: int


def add_accounts(write: Writing, accounts: Iterable[NewAccount]) -> None:
    for each in accounts:
        write.add(
            "account",
            name=each.name,
            name_key=name_key(each.name),
            role=each.role,
            purse=each.purse,
            kind=each.kind,
            crosses=int(each.crosses),
        )


def read_accounts(books: Books) -> Accounts:
    rows = books.rows("select id, name, role, purse, kind, crosses from account order by id")
    return Accounts(
        Account(row["id"], row["name"], row["role"], row["purse"], row["kind"], bool(row["crosses"])) for row in rows
    )


# The months before the one that holds the day, plus that month's own postings up to the day.
_BALANCES = """
    select account, sum(cents) from (
        select account, cents from month_total where month < ?1
        union all
        select posting.account, posting.cents from entry
        join posting on posting.entry = entry.number
        where entry.date >= ?1 || '-01' and entry.date <= ?2
    ) group by account
"""
# The same for one account, without reading the names of the others.
_BALANCE = """
    select coalesce(sum(cents), 0) from (
        select cents from month_total where account = ?3 and month < ?1
        union all
        select posting.cents from entry
        join posting on posting.entry = entry.number
        where entry.date >= ?1 || '-01' and entry.date <= ?2 and posting.account = ?3
    )
"""


def balances(books: Books, on: date, accounts: Accounts | None = None) -> tuple[Balance, ...]:
    """The balance of every account at the end of a day."""
    sums = dict(tuple(row) for row in books.rows(_BALANCES, (on.isoformat()[:7], on.isoformat())))
    return tuple(Balance(each, sums.get(each.id, 0)) for each in (accounts or read_accounts(books)).all)


def balance(books: Books, role: str, on: date) -> int:
    """The balance of one account, by its role, at the end of a day, in cents, debit positive."""
    found = books.row("select id from account where role = ?", (role,))
    assert found is not None, f"there is no account with the role {role}"
    return int(books.value(_BALANCE, (on.isoformat()[:7], on.isoformat(), found["id"])))


def movements(books: Books, start: date, end: date) -> dict[int, int]:
    """What each account moved by from one day to another, both included, in cents by account id."""
    before = date.fromordinal(start.toordinal() - 1)
    at_start = {each.account.id: each.cents for each in balances(books, before)}
    return {each.account.id: each.cents - at_start[each.account.id] for each in balances(books, end)}
