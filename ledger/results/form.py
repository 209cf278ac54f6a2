"""The lines of Schedule C that the books can fill, and the figures beside the books that go with them.

Source: Schedule C (Form 1040), Profit or Loss From Business, parts I to III: line 7 is 1 less 2 less 4 plus 6; 28 adds
the expenses; 29 is 7 less 28; 31 is 29 less 30; 40 adds 35 to 39; 42 is 40 less 41. Which figure belongs on which line
is the accountant's to say.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

_PART_II = (
    *("advertising", "car", "commissions_and_fees", "contract_labor", "depreciation", "insurance"),
    *("interest_mortgage", "interest_other", "legal_and_professional", "office", "rent_equipment", "rent_property"),
    *("repairs", "supplies", "taxes_and_licenses", "travel", "meals", "utilities", "wages", "other_expenses"),
)
# What is bought to be sold again or goes into the piece, where cost of goods sold is wanted.
GOODS_LINES = ("purchases", "materials", "cost_of_goods_other")


@dataclass(frozen=True)
class Stock:
    """What she counted at cost before the period and at its end, in cents."""

    opening_cents: int
    closing_cents: int


@dataclass(frozen=True)
class Receipts:
    """In cents. gross: everything received, refunds not taken off; returns above zero; other: what is no sale."""

    gross_cents: int
    returns_cents: int
    other_cents: int


@dataclass(frozen=True)
class Form:
    """Cents by the key of the line; only lines that have a figure."""

    cents: Mapping[str, int]

    @property
    def net_profit_cents(self) -> int:
        return self.cents.get("net_profit", 0)


def fill(receipts: Receipts, expenses: Mapping[str, int], home_cents: int, stock: Stock | None) -> Form:
    """The form from what was received, the expenses by key of their line, the home's part, and stock where counted.

    expenses: with the figures that stand beside the books (mileage, the part of meals that counts) already in. A part
    of the home does not make a loss: it counts up to line 29 (Revenue Procedure 2013-13, section 4.08; from memory).
    """
    cents = dict(expenses)
    cost_of_goods = 0
    if stock is not None:
        bought = sum(expenses.get(each, 0) for each in GOODS_LINES)
        cents |= {
            "opening_inventory": stock.opening_cents,
            "cost_of_goods_sum": stock.opening_cents + bought,
            "closing_inventory": stock.closing_cents,
            "cost_of_goods_total": stock.opening_cents + bought - stock.closing_cents,
        }
        cost_of_goods = cents["cost_of_goods_total"]
    gross = receipts.gross_cents - receipts.returns_cents - cost_of_goods + receipts.other_cents
    total = sum(expenses.get(each, 0) for each in _PART_II)
    home = max(0, min(home_cents, gross - total))
    cents |= {
        "gross_receipts": receipts.gross_cents,
        "returns": receipts.returns_cents,
        "cost_of_goods": cost_of_goods,
        "other_income": receipts.other_cents,
        "gross_income": gross,
        "total_expenses": total,
        "tentative_profit": gross - total,
        "home": home,
        "net_profit": gross - total - home,
    }
    return form_of(cents)


def form_of(cents: Mapping[str, int]) -> Form:
    """The lines that have a figure, and those that are never empty."""
    return Form({key: value for key, value in cents.items() if value or key in _ALWAYS})


_ALWAYS = ("gross_receipts", "gross_income", "total_expenses", "tentative_profit", "net_profit")
