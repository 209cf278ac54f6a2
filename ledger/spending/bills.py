"""Shared bills: what of a bill is the workshop's, by a percent that holds from a day on, and when it comes again.

Two kinds. *Not of the home* (internet, mobile phone): the share is an expense of its category. *Of the home* (rent,
power, heat, water): the share is kept as home cost, which goes to the form's home line alone. Nothing books itself: a
bill that is due waits for its real amount.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from ledger.books.accounts import Account
from ledger.money import percent_of, round_half_up

Every = Literal["month", "quarter", "year"]
EVERY: tuple[Every, ...] = ("month", "quarter", "year")
_MONTHS = {"month": 1, "quarter": 3, "year": 12}


@dataclass(frozen=True)
class Share:
    """percent of the bill that is the workshop's, with the reason, from a day on."""

    percent: Decimal
    reason: str
    from_date: date


@dataclass(frozen=True)
class SharedBill:
    """category: where the share goes. every: how often it comes, None for one that comes as it likes."""

    id: int
    name: str
    category: Account
    of_the_home: bool
    every: Every | None
    since: date
    shares: tuple[Share, ...]
    last_paid: date | None = None

    def share_on(self, day: date) -> Share | None:
        """The share that holds on a day; of several from one day the last one made."""
        held = [each for each in self.shares if each.from_date <= day]
        return max(enumerate(held), key=lambda pair: (pair[1].from_date, pair[0]))[1] if held else None

    @property
    def next_due(self) -> date | None:
        """The day on which it comes again; None where it has no rhythm."""
        if self.every is None or self.last_paid is None:
            return None if self.every is None else self.since
        from dateutil.relativedelta import relativedelta  # 27 ms, only for a bill that was paid before

        return self.last_paid + relativedelta(months=_MONTHS[self.every])


def workshop_part(amount_cents: int, percent: Decimal) -> int:
    """The workshop's part of a bill in cents, rounded once; the household has the rest, so that they add up."""
    return round_half_up(percent_of(amount_cents, percent))
