"""A discount comes off before tax, spread over the lines in proportion, so that each class bears its share."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotPossible
from ledger.jobs.slip import work_out_slip
from ledger.taxes.sales_tax import Charge, Rate, TaxRules

RATES = (Rate(1, "Kansas state", "state", Decimal("4.3")), Rate(2, "Riley county", "county", Decimal("1.0")))
ANSWERS = {"goods": True, "work": False}
RULES = TaxRules(RATES, ANSWERS)


def test_a_discount_lowers_the_base_of_the_taxed_class_by_its_share_alone() -> None:
    slip = work_out_slip([Charge("goods", 40_00), Charge("work", 160_00)], RULES, discount_cents=20_00)
    assert [each.base_cents for each in slip.tax.charges] == [36_00, 144_00]
    assert (slip.subtotal_cents, slip.discount_cents, slip.charge_cents) == (200_00, 20_00, 180_00)
    assert (slip.tax_cents, slip.total_cents) == (1_91, 181_91)


def test_a_discount_of_everything_leaves_nothing_to_tax() -> None:
    slip = work_out_slip([Charge("goods", 40_00), Charge("work", 160_00)], RULES, discount_cents=200_00)
    assert (slip.charge_cents, slip.tax_cents, slip.total_cents) == (0, 0, 0)


def test_a_discount_above_the_charges_is_refused() -> None:
    with pytest.raises(NotPossible, match="more than the work"):
        work_out_slip([Charge("goods", 40_00)], RULES, discount_cents=40_01)


def test_where_prices_have_the_tax_in_them_subtotal_and_discount_are_shown_without_it() -> None:
    slip = work_out_slip([Charge("goods", 105_30, includes_tax=True)], RULES, discount_cents=10_53)
    assert (slip.subtotal_cents, slip.discount_cents, slip.charge_cents) == (100_00, 10_00, 90_00)
    assert (slip.tax_cents, slip.total_cents) == (4_77, 94_77)


charges = st.lists(
    st.builds(Charge, st.sampled_from(["goods", "work", "other"]), st.integers(0, 10**6), st.booleans()),
    min_size=1,
    max_size=6,
)


@given(charges, st.data(), st.sampled_from(["slip", "line"]), st.booleans())
def test_what_the_customer_pays_is_what_was_quoted_less_the_discount_plus_the_tax_that_was_not_in_it(
    quoted: list[Charge], data: st.DataObject, method: str, exempt: bool
) -> None:
    whole = sum(each.cents for each in quoted)
    discount = data.draw(st.integers(0, whole))
    rules = TaxRules(RATES, ANSWERS, method)  # type: ignore[arg-type]
    slip = work_out_slip(quoted, rules, discount_cents=discount, exempt=exempt)
    tax_inside = sum(each.charge.cents - each.base_cents for each in slip.tax.charges)
    assert slip.total_cents == whole - discount + slip.tax_cents - tax_inside
    assert slip.charge_cents == sum(each.base_cents for each in slip.tax.charges)
    assert 0 <= slip.discount_cents <= slip.subtotal_cents
    assert 0 <= tax_inside <= slip.tax_cents
    if exempt:
        assert slip.tax_cents == 0
