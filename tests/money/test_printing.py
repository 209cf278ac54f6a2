"""Amounts are printed as commands promise: a point, the currency's decimals, a minus sign in front, no more."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.money import Currency, plain_amount, whole_units


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (8_064, 2, "80.64"),
        (-5_000, 2, "-50.00"),
        (0, 2, "0.00"),
        (-1, 2, "-0.01"),
        (5, 2, "0.05"),
        (1_204, 0, "1204"),
        (-7, 0, "-7"),
        (0, 0, "0"),
        (1_005, 3, "1.005"),
        (-5, 3, "-0.005"),
        (10**14, 2, "1000000000000.00"),
    ],
)
def test_an_amount_is_printed_with_the_decimals_of_its_currency(value: int, decimals: int, text: str) -> None:
    assert plain_amount(value, Currency("XXX", decimals)) == text


@given(st.integers(min_value=-(10**14), max_value=10**14), st.sampled_from([0, 2, 3, 4]))
def test_a_printed_amount_is_worth_what_it_was(value: int, decimals: int) -> None:
    text = plain_amount(value, Currency("XXX", decimals))
    assert Decimal(text).scaleb(decimals) == value
    assert whole_units(value, Currency("XXX", decimals)) == Decimal(text)
    assert len(text.partition(".")[2]) == decimals
