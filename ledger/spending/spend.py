"""A receipt, whoever paid it and whoever it was for: the workshop's parts, the household's part, and what crosses.

A receipt's sales tax is spread over its parts in proportion. What a shop gives back is the same with its signs turned.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from ledger.books.accounts import Account, Accounts
from ledger.books.drafts import Draft, Posting, postings
from ledger.errors import NotPossible
from ledger.money import split_in_proportion

CrossingKind = Literal["contribution", "draw", "owed to owner"]
# What a receipt can be paid from; everything else in the chart is no purse one carries.
PAYING_ROLES = {"checking", "cash_box", "tax_savings", "workshop_card", "household_checking", "personal_card"}


@dataclass(frozen=True)
class Part:
    """A further category on a receipt, in cents."""

    category: Account
    cents: int


@dataclass(frozen=True)
class Receipt:
    """A receipt in cents. home_cents: the household's part. owed: what the household paid is owed back.

    also: further categories; what they and the household leave goes to `category`. tax_cents: the sales tax in the
    whole, where the parts were read off before tax. is_back: a shop gives it back.
    """

    amount_cents: int
    category: Account
    paid_from: Account
    who: str
    home_cents: int = 0
    owed: bool = False
    untaxed: bool = False
    why: str | None = None
    also: tuple[Part, ...] = ()
    tax_cents: int = 0
    is_back: bool = False


@dataclass(frozen=True)
class Crossing:
    """What passed between the purses, in cents, above zero."""

    kind: CrossingKind
    cents: int


@dataclass(frozen=True)
class Spent:
    """business_cents and personal_cents are the two parts of the receipt; `parts` are the workshop's categories."""

    business_cents: int
    personal_cents: int
    parts: tuple[Part, ...]
    crossing: Crossing | None
    draft: Draft


def settle(receipt: Receipt, accounts: Accounts, today: date) -> Spent:
    """Work a receipt out. Raises NotPossible for a part above the whole, or an account that nothing is paid from."""
    _check(receipt)
    parts, home = _parts(receipt)
    business = sum(each.cents for each in parts)
    crossing, crossing_role = _crossing(receipt, business, home)
    mirror = -home if receipt.paid_from.purse == "business" else business
    lines = postings(
        *((each.category, each.cents) for each in parts),
        (accounts[crossing_role], -mirror),
        (receipt.paid_from, -receipt.amount_cents),
        (accounts["workshop_mirror"], mirror),
        (accounts["household_spending"], home),
    )
    if receipt.is_back:
        lines = tuple(Posting(each.account, -each.cents) for each in lines)
    draft = Draft(on=today, kind="spend", text=_text(receipt, parts)[:500], postings=lines)
    return Spent(business, home, parts, crossing, draft)


def _parts(receipt: Receipt) -> tuple[tuple[Part, ...], int]:
    """The workshop's parts, those of one category together, and the household's; they add to the receipt."""
    given = [*(each.cents for each in receipt.also), receipt.home_cents]
    first = receipt.amount_cents - receipt.tax_cents - sum(given)
    before_tax = [first, *given]
    taxed = [cents + tax for cents, tax in zip(before_tax, _spread(receipt.tax_cents, before_tax), strict=True)]
    sums: dict[Account, int] = {}
    for category, cents in zip([receipt.category, *(each.category for each in receipt.also)], taxed[:-1], strict=True):
        sums[category] = sums.get(category, 0) + cents
    return tuple(Part(category, cents) for category, cents in sums.items() if cents), taxed[-1]


def _spread(tax_cents: int, parts: list[int]) -> list[int]:
    return split_in_proportion(tax_cents, parts)


def _crossing(receipt: Receipt, business: int, home: int) -> tuple[Crossing | None, str]:
    """What passes between the purses, and the account of the workshop that it passes through.

    What a shop gives back for workshop goods to the household is a draw; for household things to the workshop it is a
    contribution.
    """
    if receipt.paid_from.purse == "business":
        kind: CrossingKind = "contribution" if receipt.is_back else "draw"
        return (Crossing(kind, home) if home else None), _ROLES[kind]
    kind = "draw" if receipt.is_back else "owed to owner" if receipt.owed else "contribution"
    return (Crossing(kind, business) if business else None), _ROLES[kind]


_ROLES: dict[CrossingKind, str] = {
    "contribution": "owners_contributions",
    "draw": "owners_draws",
    "owed to owner": "owed_to_owner",
}


def _text(receipt: Receipt, parts: tuple[Part, ...]) -> str:
    if receipt.why:
        return receipt.why
    what = parts[0].category.name if parts else "Household"
    return f"{what}, {receipt.who}" + (" gives back" if receipt.is_back else "")


def _check(receipt: Receipt) -> None:
    given = sum(each.cents for each in receipt.also) + receipt.home_cents + receipt.tax_cents
    if given > receipt.amount_cents:
        field = "home" if receipt.home_cents and not receipt.also else "also"
        raise NotPossible(
            "The household's part is more than the receipt."
            if field == "home"
            else "The parts are more than the receipt.",
            "Give the whole receipt as the amount.",
            field,
        )
    if receipt.paid_from.role not in PAYING_ROLES:
        raise NotPossible(
            f"Nothing is paid from «{receipt.paid_from.name}».",
            "Pay from checking, the cash box, the workshop card, household checking or the personal card.",
            "from",
        )
    for each in (receipt.category, *(part.category for part in receipt.also)):
        if each.kind != "expense" or each.purse != "business":
            raise NotPossible(
                f"«{each.name}» is no expense category.",
                "Give one such as thread or batting; the household's part goes in --home.",
                "category",
            )
    if receipt.owed and receipt.paid_from.purse == "business":
        raise NotPossible(
            "The workshop paid this itself, so nothing is owed to the owner.", "Leave --owed out.", "owed"
        )
