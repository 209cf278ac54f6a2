"""Amounts are read strictly: ASCII digits and one point, nothing that `Decimal` or `float` would let through beside.

The second opinion is written from the sentence, character by character, and takes the value from `Decimal`.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotUnderstood
from ledger.money import MAX_CENTS, Currency, plain_amount, read_amount, whole_units

USD, JPY, KWD = Currency("USD", 2), Currency("JPY", 0), Currency("KWD", 3)
MOST_WHOLE_DIGITS, MOST_DECIMALS = 15, 9
SEED = 20261125


@pytest.mark.parametrize(
    ("text", "currency", "value"),
    [
        ("1204.10", USD, 120_410),
        ("1204.1", USD, 120_410),
        ("1204", USD, 120_400),
        ("0.01", USD, 1),
        (" 42.5 ", USD, 4_250),
        ("42.50000", USD, 4_250),
        ("0042.50", USD, 4_250),
        ("19.99", USD, 1_999),
        ("1000000000000.00", USD, 10**14),
        ("1204", JPY, 1_204),
        ("1204.00", JPY, 1_204),
        ("100000000000000", JPY, 10**14),
        ("1.234", KWD, 1_234),
        ("1.2", KWD, 1_200),
    ],
)
def test_an_amount_is_read_in_the_minor_unit_of_its_currency(text: str, currency: Currency, value: int) -> None:
    assert read_amount(text, currency) == value


@pytest.mark.parametrize(
    "text",
    [
        *("", " ", ".", "-", "abc", "5.", ".5", "5..0", "1.2.3", "--5", "5-", "+5", "$5", "5 USD", "5,00", "1,204.10"),
        *("1 204.10", "1_000", "1'000", "0x10", "1e3", "1E3", "1e999", "1e-2", "5e", "5.0e0"),
        *("NaN", "nan", "sNaN", "inf", "Infinity", "-inf", "١٢", "१२", "\uff11\uff12", "𝟏𝟐", "1٫5", "²", "½", "Ⅳ"),
        *("1\x002", "1\u200b2", "1\u00a02", "1\n2", "\u202e12", "\ufeff12", "12\u00b7", "\u22125"),
        *("1" * 16, "0" * 16, "9" * 400, "0." + "0" * 10, "1." + "1" * 400),
    ],
)
def test_what_is_no_plain_amount_is_refused(text: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_amount(text, USD, "amount", zero=True)
    assert refused.value.field == "amount"


@pytest.mark.parametrize(
    ("text", "currency"),
    [("-5", USD), ("-0.01", USD), ("0", USD), ("0.00", USD), ("-0", USD), ("0.001", USD), ("1.005", USD)]
    + [("0.1", JPY), ("1.5", JPY), ("1.2345", KWD), ("1000000000000.01", USD), ("999999999999999", USD)]
    + [("100000000000001", JPY), ("100000000000.001", KWD)],
)
def test_an_amount_below_zero_of_zero_too_fine_or_too_large_is_refused(text: str, currency: Currency) -> None:
    with pytest.raises(NotUnderstood):
        read_amount(text, currency)


@pytest.mark.parametrize("text", ["0", "0.00", "-0", "000"])
def test_zero_is_read_where_it_may_stand(text: str) -> None:
    assert read_amount(text, USD, zero=True) == 0


@given(st.integers(min_value=1, max_value=MAX_CENTS), st.sampled_from([USD, JPY, KWD]))
def test_every_amount_is_read_back_as_it_was_printed(value: int, currency: Currency) -> None:
    assert read_amount(plain_amount(value, currency), currency) == value
    assert whole_units(value, currency) == Decimal(plain_amount(value, currency))


@given(st.text(max_size=12) | st.text(alphabet="0123456789.-+eE_ ,", max_size=20), st.sampled_from([USD, JPY, KWD]))
def test_any_text_is_read_as_the_second_opinion_reads_it(text: str, currency: Currency) -> None:
    assert reading(text, currency) == second_opinion(text, currency)


@pytest.mark.slow
def test_a_hundred_thousand_texts_are_read_as_the_second_opinion_reads_them() -> None:
    read = 0
    random = Random(SEED)
    for text in texts(random, 100_000):
        currency = random.choice([USD, USD, JPY, KWD])
        expected = second_opinion(text, currency)
        assert reading(text, currency) == expected, (SEED, text, currency)
        read += expected is not None
    assert read > 30_000, "too few of the texts are amounts for the run to mean anything"


def reading(text: str, currency: Currency) -> int | None:
    try:
        return read_amount(text, currency, zero=True)
    except NotUnderstood:
        return None


def second_opinion(text: str, currency: Currency) -> int | None:
    """Cents, or None where the text is to be refused."""
    bare = text.strip()
    negative = bare.startswith("-")
    bare = bare[1:] if negative else bare
    whole, point, rest = bare.partition(".")
    if not whole or any(character not in "0123456789" for character in whole + rest) or (point and not rest):
        return None
    if len(whole) > MOST_WHOLE_DIGITS or len(rest) > MOST_DECIMALS:
        return None
    value = Decimal(bare).scaleb(currency.decimals)
    if value != int(value) or value > 10**14 or (negative and value):
        return None
    return int(value)


def texts(random: Random, count: int) -> Iterator[str]:
    """Amounts, amounts with something put in, taken out or doubled, and soup of what amounts are made of."""
    strange = "eE_+-., '$%xXnNaiI٠١२３²½\u200b\u00a0\u202e\x00\x1b\t\n"
    for _ in range(count):
        digits = "".join(random.choices("0123456789", k=random.choice([1, 1, 2, 3, 4, 8, 14, 15, 16])))
        text = digits + random.choice(["", "", ".5", ".50", ".005", ".000", f".{random.randrange(10**4)}"])
        for _ in range(random.choice([0, 0, 0, 1, 2])):
            place = random.randrange(len(text) + 1)
            put_in = random.choice([random.choice(strange), random.choice("0123456789."), ""])
            text = text[:place] + put_in + text[place + random.choice([0, 1]) :]
        yield random.choice(["", "", "", "-", " ", "\t"]) + text + random.choice(["", "", "", " ", "\n"])
