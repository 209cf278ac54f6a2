"""Stock that was bought without sales tax: what became of each purchase at its cost, and what is left of it.

Bought untaxed = left + sold + used up in the work + taken + what the shop took back, purchase by purchase, in cents.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, get_args

from ledger.books.accounts import Account
from ledger.errors import NotFound, NotPossible
from ledger.money import Currency, plain_amount
from ledger.text import name_key

How = Literal["sold", "work as resale", "work as use", "work unanswered", "own", "charity", "customer", "sample"]
HOWS: tuple[How, ...] = get_args(How)
# Taken for herself or given away: each is used, and never sold.
TAKEN: tuple[How, ...] = ("own", "charity", "customer", "sample")
WORK: tuple[How, ...] = ("work as resale", "work as use", "work unanswered")
_SEE = "See what there is with «twopurse tax stock list»; a receipt without sales tax is spent with --untaxed."


@dataclass(frozen=True)
class Bought:
    """A line of a receipt without sales tax that stands. cents: its cost, below zero where the shop took it back."""

    id: int
    entry: int
    on: date
    who: str | None
    category: Account
    cents: int


@dataclass(frozen=True)
class Gone:
    """What became of a part of a purchase, at cost; below zero where that was undone."""

    stock: int
    how: How
    cents: int


@dataclass(frozen=True)
class Lot:
    """One purchase in one category. gone: what became of it, by kind, in cents."""

    bought: Bought
    returned_cents: int = 0
    gone: Mapping[How, int] = field(default_factory=dict)

    @property
    def left_cents(self) -> int:
        return self.bought.cents - self.returned_cents - sum(self.gone.values())

    def cents_of(self, *hows: How) -> int:
        return sum(self.gone.get(how, 0) for how in hows)


@dataclass(frozen=True)
class Picked:
    """A part of a purchase, at cost."""

    lot: Lot
    cents: int


@dataclass(frozen=True)
class Wanted:
    """Which stock is meant: its cost, and by category or by the entry that bought it. what: said in words."""

    cents: int
    what: str
    category: Account | None = None
    purchase: int | None = None


def follow(bought: Sequence[Bought], gone: Sequence[Gone]) -> tuple[Lot, ...]:
    """Every purchase in the order of its day, with what became of it."""
    sums: dict[int, dict[How, int]] = {}
    for each in gone:
        of_lot = sums.setdefault(each.stock, {})
        of_lot[each.how] = of_lot.get(each.how, 0) + each.cents
    purchases = sorted((each for each in bought if each.cents > 0), key=lambda each: (each.on, each.id))
    lots = {each.id: Lot(each, 0, sums.get(each.id, {})) for each in purchases}
    for back in sorted((each for each in bought if each.cents < 0), key=lambda each: (each.on, each.id)):
        _give_back(lots, back)
    return tuple(lots.values())


def _give_back(lots: dict[int, Lot], back: Bought) -> None:
    """What a shop took back comes off its own newest purchase of that category first, then off those of others."""
    rest = -back.cents
    same = [each for each in lots.values() if each.bought.category == back.category]
    for lot in sorted(
        same, key=lambda each: (each.bought.who == back.who, each.bought.on, each.bought.id), reverse=True
    ):
        part = min(rest, max(0, lot.left_cents))
        lots[lot.bought.id] = Lot(lot.bought, lot.returned_cents + part, lot.gone)
        rest -= part


def pick(lots: Sequence[Lot], wanted: Wanted, currency: Currency) -> tuple[Picked, ...]:
    """The purchases that it comes off, the oldest first.

    Raises NotFound for an entry that bought nothing untaxed, NotPossible for more than is left, or where it could be
    of several categories.
    """
    if wanted.purchase is not None and all(each.bought.entry != wanted.purchase for each in lots):
        raise NotFound(f"Entry {wanted.purchase} bought no stock untaxed.", _SEE, "bought_in")
    meant = _meant([each for each in lots if each.left_cents > 0], wanted)
    left = sum(each.left_cents for each in meant)
    if left < wanted.cents:
        raise _too_much(meant, left, wanted, currency)
    parts, rest = [], wanted.cents
    for lot in meant:
        part = min(rest, lot.left_cents)
        parts += [Picked(lot, part)] if part else []
        rest -= part
    return tuple(parts)


def _meant(lots: Sequence[Lot], wanted: Wanted) -> Sequence[Lot]:
    """The purchases that can be meant: of the category, of the entry, or of the category that its words name."""
    if wanted.category is not None:
        lots = [each for each in lots if each.bought.category == wanted.category]
    if wanted.purchase is not None:
        lots = [each for each in lots if each.bought.entry == wanted.purchase]
    names = {each.bought.category.name for each in lots}
    if len(names) < 2 or sum(each.left_cents for each in lots) <= wanted.cents:
        return lots
    named = {name for name in names if name_key(name) in name_key(wanted.what)}
    if len(named) != 1:
        raise NotPossible(
            f"Stock bought untaxed is left of {' and '.join(sorted(names))}.", "Say which with --category.", "category"
        )
    return [each for each in lots if each.bought.category.name in named]


def _too_much(meant: Sequence[Lot], left: int, wanted: Wanted, currency: Currency) -> NotPossible:
    of = f" of {wanted.category.name}" if wanted.category is not None else ""
    if wanted.purchase is not None:
        of += f" from entry {wanted.purchase}"
    if not meant:
        return NotPossible(f"Nothing{of} that was bought untaxed is left.", _SEE, "amount")
    return NotPossible(
        f"Only {plain_amount(left, currency)}{of} that was bought untaxed is left, at cost.", _SEE, "amount"
    )
