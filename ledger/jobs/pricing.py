"""What a line of work measures and costs. Each line is rounded once.

Common practice, no source: area is width times length; binding is priced by the perimeter, batting and backing by the
longer side plus an allowance, because they must be at least 4 in larger on every side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from ledger.errors import NotPossible
from ledger.money import MAX_CENTS, Currency, cents_of, percent_of, round_half_up, split_in_proportion
from ledger.taxes.sales_tax import Charge

Measure = Literal["area", "length", "inch", "yard", "hour", "each", "flat"]
MEASURES: tuple[Measure, ...] = ("area", "length", "inch", "yard", "hour", "each", "flat")
BATTING_ALLOWANCE = {"in": Decimal(8), "cm": Decimal(20)}
_YARD = {"in": Fraction(36), "cm": Fraction("91.44")}


@dataclass(frozen=True)
class Price:
    """One line of the price list, from a day on. rate: for one unit. allowance: in the units of the books."""

    id: int
    name: str
    by: Measure
    rate: Decimal
    class_name: str
    minimum_cents: int
    allowance: Decimal
    kind: str | None
    includes_tax: bool
    from_date: date


@dataclass(frozen=True)
class Size:
    """Width and length of a piece, and the units both are in: "in" or "cm"."""

    width: Decimal
    length: Decimal
    units: str


@dataclass(frozen=True)
class PricedLine:
    """A line of a job at the price it was quoted. quantity is exact. cents: the amount, at least the line's minimum."""

    price: Price
    quantity: Fraction
    unit: str
    cents: int


@dataclass(frozen=True)
class Pricing:
    """What the lines of a job come to. charges: one for each line, with its share of minimum and rush, in cents."""

    charges: tuple[Charge, ...]
    top_up_cents: int
    rush_cents: int


def measured(price: Price, size: Size, given: Decimal | None = None) -> tuple[Fraction, str]:
    """Quantity and unit of a line: as given, or measured from the piece. Raises NotPossible for hours not given."""
    unit = {
        "area": f"sq {size.units}",
        "length": size.units,
        "inch": size.units,
        "yard": "yd",
        "hour": "hour",
        "each": "each",
        "flat": "flat",
    }[price.by]
    if given is not None:
        return Fraction(given), unit
    if price.by == "hour":
        raise NotPossible(f"«{price.name}» is priced by the hour.", f'Say how many: --line "{price.name}=1.5".', "line")
    longer = Fraction(max(size.width, size.length)) + Fraction(price.allowance)
    quantity = {
        "area": Fraction(size.width) * Fraction(size.length),
        "length": 2 * (Fraction(size.width) + Fraction(size.length)) + Fraction(price.allowance),
        "inch": longer,
        "yard": longer / _YARD[size.units],
    }.get(price.by, Fraction(1))
    return quantity, unit


def price_line(price: Price, size: Size, currency: Currency, given: Decimal | None = None) -> PricedLine:
    """A line of work at a price. Raises NotPossible for hours not given and amounts beyond all measure."""
    quantity, unit = measured(price, size, given)
    cents = max(cents_of(Fraction(quantity), Fraction(price.rate), currency), price.minimum_cents)
    _check_limit(cents)
    return PricedLine(price, quantity, unit, cents)


def price_job(charges: Sequence[Charge], minimum_cents: int, rush_percent: Decimal) -> Pricing:
    """Top the lines up to the job's minimum, then add the rush charge, each spread over the lines in proportion."""
    quoted = [each.cents for each in charges]
    top_up = max(0, minimum_cents - sum(quoted))
    topped = [a + b for a, b in zip(quoted, split_in_proportion(top_up, quoted), strict=True)]
    rush = round_half_up(percent_of(sum(topped), rush_percent))
    spread = [a + b for a, b in zip(topped, split_in_proportion(rush, topped), strict=True)]
    _check_limit(sum(spread))
    return Pricing(
        tuple(Charge(each.class_name, cents, each.includes_tax) for each, cents in zip(charges, spread, strict=True)),
        top_up,
        rush,
    )


def quantity_text(quantity: Fraction) -> str:
    """A quantity as it is kept, exactly: `56.5` where it has an end as a decimal, `20/9` where it has none."""
    rest = quantity.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1:
        return str(quantity)
    return f"{(Decimal(quantity.numerator) / Decimal(quantity.denominator)).normalize():f}"


def _check_limit(cents: int) -> None:
    if cents > MAX_CENTS // 100:
        raise NotPossible(
            "The line comes to more than any piece of work costs.", "Check the size, the quantity and the rate.", "line"
        )
