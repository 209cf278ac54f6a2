"""What of the sales and use tax accounts belongs to which filing period: money paid over clears the oldest first.

So the parts add up to the balance of the accounts, whatever was paid, in part or too much.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.periods import Period


@dataclass(frozen=True)
class Moved:
    """An entry on a tax account. cents: above zero where it put tax on it. is_sale: it has lines of tax of its own."""

    day: date
    cents: int
    is_sale: bool


def read_moved(books: Books, role: str, on: date) -> tuple[Moved, ...]:
    """What moved a tax account until the end of a day; a sale, a refund or use tax has lines, paying over has none."""
    rows = books.rows(
        "select entry.date, -sum(posting.cents) as cents, "
        "exists (select 1 from tax_line where tax_line.entry = entry.number) "
        "or exists (select 1 from use_tax_line where use_tax_line.entry = entry.number) as is_sale "
        "from posting join entry on entry.number = posting.entry join account on account.id = posting.account "
        "where account.role = ? and entry.date <= ? group by entry.number order by entry.number",
        (role, on.isoformat()),
    )
    return tuple(Moved(date.fromisoformat(row["date"]), row["cents"], bool(row["is_sale"])) for row in rows)


def left_by_period(moved: Iterable[Moved], periods: Sequence[Period]) -> tuple[int, ...]:
    """What of each period is still owed, in cents, none below zero. periods: in order and without gaps."""
    came_in = [0] * len(periods)
    paid = 0
    for each in moved:
        if each.is_sale or each.cents > 0:
            came_in[_place(periods, each.day)] += each.cents
        else:
            paid -= each.cents
    # A period that is below zero, by refunds of older sales, is carried on to the next, as a payment would be.
    left = []
    for cents in came_in:
        taken = min(cents, paid)
        paid -= taken
        left.append(cents - taken)
    return tuple(left)


def _place(periods: Sequence[Period], day: date) -> int:
    """Which period a day lies in; what lies outside of them all goes to the nearest."""
    for place, period in enumerate(periods):
        if day <= period.end:
            return place
    return len(periods) - 1
