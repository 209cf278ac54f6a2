"""Money that a customer pays towards several jobs at once: the oldest debt first, an entry a job."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.actions.take_money import MoneyRequest, take_balance
from ledger.books.books import Books
from ledger.books.entries import Sealed
from ledger.errors import NotPossible
from ledger.jobs.customers import customer_named
from ledger.jobs.debts import read_owed_jobs
from ledger.jobs.payments import How
from ledger.money import plain_amount, split_in_proportion


@dataclass(frozen=True)
class OwedMoneyRequest:
    """customer: by name. cents: all that came in; fee_cents: what the card company keeps of it."""

    customer: str
    cents: int
    how: How
    fee_cents: int = 0
    number: str | None = None


def shares(books: Books, request: OwedMoneyRequest) -> tuple[tuple[int, int], ...]:
    """Job and cents, the oldest debt first. Raises NotFound for a customer, NotPossible for more than is owed."""
    customer = customer_named(books, request.customer)
    owed = read_owed_jobs(books, customer.id)
    total = sum(each.cents for each in owed)
    if request.cents > total:
        raise NotPossible(
            f"{customer.name} owes {plain_amount(total, books.currency)} in all.",
            "Take that much or less." if total else "There is nothing to pay.",
            "amount",
        )
    left, parts = request.cents, []
    for each in owed:
        part = min(left, each.cents)
        if part > 0:
            parts.append((each.job, part))
            left -= part
    return tuple(parts)


def perform(books: Books, request: OwedMoneyRequest) -> tuple[tuple[int, Sealed], ...]:
    """Job and entry of each part, all of them or none. Raises as `shares` does."""
    with books.all_or_nothing() as together:
        parts = shares(together, request)
        fees = split_in_proportion(request.fee_cents, [cents for _, cents in parts])
        return tuple(
            (job, take_balance(together, MoneyRequest(job, cents, request.how, fee, request.number))[1])
            for (job, cents), fee in zip(parts, fees, strict=True)
        )
