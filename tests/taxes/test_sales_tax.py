"""The tax on a slip, without any books: over the summed rates, rounded once, split so that the parts are the whole."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotPossible
from ledger.taxes.sales_tax import LEVELS, Charge, Method, Rate, SlipTax, TaxRules, tax_on

KANSAS = ("4.3", "1.0")
ALL_TAXED = {"goods": True, "work": True, "delivery": True, "other": True}

percents = st.decimals(min_value=0, max_value=12, places=4)
stacks = st.lists(percents, min_size=1, max_size=5)
charge_lists = st.lists(
    st.builds(Charge, st.sampled_from(sorted(ALL_TAXED)), st.integers(min_value=0, max_value=10**7)),
    min_size=1,
    max_size=6,
)
methods: st.SearchStrategy[Method] = st.sampled_from(["slip", "line"])


def rules(
    percents: Sequence[str | Decimal] = KANSAS, answers: dict[str, bool] | None = None, method: Method = "slip"
) -> TaxRules:
    rates = (
        Rate(place, f"jurisdiction {place}", LEVELS[min(place, 3)], Decimal(percent))
        for place, percent in enumerate(percents)
    )
    return TaxRules(tuple(rates), ALL_TAXED if answers is None else answers, method)


def work(*cents: int, includes_tax: bool = False) -> list[Charge]:
    return [Charge("work", each, includes_tax) for each in cents]


def parts(slip: SlipTax) -> list[int]:
    return [each.tax_cents for each in slip.taxes]


def half_up(exact: Decimal | Fraction) -> int:
    as_decimal = Decimal(exact.numerator) / Decimal(exact.denominator) if isinstance(exact, Fraction) else exact
    return int(as_decimal.quantize(Decimal(1), rounding=ROUND_HALF_UP))


def test_the_tax_is_that_of_the_summed_rates_and_its_parts_add_up_to_it() -> None:
    slip = tax_on(work(185_44), rules())
    assert (slip.tax_cents, parts(slip)) == (9_83, [7_97, 1_86])


def test_rounding_each_jurisdiction_by_itself_would_lose_a_cent_and_does_not_happen() -> None:
    # 4.15 at 1.5, 1.5, 1.5 and 1.5: each alone is 6.225, four times 6 is 24; at 6 percent it is 24.9.
    slip = tax_on(work(4_15), rules(["1.5"] * 4))
    assert (slip.tax_cents, parts(slip)) == (25, [7, 6, 6, 6])


@pytest.mark.parametrize(
    ("cents", "slip_tax", "line_tax"),
    [
        ([10, 10, 10], 2, 3),  # at 5.3 percent: 1.59 in all, 0.53 each
        ([9_43, 9_43], 1_00, 1_00),
        ([1_08, 1_08, 1_08], 17, 18),
        ([30, 30, 30], 5, 6),
        ([28, 28, 28], 4, 3),
    ],
)
def test_per_slip_and_per_line_differ_as_they_should(cents: list[int], slip_tax: int, line_tax: int) -> None:
    assert tax_on(work(*cents), rules()).tax_cents == slip_tax
    assert tax_on(work(*cents), rules(method="line")).tax_cents == line_tax


def test_a_class_that_is_not_taxed_or_not_answered_carries_no_tax() -> None:
    charges = [Charge("goods", 50_00), Charge("work", 100_00), Charge("delivery", 8_00), Charge("lessons", 20_00)]
    slip = tax_on(charges, rules(answers={"goods": True, "work": False, "delivery": False}))
    assert [each.treatment for each in slip.charges] == ["taxed", "not taxed", "not taxed", "unanswered"]
    assert (slip.tax_cents, slip.unanswered) == (2_65, ("lessons",))
    assert {each.base_cents for each in slip.taxes} == {50_00}
    assert slip.base_cents == 178_00


def test_a_class_of_her_own_is_taxed_once_it_is_answered() -> None:
    charges = [Charge("digital patterns", 12_00), Charge("lessons", 40_00), Charge("digital patterns", 8_00)]
    slip = tax_on(charges, rules(answers={"digital patterns": True}))
    assert (slip.tax_cents, slip.unanswered) == (1_06, ("lessons",))


def test_an_exempt_customer_pays_no_tax_and_untaxed_classes_stay_untaxed() -> None:
    charges = [Charge("goods", 50_00), Charge("work", 100_00), Charge("lessons", 20_00)]
    slip = tax_on(charges, rules(answers={"goods": True, "work": False}), exempt=True)
    assert [each.treatment for each in slip.charges] == ["exempt", "not taxed", "exempt"]
    assert (slip.tax_cents, slip.taxes, slip.unanswered) == (0, (), ())


def test_a_taxed_class_without_any_rate_is_refused_and_an_exempt_one_is_not() -> None:
    with pytest.raises(NotPossible, match="no rate is in force"):
        tax_on(work(1_00), rules([]))
    assert tax_on(work(1_00), rules([]), exempt=True).tax_cents == 0
    assert tax_on(work(1_00), rules([], answers={"work": False})).tax_cents == 0


def test_a_rate_of_zero_is_in_force_and_takes_nothing() -> None:
    slip = tax_on(work(99_99), rules(["0", "4.3", "0"]))
    assert parts(slip) == [0, 4_30, 0]


@pytest.mark.parametrize(
    ("percents", "price", "base", "tax"),
    [
        (["9.68"], 100_00, 91_17, 8_83),
        (["4.3", "1.0"], 195_27, 185_44, 9_83),
        (["5.3"], 1, 1, 0),
        (["5.3"], 10, 9, 1),  # 9.4967: tax is what is left of the price, not 0.503 rounded
        (["100"], 1, 1, 0),  # a half goes up into the base
        (["7"], 10_70, 10_00, 70),
    ],
)
def test_a_price_with_the_tax_in_it_is_parted_so_that_both_add_up(
    percents: list[str], price: int, base: int, tax: int
) -> None:
    slip = tax_on(work(price, includes_tax=True), rules(percents))
    assert (slip.base_cents, slip.tax_cents) == (base, tax)
    assert sum(parts(slip)) == tax


def test_a_slip_may_hold_prices_with_the_tax_and_prices_without() -> None:
    charges = [*work(100_00), *work(105_30, includes_tax=True), Charge("delivery", 10_00)]
    slip = tax_on(charges, rules(answers={"work": True, "delivery": False}))
    assert [each.base_cents for each in slip.charges] == [100_00, 100_00, 10_00]
    assert (slip.tax_cents, parts(slip)) == (10_60, [8_60, 2_00])
    assert {each.base_cents for each in slip.taxes} == {200_00}


def test_a_price_with_the_tax_in_it_keeps_its_whole_amount_where_no_tax_is_taken() -> None:
    charges = work(105_30, includes_tax=True)
    assert tax_on(charges, rules(answers={"work": False})).base_cents == 105_30
    assert tax_on(charges, rules(answers={})).base_cents == 105_30


@given(charge_lists, stacks)
def test_the_tax_of_a_slip_is_the_exact_tax_of_its_sum_rounded_half_up(
    charges: list[Charge], stack: list[Decimal]
) -> None:
    slip = tax_on(charges, rules(stack))
    total = sum(each.cents for each in charges)
    assert slip.tax_cents == half_up(Decimal(total) * sum(stack) / 100)


@given(charge_lists, stacks)
def test_the_tax_per_line_is_the_sum_of_the_rounded_taxes_of_the_lines(
    charges: list[Charge], stack: list[Decimal]
) -> None:
    slip = tax_on(charges, rules(stack, method="line"))
    assert slip.tax_cents == sum(half_up(Decimal(each.cents) * sum(stack) / 100) for each in charges)


@given(charge_lists, stacks, methods)
def test_no_jurisdiction_is_a_cent_or_more_off_for_each_rounding(
    charges: list[Charge], stack: list[Decimal], method: Method
) -> None:
    slip = tax_on(charges, rules(stack, method=method))
    roundings = len(charges) if method == "line" else 1
    for each in slip.taxes:
        exact = Fraction(each.base_cents) * Fraction(each.rate.percent) / 100
        assert abs(each.tax_cents - exact) < roundings
        assert each.tax_cents >= 0
    assert sum(parts(slip)) == slip.tax_cents


@given(charge_lists, stacks, methods)
def test_base_and_tax_of_prices_with_the_tax_in_them_add_up_to_the_prices(
    charges: list[Charge], stack: list[Decimal], method: Method
) -> None:
    inside = [Charge(each.class_name, each.cents, includes_tax=True) for each in charges]
    slip = tax_on(inside, rules(stack, method=method))
    total = sum(each.cents for each in inside)
    assert slip.base_cents + slip.tax_cents == total
    assert all(0 <= each.base_cents <= each.charge.cents for each in slip.charges)
    if method == "slip":
        assert slip.base_cents == half_up(Fraction(total) / (1 + Fraction(sum(stack)) / 100))


@given(charge_lists, stacks, methods, st.dictionaries(st.sampled_from(sorted(ALL_TAXED)), st.booleans()))
def test_every_charge_is_treated_once_and_the_taxed_bases_are_what_each_jurisdiction_taxes(
    charges: list[Charge], stack: list[Decimal], method: Method, answers: dict[str, bool]
) -> None:
    slip = tax_on(charges, rules(stack, answers, method))
    assert [each.charge for each in slip.charges] == charges
    assert slip.base_cents == sum(each.cents for each in charges)
    taxed = sum(each.cents for each in charges if answers.get(each.class_name))
    assert all(each.base_cents == taxed for each in slip.taxes)
    assert set(slip.unanswered) == {each.class_name for each in charges} - set(answers)
