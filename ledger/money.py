"""Amounts, rates and percents: the one rounding rule, the one way to split, and the strict way to read them.

An amount is an `int` in the currency's minor unit (called cents whatever the currency). Rates, quantities and percents
are `Decimal`; a value between the two is an exact `Fraction`, rounded once by `round_half_up`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import floor

from ledger.errors import NotUnderstood

MAX_CENTS = 10**14
MAX_RATE_DECIMALS = 6

_NUMBER = re.compile(r"(-?)([0-9]{1,15})(?:\.([0-9]{1,9}))?")


@dataclass(frozen=True)
class Currency:
    """An ISO 4217 code and the number of decimals that CLDR gives it (USD 2, JPY 0, KWD 3)."""

    code: str
    decimals: int

    @property
    def minor_units(self) -> int:
        return int(10**self.decimals)


def currency_from_code(code: str, field: str | None = "currency") -> Currency:
    """The currency of an ISO 4217 code. Raises NotUnderstood for a code that CLDR does not list."""
    from babel.numbers import get_currency_precision, list_currencies  # 60 ms, only when books begin

    wanted = code.strip().upper()
    if wanted not in list_currencies():
        raise NotUnderstood(f"«{code}» is no currency code.", "Give the three letters, such as USD, CAD or EUR.", field)
    return Currency(wanted, int(get_currency_precision(wanted)))


def round_half_up(exact: Fraction | Decimal | int) -> int:
    """The nearest whole number, halves away from zero, so that a refund mirrors its sale (-0.125 is -0.13).

    Half up: Streamlined Sales and Use Tax Agreement, section 324 (rounding rule).
    """
    value = Fraction(exact)
    size = floor(abs(value) + Fraction(1, 2))
    return size if value >= 0 else -size


def cents_of(quantity: Decimal | Fraction, rate: Decimal | Fraction, currency: Currency) -> int:
    """Quantity times a rate in whole currency units, in cents, rounded once."""
    return round_half_up(Fraction(quantity) * Fraction(rate) * currency.minor_units)


def percent_of(cents: int, percent: Decimal | Fraction) -> Fraction:
    """The exact share of an amount, in cents, not rounded."""
    return Fraction(cents) * Fraction(percent) / 100


def largest_remainder(total: int, exact_parts: Sequence[Fraction]) -> list[int]:
    """Whole parts that add to `total`: each exact part is cut down, what is left goes to the largest remainders.

    The exact parts must lie within one of `total`, all on its side of zero. Between equal remainders the earlier part
    comes first.
    """
    if total < 0:
        return [-part for part in largest_remainder(-total, [-part for part in exact_parts])]
    parts = [floor(part) for part in exact_parts]
    left = total - sum(parts)
    assert 0 <= left <= len(parts), "the exact parts do not belong to this total"
    by_remainder = sorted(range(len(parts)), key=lambda place: parts[place] - exact_parts[place])
    for place in by_remainder[:left]:
        parts[place] += 1
    return parts


def split_in_proportion(total: int, weights: Sequence[int | Fraction]) -> list[int]:
    """`total` split by weights of at least zero, adding up to it. Weights that are all zero share equally."""
    assert weights or not total, "an amount is split over at least one part"
    whole = sum(Fraction(weight) for weight in weights)
    if whole == 0:
        weights, whole = [1] * len(weights), Fraction(len(weights))
    return largest_remainder(total, [Fraction(total) * Fraction(weight) / whole for weight in weights])


def read_amount(text: str, currency: Currency, field: str | None = None, *, zero: bool = False) -> int:
    """Cents from text such as `1204.10`: ASCII digits and one point, whatever the locale.

    Negative amounts are refused, and zero unless `zero`. Raises NotUnderstood.
    """
    sign, whole, decimals = _number(text, field, "an amount", "1204.10")
    if len(decimals.rstrip("0")) > currency.decimals:
        raise NotUnderstood(
            f"«{_short(text)}» has more decimals than {currency.code} has.",
            f"Give it with {currency.decimals} at most.",
            field,
        )
    cents = int(whole) * currency.minor_units + int(decimals[: currency.decimals].ljust(currency.decimals, "0") or 0)
    if sign and cents:
        raise NotUnderstood(f"«{_short(text)}» is below zero.", "Give the amount without the minus sign.", field)
    if cents > MAX_CENTS:
        raise NotUnderstood(f"«{_short(text)}» is too large an amount.", "Check the number of digits.", field)
    if not cents and not zero:
        raise NotUnderstood("The amount is zero.", "Give an amount above zero.", field)
    return cents


def read_rate(text: str, field: str | None = None) -> Decimal:
    """A price for one unit, at least zero, with at most six decimals. Raises NotUnderstood."""
    return _decimal(text, field, "a price for one unit", "0.02", limit=Decimal(1_000_000))


def read_quantity(text: str, field: str | None = None) -> Decimal:
    """A quantity or length above zero, with at most six decimals. Raises NotUnderstood."""
    value = _decimal(text, field, "a number", "56.5", limit=Decimal(1_000_000))
    if value == 0:
        raise NotUnderstood("The number is zero.", "Give a number above zero.", field)
    return value


def read_percent(text: str, field: str | None = None) -> Decimal:
    """A percent from 0 to 100, with at most six decimals; a trailing % may stand. Raises NotUnderstood."""
    return _decimal(text.strip().removesuffix("%"), field, "a percent", "5.3", limit=Decimal(100))


def plain_amount(cents: int, currency: Currency) -> str:
    """An amount as commands print it: `80.64`, `-50.00`; JPY has no decimals."""
    sign = "-" if cents < 0 else ""
    whole, part = divmod(abs(cents), currency.minor_units)
    return f"{sign}{whole}.{part:0{currency.decimals}d}" if currency.decimals else f"{sign}{whole}"


def whole_units(cents: int, currency: Currency) -> Decimal:
    """An amount in whole units of its currency, exactly, for a formatter that wants one."""
    return Decimal(cents).scaleb(-currency.decimals)


def plain_decimal(value: Decimal, least_decimals: int = 0) -> str:
    """A number without exponent or trailing zeros, with at least so many decimals (a percent has two)."""
    text = f"{value:f}"
    whole, _, decimals = text.partition(".")
    decimals = decimals.rstrip("0").ljust(least_decimals, "0")
    return f"{whole}.{decimals}" if decimals else whole


def plain_percent(value: Decimal) -> str:
    """A percent as commands print it, with two decimals, or more where it has them: `5.30`, `8.875`."""
    return plain_decimal(value, 2)


def _decimal(text: str, field: str | None, kind: str, example: str, limit: Decimal) -> Decimal:
    sign, whole, decimals = _number(text, field, kind, example)
    if len(decimals.rstrip("0")) > MAX_RATE_DECIMALS:
        raise NotUnderstood(
            f"«{_short(text)}» has too many decimals.", f"Give it with {MAX_RATE_DECIMALS} at most.", field
        )
    value = Decimal(f"{whole}.{decimals or 0}")
    if sign and value:
        raise NotUnderstood(f"«{_short(text)}» is below zero.", "Give it without the minus sign.", field)
    if value > limit:
        raise NotUnderstood(f"«{_short(text)}» is more than {limit:f}.", "Check the number of digits.", field)
    return value


def _number(text: str, field: str | None, kind: str, example: str) -> tuple[str, str, str]:
    found = _NUMBER.fullmatch(text.strip())
    if found is None:
        raise NotUnderstood(f"«{_short(text)}» cannot be read as {kind}.", f"Write it like {example}.", field)
    return found[1], found[2], found[3] or ""


def _short(text: str) -> str:
    from ledger.text import shown

    return shown(text)[:40]
