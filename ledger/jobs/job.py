"""What a job is: the piece, its lines at the prices quoted, its status, what is held for it and owed on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from ledger.jobs.customers import Customer
from ledger.jobs.pricing import PricedLine, Pricing, Size
from ledger.money import round_half_up
from ledger.taxes.sales_tax import Charge

STATUSES = ("asked", "booked", "in-hand", "ready", "gone", "called-off")
# Undoing a pickup brings the piece back to what it was just before: ready, or in hand.
_STATUS_AFTER = {
    "asked": "asked",
    "booked": "booked",
    "in": "in-hand",
    "ready": "ready",
    "picked up": "gone",
    "back": "booked",
    "called off": "called-off",
}


@dataclass(frozen=True)
class NewJob:
    """What a job is when it is taken in. rush_percent and minimum_cents concern the whole job."""

    customer: Customer
    piece: str
    size: Size
    value_cents: int
    lines: tuple[PricedLine, ...]
    promised: date | None = None
    rush_percent: Decimal = Decimal(0)
    minimum_cents: int = 0


@dataclass(frozen=True)
class JobLine:
    """A line as it was quoted. quantity is exact. cents: before minimum and rush of the whole job."""

    id: int
    name: str
    quantity: Fraction
    unit: str
    rate: Decimal
    cents: int
    class_name: str
    includes_tax: bool

    @property
    def shown_quantity(self) -> Decimal:
        """The quantity to four decimals, to be read; amounts come from the exact one."""
        return Decimal(round_half_up(self.quantity * 10_000)) / 10_000


@dataclass(frozen=True)
class Job:
    """A job as it stands. deposit_cents: held for it now. owed_cents: what its customer still owes on it."""

    id: int
    customer: Customer
    piece: str
    size: Size
    value_cents: int
    promised: date | None
    taken_on: date
    status: str
    lines: tuple[JobLine, ...]
    pricing: Pricing
    rush_percent: Decimal
    deposit_cents: int
    owed_cents: int
    sale: int | None

    @property
    def charges(self) -> tuple[Charge, ...]:
        return self.pricing.charges


def status_after(events: Sequence[str]) -> str:
    """The status that a run of events leaves a job in; undoing a pickup gives the status before it back."""
    statuses: list[str] = []
    for what in events:
        if what == "pickup undone":
            statuses.pop()
        else:
            statuses.append(_STATUS_AFTER[what])
    return statuses[-1]
