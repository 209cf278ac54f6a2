"""A seller's own discount comes off before tax, and a part payment goes to price and tax alike, as states have written.

How sure: S seen in the source's own text (a stored copy), 2 seen in a text about it.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from ledger.jobs.payments import split_payment
from ledger.jobs.slip import work_out_slip
from ledger.taxes.sales_tax import Charge, Rate, TaxRules

pytestmark = pytest.mark.published


def rules(percent: str) -> TaxRules:
    return TaxRules((Rate(1, "State", "state", Decimal(percent)),), {"goods": True})


def test_ten_percent_off_a_dress_of_150_leaves_135_to_be_taxed() -> None:
    # 2: Texas Comptroller of Public Accounts, memorandum of 24 April 2009, STAR 200904303L. 6.25 percent: from memory.
    slip = work_out_slip([Charge("goods", 150_00)], rules("6.25"), discount_cents=15_00)
    assert slip.charge_cents == 135_00
    assert slip.tax.taxes[0].base_cents == 135_00
    assert slip.tax_cents == 8_44  # 8.4375


def test_a_discount_that_nobody_makes_good_lowers_the_taxed_price() -> None:
    # S: Minnesota Department of Revenue, "Discounts and Coupons"; Tennessee Department of Revenue, SUT-24.
    full = work_out_slip([Charge("goods", 100_00)], rules("6.875"))
    reduced = work_out_slip([Charge("goods", 100_00)], rules("6.875"), discount_cents=20_00)
    assert (full.tax_cents, reduced.tax_cents) == (6_88, 5_50)


@pytest.mark.parametrize(
    ("paid", "price", "tax"),
    [(50_00, 100_00, 6_00), (1_06, 100_00, 6_00), (105_99, 100_00, 6_00)],
)
def test_a_part_payment_is_applied_in_proportion_to_price_and_tax(paid: int, price: int, tax: int) -> None:
    # S: Code of Maryland Regulations 03.06.03.07 C: partial payments are applied proportionately. The amounts are ours.
    to_price, to_tax = split_payment(paid, price, tax)
    assert to_price + to_tax == paid
    assert abs(to_tax * (price + tax) - paid * tax) < price + tax  # less than a cent off the exact share
