"""What use tax books: at cost and at the rate of the day, and where the cost goes.

Taken from stock that was bought for resale, use tax is owed on it: Illinois Department of Revenue, Q&A 134, and Kansas
Department of Revenue, booklet KS-1510 (stock used personally, at cost). It follows the cost: a draw, the category, or
the machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal, get_args

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, postings
from ledger.errors import NotPossible
from ledger.money import largest_remainder, percent_of, round_half_up
from ledger.taxes.sales_tax import JurisdictionTax, Rate, percent_sum

# What it is used for. bought: nothing from stock, but bought without tax for the workshop, such as the machine.
Purpose = Literal["own", "charity", "customer", "sample", "work", "bought"]
PURPOSES: tuple[Purpose, ...] = get_args(Purpose)
HERS: tuple[Purpose, ...] = ("own", "charity")
GIVEN: tuple[Purpose, ...] = ("customer", "sample")
_TEXTS: dict[Purpose, str] = {
    "own": "Untaxed stock kept",
    "charity": "Untaxed stock given to charity",
    "customer": "Untaxed stock given to a customer",
    "sample": "Untaxed stock made a sample",
    "work": "Untaxed stock used up",
    "bought": "Bought without sales tax",
}


@dataclass(frozen=True)
class Cost:
    """The cost of what was used in one account: a category, or the machine. cents are above zero."""

    account: Account
    cents: int


@dataclass(frozen=True)
class UseTaxEntry:
    cost_cents: int
    taxes: tuple[JurisdictionTax, ...]
    draft: Draft

    @property
    def tax_cents(self) -> int:
        return sum(each.tax_cents for each in self.taxes)


def use_tax_on(cost_cents: int, rates: Sequence[Rate]) -> tuple[JurisdictionTax, ...]:
    """Use tax on a cost, rounded once over the summed rates and split among the jurisdictions.

    Rounding as for sales tax: Streamlined Sales and Use Tax Agreement, section 324. Raises NotPossible without a rate.
    """
    if not rates:
        raise NotPossible(
            "No rate is in force on that day, so use tax cannot be worked out.",
            "Enter the rate with «twopurse tax rate»; where your state has none, it is 0.",
            "rate",
        )
    assert cost_cents > 0, "use tax is on a cost"
    tax = round_half_up(percent_of(cost_cents, percent_sum(rates)))
    parts = largest_remainder(tax, [Fraction(cost_cents) * Fraction(each.percent) / 100 for each in rates])
    return tuple(JurisdictionTax(rate, cost_cents, part) for rate, part in zip(rates, parts, strict=True))


def owes_tax(costs: Sequence[Cost], rates: Sequence[Rate]) -> bool:
    """Whether the tax on it comes to a cent or more. Raises NotPossible without a rate."""
    return any(each.tax_cents for each in use_tax_on(sum(each.cents for each in costs), rates))


def settle(
    purpose: Purpose,
    costs: Sequence[Cost],
    rates: Sequence[Rate],
    accounts: Accounts,
    what: str,
    today: date,
    belongs_on: date | None = None,
) -> UseTaxEntry:
    """The entry of what was used, on a day.

    Raises NotPossible without a rate, and where nothing but the tax would be booked and it comes to nothing.
    """
    cost = sum(each.cents for each in costs)
    taxes = use_tax_on(cost, rates)
    tax = sum(each.tax_cents for each in taxes)
    if purpose in ("work", "bought"):
        if not tax:
            raise NotPossible("The use tax on that comes to nothing.", "There is nothing to book.", "amount")
        shares = _shares(tax, costs)
        lines = [(each.account, share) for each, share in zip(costs, shares, strict=True)]
        lines.append((accounts["use_tax_payable"], -tax))
    else:
        lines = _taken(purpose, costs, cost + tax, tax, accounts)
    draft = Draft(today, "use tax", f"{_TEXTS[purpose]}: {what}"[:500], postings(*lines), belongs_on=belongs_on)
    return UseTaxEntry(cost, taxes, draft)


def _shares(tax: int, costs: Sequence[Cost]) -> list[int]:
    whole = sum(each.cents for each in costs)
    return largest_remainder(tax, [Fraction(tax * each.cents, whole) for each in costs])


def _taken(
    purpose: Purpose, costs: Sequence[Cost], whole: int, tax: int, accounts: Accounts
) -> list[tuple[Account, int]]:
    """The cost leaves its category with the tax on it: hers is a draw, what is given away or shown is advertising."""
    out = accounts["owners_draws"] if purpose in HERS else accounts["advertising"]
    lines = [(out, whole), *((each.account, -each.cents) for each in costs), (accounts["use_tax_payable"], -tax)]
    if purpose in HERS:
        lines += [(accounts["household_spending"], whole), (accounts["workshop_mirror"], -whole)]
    return lines
