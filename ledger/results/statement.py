"""What a period earned: income accounts, expense categories, and the bridge from the books to the cash method.

Cash method: income counts when it is received, advance payments included (IRS Publication 538, "Cash Method"; from
memory). The books count a job on the day of pickup, so deposits, gift certificates and what customers owe make the
difference. Over the life of a job both add to the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ledger.books.accounts import Account


@dataclass(frozen=True)
class CashBridge:
    """From the books to the cash method, in cents; owed without its tax."""

    books_cents: int
    deposits_received_cents: int
    deposits_used_cents: int
    certificates_sold_cents: int
    certificates_used_cents: int
    owed_before_cents: int
    owed_after_cents: int

    @property
    def cash_cents(self) -> int:
        held = self.deposits_received_cents - self.deposits_used_cents
        certificates = self.certificates_sold_cents - self.certificates_used_cents
        return self.books_cents + held + certificates + self.owed_before_cents - self.owed_after_cents


@dataclass(frozen=True)
class Line:
    """What an account came to in a period, in cents; income and expense are both above zero where they are usual."""

    account: Account
    cents: int


@dataclass(frozen=True)
class Statement:
    income: tuple[Line, ...]
    expenses: tuple[Line, ...]
    bridge: CashBridge

    @property
    def expenses_cents(self) -> int:
        return sum(each.cents for each in self.expenses)

    def income_cents(self, *, accrual: bool = False) -> int:
        """Income on the cash method, or as the books have it."""
        return self.bridge.books_cents if accrual else self.bridge.cash_cents

    def net_cents(self, *, accrual: bool = False) -> int:
        return self.income_cents(accrual=accrual) - self.expenses_cents


def statement(
    moved: Sequence[tuple[Account, int]],
    deposits: tuple[int, int],
    certificates: tuple[int, int],
    owed_charge: tuple[int, int],
) -> Statement:
    """The statement of a period.

    moved: every business account with what it moved by, debit positive. deposits and certificates: received and used.
    owed_charge: what customers owed before the period and at its end, without tax. All in cents.
    """
    income = tuple(Line(account, -cents) for account, cents in moved if account.kind == "income")
    expenses = tuple(Line(account, cents) for account, cents in moved if account.kind == "expense")
    bridge = CashBridge(sum(each.cents for each in income), *deposits, *certificates, *owed_charge)
    return Statement(income, tuple(each for each in expenses if each.cents), bridge)
