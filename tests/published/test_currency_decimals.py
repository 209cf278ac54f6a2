"""The decimals of currencies: ISO 4217 as the standard's list has them, and CLDR as the formatting library has them.

Books take CLDR, which gives the decimals in use; where it gives fewer than ISO 4217 the row says so.
"""

from __future__ import annotations

import pytest
from babel.numbers import format_currency, get_currency_precision

from ledger.errors import NotUnderstood
from ledger.money import currency_from_code, plain_amount, read_amount, whole_units

pytestmark = pytest.mark.published

# S: ISO 4217, list one, as published on 29 August 2018 (a stored copy made from the standard's own file).
WITH_TWO = "USD CAD EUR GBP AUD NZD CHF MXN SEK NOK DKK INR BRL ZAR CNY PLN CZK HUF IDR"
WITHOUT = "JPY KRW CLP ISK VND XAF XOF XPF PYG UGX RWF KMF GNF DJF BIF VUV"
WITH_THREE = "KWD BHD JOD OMR TND LYD"
ISO_4217 = {code: places for places, codes in ((2, WITH_TWO), (0, WITHOUT), (3, WITH_THREE)) for code in codes.split()}
# L: CLDR (the library prints them), where it gives other decimals than ISO 4217: (ISO, CLDR).
DIFFERING = {"IQD": (3, 0), "LBP": (2, 0), "AFN": (2, 0), "RSD": (2, 0), "MMK": (2, 0), "IRR": (2, 0)}


@pytest.mark.parametrize(("code", "decimals"), ISO_4217.items())
def test_the_decimals_are_those_of_iso_4217_and_of_cldr(code: str, decimals: int) -> None:
    assert currency_from_code(code).decimals == decimals == get_currency_precision(code)


@pytest.mark.parametrize(("code", "decimals"), DIFFERING.items())
def test_where_the_two_differ_books_take_what_is_in_use(code: str, decimals: tuple[int, int]) -> None:
    iso, in_use = decimals
    assert currency_from_code(code).decimals == in_use == get_currency_precision(code)
    assert iso != in_use


@pytest.mark.parametrize(
    ("code", "text", "minor", "printed"),
    [
        ("USD", "1204.10", 120_410, "1,204.10"),
        ("JPY", "1204", 1_204, "1,204"),
        ("KWD", "1204.105", 1_204_105, "1,204.105"),
        ("CAD", "0.05", 5, "0.05"),
    ],
)
def test_an_amount_is_read_kept_and_printed_with_them(code: str, text: str, minor: int, printed: str) -> None:
    currency = currency_from_code(code)
    assert read_amount(text, currency) == minor
    assert plain_amount(minor, currency) == text
    assert format_currency(whole_units(minor, currency), code, locale="en_US").endswith(printed)


@pytest.mark.parametrize("code", ["", "US", "DOLLAR", "XYZ", "us$", "U\u200bSD"])
def test_what_is_no_code_is_refused(code: str) -> None:
    with pytest.raises(NotUnderstood):
        currency_from_code(code)


def test_a_code_may_be_typed_in_small_letters() -> None:
    assert currency_from_code(" usd ").code == "USD"
