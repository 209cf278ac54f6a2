"""What a machine cost, in two figures that are never mixed.

*Payback cost* is all that was paid for it: price, freight, table, tax, attachments, training, upgrades and the interest
on its loan, also from before the books began, less trade-in and resale. *Tax basis* is a memo for the accountant:
price, freight, table, tax, attachments and upgrades, neither interest nor training. What was hers first counts at the
lesser of its cost and its worth on the day on which it went into business use (IRS Publication 551, from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

Kind = Literal[
    "price", "freight", "table", "sales tax", "use tax", "attachments", "training", "upgrade", "trade-in", "resale"
]
KINDS: tuple[Kind, ...] = get_args(Kind)
# What comes back for a machine: it lowers the payback cost, and its gain or loss is the accountant's.
COMES_BACK: tuple[Kind, ...] = ("trade-in", "resale")
# What is paid for the machine and is an expense of its own in the books.
EXPENSED: tuple[Kind, ...] = ("training",)
FIRST_MACHINE = "Machine"


@dataclass(frozen=True)
class Machine:
    """id: None for the first, which is there from the beginning."""

    id: int | None
    name: str


@dataclass(frozen=True)
class Part:
    """A part of the cost. cents: what it adds to the payback cost, below zero for what came back. entry: None for a
    figure from before the books. placed_on: the day on which it was placed in service."""

    id: int
    machine: int | None
    kind: Kind
    what: str
    cents: int
    basis_cents: int
    day: date
    placed_on: date
    entry: int | None


@dataclass(frozen=True)
class Cost:
    """The two figures of a machine, in cents. interest_cents is part of the payback cost."""

    machine: Machine
    parts: tuple[Part, ...]
    interest_cents: int

    @property
    def payback_cents(self) -> int:
        return sum(each.cents for each in self.parts) + self.interest_cents

    @property
    def basis_cents(self) -> int:
        return sum(each.basis_cents for each in self.parts)

    @property
    def came_back_cents(self) -> int:
        """What was had for it, by trade-in or resale."""
        return -sum(each.cents for each in self.parts if each.kind in COMES_BACK)

    @property
    def placed_on(self) -> date | None:
        """The day on which its price was placed in service."""
        return next((each.placed_on for each in self.parts if each.kind == "price"), None)


def basis_of(kind: Kind, cents: int, worth_cents: int | None = None) -> int:
    """What of a part counts for the tax basis. worth_cents: on the day of business use, where it was hers first."""
    if kind in EXPENSED or kind in COMES_BACK:
        return 0
    return cents if worth_cents is None else min(cents, worth_cents)


def cost_of(machine: Machine, parts: Iterable[Part], interest_cents: int) -> Cost:
    """The parts of one machine, in the order of their days."""
    own = sorted((each for each in parts if each.machine == machine.id), key=lambda each: each.day)
    return Cost(machine, tuple(own), interest_cents)
