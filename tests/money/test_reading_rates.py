"""Rates, quantities and percents are read as strictly as amounts and kept exactly, with six decimals at most."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotUnderstood
from ledger.money import plain_decimal, plain_percent, read_percent, read_quantity, read_rate

Reader = Callable[[str], Decimal]
READERS: tuple[Reader, ...] = (read_rate, read_quantity, read_percent)


@pytest.mark.parametrize(
    ("reader", "text", "value"),
    [
        (read_rate, "0.0175", "0.0175"),
        (read_rate, "0", "0"),
        (read_rate, "1000000", "1000000"),
        (read_rate, "0.000001", "0.000001"),
        (read_quantity, "56.5", "56.5"),
        (read_quantity, "0.25", "0.25"),
        (read_percent, "5.3", "5.3"),
        (read_percent, "8.875", "8.875"),
        (read_percent, "5.3%", "5.3"),
        (read_percent, "5.3 %", "5.3"),
        (read_percent, "0", "0"),
        (read_percent, "100", "100"),
        (read_percent, "5.300000000", "5.3"),
    ],
)
def test_a_number_is_kept_exactly(reader: Reader, text: str, value: str) -> None:
    assert reader(text) == Decimal(value)


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(
    "text",
    ["", "NaN", "inf", "-Infinity", "1e999", "1e2", "1_000", "١", "５", "½", "5,3", "-1", "0.0000001", "9" * 16, "1..2"]
    + ["1" * 300, "0x5", "5.3.1", ".5", "5.", "+5", "\u200b5", "5%%", "%", "1000000.5"],
)
def test_what_is_no_plain_number_is_refused(reader: Reader, text: str) -> None:
    with pytest.raises(NotUnderstood):
        reader(text)


def test_a_quantity_of_zero_is_refused_and_a_percent_above_a_hundred_too() -> None:
    for reader, text in ((read_quantity, "0"), (read_quantity, "0.000"), (read_percent, "100.000001")):
        with pytest.raises(NotUnderstood):
            reader(text)


@given(st.decimals(min_value=0, max_value=100, places=6))
def test_every_number_is_read_back_as_it_was_printed(value: Decimal) -> None:
    assert read_percent(plain_percent(value)) == value
    assert read_rate(plain_decimal(value)) == value


@given(st.decimals(min_value=-(10**9), max_value=10**9, allow_nan=False, allow_infinity=False))
def test_a_printed_number_has_no_exponent_and_is_the_same_number(value: Decimal) -> None:
    text = plain_decimal(value)
    assert "E" not in text.upper()
    assert Decimal(text) == value


@pytest.mark.parametrize(
    ("value", "text"),
    [("5.3", "5.30"), ("8.875", "8.875"), ("0", "0.00"), ("1E+1", "10.00"), ("5.3000", "5.30"), ("100", "100.00")],
)
def test_a_percent_is_printed_with_two_decimals_or_more(value: str, text: str) -> None:
    assert plain_percent(Decimal(value)) == text
