"""A receipt, whoever paid it and whoever it was for: the workshop's part, the household's part, and what crosses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, postings
from ledger.errors import NotPossible

CrossingKind = Literal["contribution", "draw", "owed to owner"]
# What a receipt can be paid from; everything else in the chart is no purse one carries.
PAYING_ROLES = {"checking", "cash_box", "tax_savings", "workshop_card", "household_checking", "personal_card"}


@dataclass(frozen=True)
class Receipt:
    """A receipt in cents. home_cents: the household's part. owed: what the household paid is owed back."""

    amount_cents: int
    category: Account
    paid_from: Account
    who: str
    home_cents: int = 0
    owed: bool = False
    untaxed: bool = False
    why: str | None = None


@dataclass(frozen=True)
class Crossing:
    """What passed between the purses, in cents, above zero."""

    kind: CrossingKind
    cents: int


@dataclass(frozen=True)
class Spent:
    """business_cents and personal_cents are the two parts of the receipt; postings carry them."""

    business_cents: int
    personal_cents: int
    crossing: Crossing | None
    draft: Draft


def settle(receipt: Receipt, accounts: Accounts, today: date) -> Spent:
    """Work a receipt out. Raises NotPossible for a part above the whole, or an account that nothing is paid from."""
    _check(receipt)
    business = receipt.amount_cents - receipt.home_cents
    if receipt.paid_from.purse == "business":
        crossing = Crossing("draw", receipt.home_cents) if receipt.home_cents else None
        crossing_role, mirror = "owners_draws", -receipt.home_cents
    else:
        kind: CrossingKind = "owed to owner" if receipt.owed else "contribution"
        crossing = Crossing(kind, business) if business else None
        crossing_role, mirror = "owed_to_owner" if receipt.owed else "owners_contributions", business
    lines = postings(
        (receipt.category, business),
        (accounts[crossing_role], -mirror),
        (receipt.paid_from, -receipt.amount_cents),
        (accounts["workshop_mirror"], mirror),
        (accounts["household_spending"], receipt.home_cents),
    )
    text = receipt.why or (f"{receipt.category.name}, {receipt.who}" if business else f"Household, {receipt.who}")
    draft = Draft(on=today, kind="spend", text=text[:500], postings=lines)
    return Spent(business, receipt.home_cents, crossing, draft)


def _check(receipt: Receipt) -> None:
    if receipt.home_cents > receipt.amount_cents:
        raise NotPossible(
            "The household's part is more than the receipt.", "Give the whole receipt as the amount.", "home"
        )
    if receipt.paid_from.role not in PAYING_ROLES:
        raise NotPossible(
            f"Nothing is paid from «{receipt.paid_from.name}».",
            "Pay from checking, the cash box, the workshop card, household checking or the personal card.",
            "from",
        )
    if receipt.category.kind != "expense" or receipt.category.purse != "business":
        raise NotPossible(
            f"«{receipt.category.name}» is no expense category.",
            "Give one such as thread or batting; the household's part goes in --home.",
            "category",
        )
    if receipt.owed and receipt.paid_from.purse == "business":
        raise NotPossible(
            "The workshop paid this itself, so nothing is owed to the owner.", "Leave --owed out.", "owed"
        )
