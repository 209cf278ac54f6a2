"""The slip of a sale: charges less discount, then the tax on what is left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ledger.errors import NotPossible
from ledger.money import split_in_proportion
from ledger.taxes.sales_tax import Charge, SlipTax, TaxRules, tax_on


@dataclass(frozen=True)
class Slip:
    """subtotal_cents less discount_cents is the charge without tax; with the tax it is the total before any tip."""

    subtotal_cents: int
    discount_cents: int
    tax: SlipTax

    @property
    def charge_cents(self) -> int:
        return self.subtotal_cents - self.discount_cents

    @property
    def tax_cents(self) -> int:
        return self.tax.tax_cents

    @property
    def total_cents(self) -> int:
        return self.charge_cents + self.tax_cents


def work_out_slip(charges: Sequence[Charge], rules: TaxRules, *, discount_cents: int = 0, exempt: bool = False) -> Slip:
    """A discount is spread over the lines in proportion before tax, so that each class bears its share.

    Where prices include tax, subtotal and discount are what they come to without it. Raises NotPossible for a discount
    above the charges.
    """
    quoted = [each.cents for each in charges]
    if discount_cents > sum(quoted):
        raise NotPossible("The discount is more than the work comes to.", "Give a smaller one.", "discount")
    shares = split_in_proportion(discount_cents, quoted)
    reduced = [
        Charge(each.class_name, each.cents - share, each.includes_tax)
        for each, share in zip(charges, shares, strict=True)
    ]
    tax = tax_on(reduced, rules, exempt=exempt)
    subtotal = tax_on(charges, rules, exempt=exempt).base_cents
    return Slip(subtotal, subtotal - tax.base_cents, tax)
