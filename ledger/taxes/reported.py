"""What an entry adds to a return: its charges by treatment and its tax by jurisdiction, by sale or as it is paid.

Where tax goes by payment, what a customer still owes of the charge is spread over the charges of the sale, and the tax
follows the taxed ones in proportion, by largest remainder, after each entry of the job; what an entry adds is the
difference to the one before. So all the entries of a job add up to the sale once it is paid, whatever periods they fall
into, and each period has the tax of the charges that it has: a deposit, which pays charge alone, brings the tax on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, TypeVar

from ledger.money import round_half_up, split_in_proportion

# A sale and what corrects it, money given back, and balances given up or paid after all.
Part = Literal["sale", "refund", "bad debt"]
# What the tax of a sale belongs to: its own period, or that of its payment.
Basis = Literal["sale", "payment"]
Key = TypeVar("Key")


@dataclass(frozen=True)
class ChargeKey:
    """treatment: taxed, not taxed, exempt or unanswered. reason: why it is not taxed, None where it is."""

    class_name: str
    treatment: str
    reason: str | None = None


@dataclass(frozen=True)
class TaxKey:
    """One jurisdiction at one rate, the percent as text."""

    jurisdiction: int
    percent: str


@dataclass(frozen=True)
class TaxSum:
    """Base and tax in cents."""

    base_cents: int
    tax_cents: int


@dataclass(frozen=True)
class Reported:
    """What an entry adds to a return, in cents, below zero for what it takes back.

    owed_charge_cents: by how much it changed what the customer owes as charge.
    recovered_cents: what came in, as charge, on a balance that was given up.
    """

    entry: int
    part: Part
    charges: dict[ChargeKey, int]
    taxes: dict[TaxKey, TaxSum]
    owed_charge_cents: int = 0
    recovered_cents: int = 0
    is_write_off: bool = False

    @property
    def tax_cents(self) -> int:
        return sum(each.tax_cents for each in self.taxes.values())


def by_payment(entries: Sequence[Reported]) -> tuple[Reported, ...]:
    """The entries of one job in their order, each with what was paid by it instead of what it charged.

    What is given up was never paid, so it was never reported, and nothing of it is claimed back; what comes in on it
    after all is reported as the part of the sale that it pays.
    """
    told: list[Reported] = []
    charges: dict[ChargeKey, int] = {}
    taxes: dict[TaxKey, TaxSum] = {}
    owed_charge = 0
    unpaid_charges: dict[ChargeKey, int] = {}
    unpaid_taxes: dict[TaxKey, TaxSum] = {}
    for each in entries:
        if each.is_write_off:
            told.append(replace(each, charges={}, taxes={}))
            continue
        if each.recovered_cents:
            told.append(_recovered(each, charges, taxes))
            continue
        charges, taxes = add_charges(charges, each.charges), add_taxes(taxes, each.taxes)
        owed_charge += each.owed_charge_cents
        now_charges, now_taxes = _unpaid(charges, taxes, owed_charge)
        told.append(
            replace(
                each,
                charges=add_charges(each.charges, unpaid_charges, _negative(now_charges)),
                taxes=add_taxes(each.taxes, unpaid_taxes, _negative_taxes(now_taxes)),
            )
        )
        unpaid_charges, unpaid_taxes = now_charges, now_taxes
    return tuple(told)


def _unpaid(
    charges: dict[ChargeKey, int], taxes: dict[TaxKey, TaxSum], owed_charge: int
) -> tuple[dict[ChargeKey, int], dict[TaxKey, TaxSum]]:
    """What of the charges and the tax of a job is not paid. What else is owed, such as a tip, is not of the sale."""
    charged = {key: max(0, cents) for key, cents in charges.items()}
    unpaid = _spread(min(max(0, owed_charge), sum(charged.values())), charged)
    taxed = {key: max(0, each.tax_cents) for key, each in taxes.items()}
    share = _share(sum_of(unpaid, "taxed"), sum_of(charged, "taxed"))
    unpaid_tax = _spread(round_half_up(sum(taxed.values()) * share), taxed)
    return unpaid, {
        key: TaxSum(round_half_up(each.base_cents * share), unpaid_tax.get(key, 0)) for key, each in taxes.items()
    }


def _recovered(entry: Reported, charges: dict[ChargeKey, int], taxes: dict[TaxKey, TaxSum]) -> Reported:
    """Money on a balance given up, with its own tax, as a part of the charges of its sale; below zero where undone."""
    charged = {key: max(0, cents) for key, cents in charges.items()}
    paid = _spread(entry.recovered_cents, charged)
    share = _share(sum_of(paid, "taxed"), sum_of(charged, "taxed"))
    bases = {key: round_half_up(each.base_cents * share) for key, each in taxes.items()}
    own = {key: TaxSum(bases.get(key, each.base_cents), each.tax_cents) for key, each in entry.taxes.items()}
    return replace(entry, part="sale", charges=paid, taxes=own)


def _spread(cents: int, weights: dict[Key, int]) -> dict[Key, int]:
    if not cents:
        return {}
    return dict(zip(weights, split_in_proportion(cents, list(weights.values())), strict=True))


def _share(part: int, whole: int) -> Fraction:
    return Fraction(part, whole) if whole else Fraction(0)


def sum_of(charges: dict[ChargeKey, int], treatment: str) -> int:
    """The charges of one treatment, in cents."""
    return sum(cents for key, cents in charges.items() if key.treatment == treatment)


def add_charges(*several: dict[ChargeKey, int]) -> dict[ChargeKey, int]:
    """Charges added up key by key, what comes to nothing left out."""
    sums: dict[ChargeKey, int] = {}
    for each in several:
        for key, cents in each.items():
            sums[key] = sums.get(key, 0) + cents
    return {key: cents for key, cents in sums.items() if cents}


def add_taxes(*several: dict[TaxKey, TaxSum]) -> dict[TaxKey, TaxSum]:
    """Tax added up key by key, what comes to nothing left out."""
    sums: dict[TaxKey, TaxSum] = {}
    for each in several:
        for key, more in each.items():
            before = sums.get(key, TaxSum(0, 0))
            sums[key] = TaxSum(before.base_cents + more.base_cents, before.tax_cents + more.tax_cents)
    return {key: each for key, each in sums.items() if each.base_cents or each.tax_cents}


def _negative(charges: dict[ChargeKey, int]) -> dict[ChargeKey, int]:
    return {key: -cents for key, cents in charges.items()}


def _negative_taxes(taxes: dict[TaxKey, TaxSum]) -> dict[TaxKey, TaxSum]:
    return {key: TaxSum(-each.base_cents, -each.tax_cents) for key, each in taxes.items()}


def tax_of(entries: Iterable[Reported]) -> int:
    """The tax that entries add, in cents."""
    return sum(each.tax_cents for each in entries)
