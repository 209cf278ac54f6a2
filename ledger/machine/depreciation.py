"""The depreciation memo: what the published tables give for a cost, year by year. It is for the accountant alone.

Nothing of it is posted. Which class life a machine has, and whether it is expensed instead, the accountant decides. The
tables and the rule of the conventions: Publication 946 (ledger/figures/depreciation.toml keeps them with their source).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal, get_args

from ledger.errors import NotPossible
from ledger.money import percent_of, round_half_up

Convention = Literal["half-year", "mid-quarter"]
CONVENTIONS: tuple[Convention, ...] = get_args(Convention)
CLASSES = (5, 7)
_LAST_QUARTER_BEGINS = 10


@dataclass(frozen=True)
class Year:
    """What a tax year has of the basis: the published percent, and the amount in cents."""

    year: int
    percent: Decimal
    cents: int


@dataclass(frozen=True)
class Purchase:
    """What was placed in service on a day, by its basis in cents."""

    placed: date
    basis_cents: int


@dataclass(frozen=True)
class Basis:
    """What of a cost the table is applied to. All in cents; the parts add to the cost.

    private_cents: the share that is not the workshop's. expensed_cents: under section 179. bonus_cents: in the first
    year, of what is left then.
    """

    cost_cents: int
    private_cents: int
    expensed_cents: int
    bonus_cents: int

    @property
    def cents(self) -> int:
        return self.cost_cents - self.private_cents - self.expensed_cents - self.bonus_cents


def basis(cost_cents: int, business_percent: Decimal, expensed_cents: int, bonus_percent: Decimal) -> Basis:
    """Raises NotPossible where more is expensed than the workshop's share of the cost."""
    business = round_half_up(percent_of(cost_cents, business_percent))
    if expensed_cents > business:
        raise NotPossible(
            "More is expensed than the workshop's share of the cost.", "Give that share at most.", "section_179"
        )
    bonus = round_half_up(percent_of(business - expensed_cents, bonus_percent))
    return Basis(cost_cents, cost_cents - business, expensed_cents, bonus)


def late_percent(purchases: Iterable[Purchase]) -> Fraction:
    """What share of a year's basis was placed in service in its last three months, in percent."""
    every = list(purchases)
    whole = sum(each.basis_cents for each in every)
    late = sum(each.basis_cents for each in every if each.placed.month >= _LAST_QUARTER_BEGINS)
    return Fraction(100 * late, whole) if whole else Fraction(0)


def convention_of(purchases: Iterable[Purchase], above_percent: Decimal) -> Convention:
    """Mid-quarter where more than that share of the year's basis came in its last three months."""
    return "mid-quarter" if late_percent(purchases) > Fraction(above_percent) else "half-year"


def years_of(basis_cents: int, percents: Sequence[Decimal], placed: date) -> tuple[Year, ...]:
    """The amounts of a column of a published table, each rounded once; the last year has what is left of the basis."""
    years: list[Year] = []
    for at, percent in enumerate(percents):
        cents = round_half_up(percent_of(basis_cents, percent))
        if at == len(percents) - 1:
            cents = basis_cents - sum(each.cents for each in years)
        years.append(Year(placed.year + at, percent, cents))
    return tuple(years)


def whole_dollars(cents: int) -> int:
    """As the worksheet and the form have it."""
    return round_half_up(Fraction(cents, 100))
