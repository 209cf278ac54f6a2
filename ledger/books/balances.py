"""Accounts in the books, and their balances from month totals and the running month's postings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account, Accounts, NewAccount
from ledger.books.books import Books, Row
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
    """Every account under the name it has now."""
    rows = books.rows(
        "select account.*, change.id as changed, change.name as name_now, retired_on, merged_into, line_key "
        "from account left join account_change as change "
        "on change.id = (select max(id) from account_change where account = account.id) order by account.id"
    )
    return Accounts(map(_account_from_row, rows))


def _account_from_row(row: Row) -> Account:
    return Account(
        id=row["id"],
        name=row["name"] if row["changed"] is None else row["name_now"],
        role=row["role"],
        purse=row["purse"],
        kind=row["kind"],
        crosses=bool(row["crosses"]),
        retired_on=date.fromisoformat(row["retired_on"]) if row["retired_on"] else None,
        merged_into=row["merged_into"],
        line_key=row["line_key"],
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
# Whole months from the running sums, the month of the day from its own postings.
_BY_MONTH = """
    select month, account, cents from month_total where month >= ?3 and month < ?1
    union all
    select ?1, posting.account, sum(posting.cents) from entry
    join posting on posting.entry = entry.number
    where entry.date >= ?1 || '-01' and entry.date <= ?2 group by posting.account
"""
# The balance of one account, without reading the names of the others.
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


def movements_by_month(books: Books, on: date, first: date = date.min) -> dict[date, dict[int, int]]:
    """What each account moved by in each month from that of `first` to the end of a day, by the month's first day.

    In cents by account id; a month in which nothing moved is not there.
    """
    by_month: dict[date, dict[int, int]] = {}
    for month, account, cents in books.rows(_BY_MONTH, (on.isoformat()[:7], on.isoformat(), first.isoformat()[:7])):
        by_month.setdefault(date.fromisoformat(f"{month}-01"), {})[account] = cents
    return by_month
