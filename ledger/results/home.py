"""What the business use of the home comes to in a year so far, by the method that she and her accountant chose.

Source of the simplified method: Revenue Procedure 2013-13, section 4: a published rate for each square foot, up to a
published area, averaged over the twelve months; a month counts from fifteen days of use on (section 4.04; from memory).
It asks for regular and exclusive use: whether that is so, the accountant says.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal

from ledger.money import round_half_up
from ledger.periods import Period

Method = Literal["simplified", "booked", "figure"]
METHODS: Final[tuple[Method, ...]] = ("simplified", "booked", "figure")
MONTHS = 12
_DAYS_THAT_MAKE_A_MONTH = 15


@dataclass(frozen=True)
class SimplifiedRate:
    """cents_per_square_foot of a whole year, and the largest area that counts."""

    cents_per_square_foot: Fraction
    most_square_feet: Fraction


def simplified_cents(square_feet: Fraction, months: int, rate: SimplifiedRate) -> int:
    """A year's figure for a room used in so many of its months, rounded once."""
    area = min(square_feet, rate.most_square_feet)
    return round_half_up(area * rate.cents_per_square_foot * Fraction(months, MONTHS))


def figure_cents(year_cents: int, months: int) -> int:
    """The part of her accountant's figure for the year that so many months bear."""
    return round_half_up(Fraction(year_cents * months, MONTHS))


def months_used(months: Sequence[Period], first_day: date, last_day: date) -> int:
    """How many of the months, up to a last day, the room was in use for fifteen days or more from its first day on."""
    days = ((min(each.end, last_day) - max(each.start, first_day)).days + 1 for each in months)
    return sum(1 for each in days if each >= _DAYS_THAT_MAKE_A_MONTH)
