"""What the workshop holds that belongs to others, and the money that is there for it.

First figures: what stands in the accounts. Income tax and self-employment tax are not in them yet, and every figure
made from them says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from ledger.books.balances import balances
from ledger.books.books import Books


@dataclass(frozen=True)
class SetAside:
    """All in cents, above zero where something is owed or there. card_money: on its way, not counted as money."""

    sales_tax_cents: int
    use_tax_cents: int
    deposits_cents: int
    certificates_cents: int
    cards_cents: int
    owed_to_owner_cents: int
    checking_cents: int
    cash_box_cents: int
    tax_savings_cents: int
    card_money_cents: int

    @property
    def owed_cents(self) -> int:
        return (
            self.sales_tax_cents
            + self.use_tax_cents
            + self.deposits_cents
            + self.certificates_cents
            + self.cards_cents
            + self.owed_to_owner_cents
        )

    @property
    def money_cents(self) -> int:
        return self.checking_cents + self.cash_box_cents + self.tax_savings_cents

    @property
    def free_cents(self) -> int:
        """What could be drawn before income tax, never below zero."""
        return max(0, self.money_cents - self.owed_cents)

    @property
    def short_cents(self) -> int:
        """By how much the money falls short of what is owed."""
        return max(0, self.owed_cents - self.money_cents)


def read_set_aside(books: Books, on: date) -> SetAside:
    """What is owed and held at the end of a day."""
    return set_aside({each.account.role or "": each.cents for each in balances(books, on)})


def set_aside(balance: Mapping[str, int]) -> SetAside:
    """From balances by role, debit positive, in cents."""
    return SetAside(
        sales_tax_cents=-balance["sales_tax_payable"],
        use_tax_cents=-balance["use_tax_payable"],
        deposits_cents=-balance["customer_deposits"],
        certificates_cents=-balance["gift_certificates"],
        cards_cents=-balance["workshop_card"],
        owed_to_owner_cents=-balance["owed_to_owner"],
        checking_cents=balance["checking"],
        cash_box_cents=balance["cash_box"],
        tax_savings_cents=balance["tax_savings"],
        card_money_cents=balance["card_settlements"],
    )
