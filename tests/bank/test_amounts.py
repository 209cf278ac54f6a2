"""Amounts as banks write them, and what the column shows of its decimals."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.bank.amounts import Mark, bank_cents, decimal_marks
from ledger.errors import NotUnderstood
from ledger.money import Currency
from tests.bank.files import USD


@pytest.mark.parametrize(
    ("text", "mark", "cents"),
    [
        ("12", ".", 12_00),
        ("-1,204.10", ".", -1_204_10),
        ("1.204,10", ",", 1_204_10),
        ("1.204,10-", ",", -1_204_10),
        ("(80.00)", ".", -80_00),
        ("( $80.00 )", ".", -80_00),
        ("$12.50", ".", 12_50),
        ("-$12.50", ".", -12_50),
        ("USD 12.50", ".", 12_50),
        ("12.50 USD", ".", 12_50),
        ("+7.5", ".", 7_50),
        ("1'204.10", ".", 1_204_10),
        ("1 204,10", ",", 1_204_10),
        ("1\u202f204,10", ",", 1_204_10),
        (".50", ".", 50),
        ("\u22123.00", ".", -3_00),
        ("0.00", ".", 0),
        ("12.500", ".", 12_50),
    ],
)
def test_an_amount_is_read_to_the_cent(text: str, mark: Mark, cents: int) -> None:
    assert bank_cents(text, USD, mark) == cents


@pytest.mark.parametrize(
    "text",
    ["", "ten", "NaN", "1E+999", "1e5", "12.345", "1_000", "12 34", "1,20.00", "--5", "(5", "٣.00", "9" * 40, "."]
    + ["1234567890123456", "$", "-", "Infinity", "0x10", "1.2.3", "5-5"],
)
def test_what_is_no_amount_is_refused(text: str) -> None:
    with pytest.raises(NotUnderstood):
        bank_cents(text, USD)


def test_a_currency_without_decimals_takes_none() -> None:
    assert bank_cents("1,204", Currency("JPY", 0)) == 1204
    with pytest.raises(NotUnderstood):
        bank_cents("12.5", Currency("JPY", 0))


@pytest.mark.parametrize(
    ("column", "marks"),
    [
        (["12.50", "1,204.10"], {"."}),
        (["12,50", "1.204,10"], {","}),
        (["1,204", "2,500"], {".", ","}),
        (["12", "7"], {".", ","}),
        (["12.5", "12,5"], set()),
        (["ten"], set()),
    ],
)
def test_the_whole_column_shows_which_sign_stands_before_decimals(column: list[str], marks: set[str]) -> None:
    assert decimal_marks(column) == marks


@given(st.integers(-(10**12), 10**12), st.sampled_from([".", ","]))
def test_every_amount_is_read_back_as_it_was_written(cents: int, mark: Mark) -> None:
    whole, part = divmod(abs(cents), 100)
    grouped = f"{whole:,}" if mark == "." else f"{whole:,}".replace(",", ".")
    text = f"{'-' if cents < 0 else ''}{grouped}{mark}{part:02d}"
    assert bank_cents(text, USD, mark) == cents


@given(st.text(max_size=30))
def test_any_text_is_an_amount_or_refused(text: str) -> None:
    with suppress(NotUnderstood):
        assert isinstance(bank_cents(text, USD), int)
