"""A loan: its terms, its level payment, and its months of interest.

Interest is a twelfth of the yearly rate on what is left, rounded half up each month, as loans of level payments are
usually reckoned (common practice, no source). Where the lender's statement says otherwise, it wins.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from ledger.errors import NotPossible, NotUnderstood
from ledger.money import percent_of, round_half_up
from ledger.periods import LAST_YEAR, last_day_of_month
from ledger.text import shown

MOST_MONTHS = 600


@dataclass(frozen=True)
class Offer:
    """Interest of `percent` a year from the beginning is charged back where the loan is not paid off by `ends_on`."""

    percent: Decimal
    ends_on: date


@dataclass(frozen=True)
class Terms:
    """cents: what was lent. percent: a year. payment_cents: as the lender set it, None for the level one."""

    cents: int
    percent: Decimal
    months: int
    taken_on: date
    first_on: date
    payment_cents: int | None = None
    offer: Offer | None = None

    def due_day(self, number: int) -> date:
        """The day of a payment: the first one's day of the month, or the last day of a shorter month."""
        months = self.first_on.year * 12 + self.first_on.month - 1 + number - 1
        last = last_day_of_month(months // 12, months % 12 + 1)
        return last.replace(day=min(self.first_on.day, last.day))


def level_payment(cents: int | Fraction, percent: Decimal, months: int) -> Fraction:
    """The payment that repays an amount in so many equal months, exact. A rate of zero shares the amount out."""
    rate = Fraction(percent) / 1200
    if rate == 0:
        return Fraction(cents) / months
    return Fraction(cents) * rate / (1 - 1 / (1 + rate) ** months)


def month_of_interest(cents: int, percent: Decimal) -> int:
    """The interest of one month on what is left, in cents."""
    return round_half_up(percent_of(cents, percent) / 12)


def regular_payment(terms: Terms) -> int:
    """What is paid a month at first, in cents."""
    return terms.payment_cents or round_half_up(level_payment(terms.cents, terms.percent, terms.months))


def read_months(text: str, field: str = "months") -> int:
    """A whole number of months from 1. Raises NotUnderstood."""
    bare = text.strip()
    if not (bare.isascii() and bare.isdigit() and len(bare) < 6 and int(bare) > 0):
        raise NotUnderstood(f"«{shown(bare)[:40]}» is no number of months.", "Give a whole number such as 60.", field)
    return int(bare)


def check_terms(terms: Terms) -> None:
    """Raises NotPossible for terms by which the loan is never repaid, or a first payment before the loan."""
    if not 1 <= terms.months <= MOST_MONTHS:
        raise NotPossible(f"A loan of {terms.months} months is none.", f"Give 1 to {MOST_MONTHS} months.", "months")
    if terms.first_on < terms.taken_on:
        raise NotPossible(
            f"The first payment, {terms.first_on}, lies before the loan of {terms.taken_on}.",
            "For a loan that runs already, give what is left of it, the months left and the next payment.",
            "first",
        )
    if terms.first_on.year + terms.months // 12 >= LAST_YEAR:
        raise NotPossible("The loan runs longer than the calendar here.", f"It ends at {LAST_YEAR}.", "months")
    if terms.offer is not None:
        check_offer(terms, terms.offer)
    payment = regular_payment(terms)
    if terms.months > 1 and payment <= month_of_interest(terms.cents, terms.percent):
        field = "payment" if terms.payment_cents else "months"
        raise NotPossible(
            "The payment does not even pay the interest of the first month, so the loan would never be repaid.",
            "Give fewer months, or ask the lender what the payment is.",
            field,
        )


def check_offer(terms: Terms, offer: Offer) -> None:
    """Raises NotPossible for an offer that is none."""
    if terms.percent != 0:
        raise NotPossible(
            "Interest is charged back on an offer of zero percent.", "Give --percent 0 with it.", "percent"
        )
    if offer.ends_on < terms.taken_on:
        raise NotPossible(
            f"The offer ends on {offer.ends_on}, before the loan of {terms.taken_on}.", "Check the day.", "paid_by"
        )
