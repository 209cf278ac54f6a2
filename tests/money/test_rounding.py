"""One rounding: half up on the size, from the exact value, against `Decimal` with ROUND_HALF_UP as a second opinion."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.money import Currency, cents_of, percent_of, round_half_up

WIDE = Context(prec=60)

decimals = st.decimals(min_value=-(10**12), max_value=10**12, allow_nan=False, allow_infinity=False, places=6)
fractions = st.fractions(min_value=-(10**9), max_value=10**9, max_denominator=10**6)


def rounded_by_decimal(value: Decimal) -> int:
    return int(value.quantize(Decimal(1), rounding=ROUND_HALF_UP, context=WIDE))


@pytest.mark.parametrize(
    ("exact", "whole"),
    [
        ("12.5", 13),  # half-even would say 12
        ("13.5", 14),
        ("-12.5", -13),  # a refund mirrors its sale
        ("0.5", 1),
        ("-0.5", -1),
        ("0.4999999999999999999999999999", 0),
        ("8.46", 8),
        ("8.5", 9),
        ("0", 0),
        ("982.832", 983),
    ],
)
def test_a_half_goes_away_from_zero(exact: str, whole: int) -> None:
    assert round_half_up(Decimal(exact)) == whole
    assert round_half_up(Fraction(exact)) == whole


def test_a_value_just_below_a_half_that_no_float_can_tell_from_it_goes_down() -> None:
    just_below = Fraction(1, 2) - Fraction(1, 10**30)
    assert float(just_below) == 0.5
    assert round_half_up(just_below) == 0


@given(decimals)
def test_rounding_agrees_with_decimal_half_up(value: Decimal) -> None:
    assert round_half_up(value) == rounded_by_decimal(value)


@given(fractions)
def test_what_is_rounded_is_at_most_half_a_cent_off_and_a_half_lies_outward(exact: Fraction) -> None:
    off = abs(round_half_up(exact)) - abs(exact)
    assert -Fraction(1, 2) < off <= Fraction(1, 2)


@given(fractions)
def test_a_refund_is_rounded_as_its_sale(exact: Fraction) -> None:
    assert round_half_up(-exact) == -round_half_up(exact)


@given(
    st.decimals(min_value=0, max_value=10**4, places=4),
    st.decimals(min_value=0, max_value=10**4, places=6),
    st.sampled_from([0, 2, 3]),
)
def test_quantity_times_rate_is_rounded_once_from_the_exact_product(
    quantity: Decimal, rate: Decimal, places: int
) -> None:
    product = WIDE.scaleb(WIDE.multiply(quantity, rate), places)
    assert cents_of(quantity, rate, Currency("XXX", places)) == rounded_by_decimal(product)


@given(
    st.integers(min_value=-(10**14), max_value=10**14),
    st.decimals(min_value=0, max_value=100, places=6),
)
def test_a_percent_of_an_amount_is_exact(amount: int, percent: Decimal) -> None:
    exact = WIDE.divide(WIDE.multiply(Decimal(amount), percent), Decimal(100))
    assert percent_of(amount, percent) == Fraction(exact)


def test_no_float_is_taken_for_a_rate_that_it_cannot_hold() -> None:
    assert cents_of(Decimal("100"), Decimal("19.99"), Currency("USD", 2)) == 199_900
    assert cents_of(Decimal("1"), Decimal("1.005"), Currency("USD", 2)) == 101  # the float 1.005 lies below the half
