"""The workshop's balance sheet and trial balance at the end of a day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from ledger.books.accounts import Account
from ledger.books.balances import Balance, balances, read_accounts
from ledger.books.books import Books


@dataclass(frozen=True)
class Standing:
    """An account and its balance in cents, above zero where it is usual for its side."""

    account: Account
    cents: int


@dataclass(frozen=True)
class BalanceSheet:
    """profit_cents: income less expenses since the books began, as the books count them."""

    assets: tuple[Standing, ...]
    liabilities: tuple[Standing, ...]
    equity: tuple[Standing, ...]
    profit_cents: int

    @property
    def assets_cents(self) -> int:
        return sum(each.cents for each in self.assets)

    @property
    def liabilities_cents(self) -> int:
        return sum(each.cents for each in self.liabilities)

    @property
    def equity_cents(self) -> int:
        return sum(each.cents for each in self.equity) + self.profit_cents

    @property
    def off_cents(self) -> int:
        """Assets less what stands against them: zero in sound books."""
        return self.assets_cents - self.liabilities_cents - self.equity_cents


def read_balance_sheet(books: Books, on: date) -> BalanceSheet:
    """The business purse at the end of a day."""
    return balance_sheet(read_trial_balance(books, on))


def read_trial_balance(books: Books, on: date) -> tuple[Balance, ...]:
    """Every account of the business purse, merged ones counted where they went; debit positive, adding to zero."""
    accounts = read_accounts(books)
    sums: dict[Account, int] = {}
    for each in balances(books, on, accounts):
        if each.account.purse == "business":
            counted = accounts.counted_under(each.account)
            sums[counted] = sums.get(counted, 0) + each.cents
    return tuple(Balance(account, cents) for account, cents in sums.items() if cents)


def balance_sheet(standing: Sequence[Balance]) -> BalanceSheet:
    """From balances, debit positive."""

    def of(kind: str, sign: int) -> tuple[Standing, ...]:
        return tuple(Standing(each.account, sign * each.cents) for each in standing if each.account.kind == kind)

    earned = sum(-each.cents for each in standing if each.account.kind in ("income", "expense"))
    return BalanceSheet(of("asset", 1), of("liability", -1), of("equity", -1), earned)
