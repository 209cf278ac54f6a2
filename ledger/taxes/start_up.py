"""Start-up costs: what was spent before the workshop was open and ready for paid work, and the published rule on it.

Internal Revenue Code, section 195: in the first year the lesser of the costs and 5,000 less what they are above 50,000;
the rest evenly over 180 months from the month of the opening on. The machine, stock, loan interest and taxes are none.
Whether she may take it so, and what counts, her accountant decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from ledger.money import round_half_up

# Why a category is left out, by its role. What is of the home goes to the form's home line alone.
LEFT_OUT = {
    "thread": "stock",
    "batting": "stock",
    "backing": "stock",
    "loan_interest": "loan interest",
    "licenses_and_taxes": "taxes",
    "home_cost": "of the home",
}


@dataclass(frozen=True)
class StartUpRule:
    """most_cents: in the first year. reduced_above_cents: costs above it take that much off. months: for the rest."""

    most_cents: int
    reduced_above_cents: int
    months: int


@dataclass(frozen=True)
class CategoryCost:
    """What was spent in a category before the opening, in cents. left_out: why it does not count, or None."""

    category: str
    cents: int
    left_out: str | None = None


@dataclass(frozen=True)
class StartUp:
    """at_once_cents: what the rule has for the first year. rest_cents: what is spread over `months`."""

    opened: date
    cost_cents: int
    at_once_cents: int
    months: int

    @property
    def rest_cents(self) -> int:
        return self.cost_cents - self.at_once_cents

    def cents_of(self, year: int) -> int:
        """What the rule has for a calendar year; over all years it adds up to the costs."""
        at_once = self.at_once_cents if year == self.opened.year else 0
        return at_once + self._spread_through(year) - self._spread_through(year - 1)

    def _spread_through(self, year: int) -> int:
        """The part of the rest for the months from the opening to the end of a year."""
        passed = 12 * (year - self.opened.year + 1) - (self.opened.month - 1)
        return round_half_up(Fraction(self.rest_cents * max(0, min(self.months, passed)), self.months))


def start_up(cost_cents: int, opened: date, rule: StartUpRule) -> StartUp:
    """What the rule makes of costs, in cents."""
    above = max(0, cost_cents - rule.reduced_above_cents)
    at_once = min(cost_cents, max(0, rule.most_cents - above))
    return StartUp(opened, cost_cents, max(0, at_once), rule.months)
