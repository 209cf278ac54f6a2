"""What is typed into forms: dates in words or in the locale's order, amounts in its signs, and small sums."""

from __future__ import annotations

from contextlib import suppress
from datetime import date, timedelta

import pytest
from babel.dates import format_date
from babel.numbers import format_decimal
from hypothesis import assume, given
from hypothesis import strategies as st

from ledger.errors import NotUnderstood
from ledger.money import MAX_CENTS, Currency, whole_units
from ledger.screens.reading import typed_amount, typed_date, typed_future_date, with_points

CURRENCIES = {
    "en_US": Currency("USD", 2),
    "de_DE": Currency("EUR", 2),
    "en_GB": Currency("GBP", 2),
    "ja_JP": Currency("JPY", 0),
    "fr_FR": Currency("EUR", 2),
    "de_CH": Currency("CHF", 2),
}
LOCALES = ("en_US", "de_DE", "en_GB", "ja_JP")
WEDNESDAY = date(2026, 11, 25)

days = st.dates(date(2000, 1, 1), date(2099, 12, 31))


def amount(text: str, locale: str = "en_US", *, zero: bool = False) -> int:
    return typed_amount(text, CURRENCIES[locale], locale, "amount", zero=zero)


def day(text: str, locale: str = "en_US", today: date = WEDNESDAY) -> date:
    return typed_date(text, today, locale, "on")


def day_to_come(text: str, locale: str = "en_US", today: date = WEDNESDAY) -> date:
    return typed_future_date(text, today, locale, "promised")


# Amounts


@pytest.mark.parametrize(
    ("locale", "text", "cents"),
    [
        ("en_US", "42.5", 42_50),
        ("en_US", "1,204.10", 1204_10),
        ("en_US", "$1,204.10", 1204_10),
        ("en_US", "USD 42.50", 42_50),
        ("en_US", "12.50+3", 15_50),
        ("en_US", " .5 ", 50),
        ("en_US", "5.", 5_00),
        ("en_US", "1 204.10", 1204_10),
        ("en_US", "1,000,000", 1_000_000_00),
        ("de_DE", "42,5", 42_50),
        ("de_DE", "42.5", 42_50),
        ("de_DE", "1.204,10", 1204_10),
        ("de_DE", "1.204", 1204_00),
        ("de_DE", "12,50 + 3", 15_50),
        ("en_GB", "1,204.10", 1204_10),
        ("ja_JP", "1,204", 1204),
        ("ja_JP", "42+8", 50),
        ("fr_FR", "1\u202f204,10", 1204_10),
        ("fr_FR", "1\u00a0204,10", 1204_10),
        ("fr_FR", "1 204,10", 1204_10),
        ("de_CH", "1’204.10", 1204_10),
    ],
)
def test_an_amount_is_read_in_the_signs_of_its_locale(locale: str, text: str, cents: int) -> None:
    assert amount(text, locale) == cents


@pytest.mark.parametrize(
    ("locale", "text"),
    [
        ("en_US", "1,5"),  # a comma is no decimal point here, and no thousand follows it
        ("en_US", "12 50"),
        ("en_US", "1,204,10"),
        ("en_US", "1.204,10"),
        ("en_US", "12,34,567"),
        ("en_US", "1.2.3"),
        ("en_US", "12.345"),
        ("en_US", "-5"),
        ("en_US", "5-3"),
        ("en_US", "+"),
        ("en_US", "5+"),
        ("en_US", "1e5"),
        ("en_US", "0x10"),
        ("en_US", "NaN"),
        ("en_US", "inf"),
        ("en_US", "1_000"),
        ("en_US", "٤٢"),
        ("en_US", "４２"),
        ("en_US", ""),
        ("en_US", "0"),
        ("en_US", "0+0"),
        ("en_US", "1000000000001"),
        ("en_US", "1000000000000+0.01"),
        ("de_DE", "1,204.10"),
        ("de_DE", "1,2.5"),
        ("de_DE", "1.2,5"),
        ("de_DE", "1,204"),
        ("ja_JP", "42.5"),
    ],
)
def test_what_is_no_amount_is_refused_with_a_sentence_about_its_field(locale: str, text: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        amount(text, locale)
    assert refused.value.field == "amount"
    assert refused.value.what.endswith(".")


def test_zero_may_stand_where_it_is_let() -> None:
    assert amount("0", zero=True) == 0
    assert amount("0+0", zero=True) == 0


@given(cents=st.integers(1, MAX_CENTS), locale=st.sampled_from(sorted(CURRENCIES)))
def test_every_amount_as_the_locale_prints_it_is_read_back(cents: int, locale: str) -> None:
    printed = format_decimal(whole_units(cents, CURRENCIES[locale]), locale=locale, decimal_quantization=False)
    assert amount(printed, locale) == cents
    plain = format(whole_units(cents, CURRENCIES[locale]), "f")
    grouped_by_accident = locale == "de_DE" and len(plain.partition(".")[2]) == 3
    assert grouped_by_accident or amount(plain, locale) == cents


@given(parts=st.lists(st.integers(0, 99_999_99), min_size=1, max_size=6), locale=st.sampled_from(LOCALES))
def test_a_sum_is_the_sum_of_its_parts(parts: list[int], locale: str) -> None:
    currency = CURRENCIES[locale]
    written = "+".join(
        format_decimal(whole_units(each, currency), locale=locale, decimal_quantization=False) for each in parts
    )
    assert amount(written, locale, zero=True) == sum(parts)


@given(text=st.text(st.sampled_from("0123456789.,+ -'’\u00a0e"), max_size=14), locale=st.sampled_from(LOCALES))
def test_an_amount_is_read_as_what_stands_there_or_refused(text: str, locale: str) -> None:
    """Whatever is read has the digits that were typed, in their order: nothing is dropped, nothing made up."""
    try:
        cents = amount(text, locale, zero=True)
    except NotUnderstood:
        return
    assert 0 <= cents <= MAX_CENTS
    if "+" not in text:
        digits = "".join(each for each in text if each.isdigit())
        value = str(whole_units(cents, CURRENCIES[locale])).replace(".", "")
        assert value.strip("0") == digits.strip("0")


@pytest.mark.parametrize(
    ("locale", "text", "read"),
    [
        ("de_DE", "142,5", "142.5"),
        ("de_DE", "142,5, 143", "142.5, 143"),
        ("en_US", "142,5", "142,5"),
        ("ja_JP", "142 143", "142 143"),
    ],
)
def test_a_length_with_a_decimal_comma_is_one_length_where_the_locale_writes_it_so(
    locale: str, text: str, read: str
) -> None:
    assert with_points(text, locale) == read


# Dates


@pytest.mark.parametrize(
    ("text", "past", "to_come"),
    [
        ("today", WEDNESDAY, WEDNESDAY),
        ("Yesterday", date(2026, 11, 24), date(2026, 11, 24)),
        ("last fri", date(2026, 11, 20), date(2026, 11, 20)),
        ("last  FRIDAY", date(2026, 11, 20), date(2026, 11, 20)),
        ("fri", date(2026, 11, 20), date(2026, 11, 27)),
        ("wed", date(2026, 11, 18), date(2026, 12, 2)),
        ("thurs", date(2026, 11, 19), date(2026, 11, 26)),
        ("3/14", date(2026, 3, 14), date(2027, 3, 14)),
        ("11/25", WEDNESDAY, WEDNESDAY),
        ("11/26", date(2025, 11, 26), date(2026, 11, 26)),
        ("2/29", date(2024, 2, 29), date(2028, 2, 29)),
        ("3/14/25", date(2025, 3, 14), date(2025, 3, 14)),
        ("3-14-2025", date(2025, 3, 14), date(2025, 3, 14)),
        ("2026-03-14", date(2026, 3, 14), date(2026, 3, 14)),
    ],
)
def test_a_day_is_the_latest_such_day_for_a_receipt_and_the_next_for_a_promise(
    text: str, past: date, to_come: date
) -> None:
    assert day(text) == past
    assert day_to_come(text) == to_come


def test_an_empty_date_is_today_and_some_words_are_for_days_to_come_alone() -> None:
    assert day("") == WEDNESDAY
    assert day_to_come("tomorrow") == date(2026, 11, 26)
    assert day_to_come("next fri") == date(2026, 11, 27)
    for text in ("tomorrow", "next fri"):
        with pytest.raises(NotUnderstood):
            day(text)


@pytest.mark.parametrize(
    ("locale", "text"),
    [
        ("en_US", "3/14"),
        ("ja_JP", "3/14"),
        ("en_GB", "14/3"),
        ("de_DE", "14.3"),
        ("de_DE", "14.3."),
        ("de_DE", "14. 3."),
    ],
)
def test_day_and_month_stand_in_the_locales_own_order(locale: str, text: str) -> None:
    assert day(text, locale) == date(2026, 3, 14)


@pytest.mark.parametrize(
    "text",
    [
        *("last month", "monkey", "fr", "last", "last last fri", "soon", "1", "14", "0/0", "13/1", "2/30", "3/14/6"),
        *("3/14/026", "2026-3", "026/3/4", "2026-02-29", "0000-01-01", "3//14", "３/１４", "-3/14", "x 3/14"),
    ],
)
def test_what_is_no_date_is_refused_with_a_sentence_about_its_field(text: str) -> None:
    for read in (day, day_to_come):
        with pytest.raises(NotUnderstood) as refused:
            read(text)
        assert refused.value.what.endswith(".")


@given(today=days, written=days, locale=st.sampled_from(LOCALES))
def test_every_whole_date_is_read_whatever_the_locale(today: date, written: date, locale: str) -> None:
    assert day(written.isoformat(), locale, today) == written
    in_order = f"{written.month}/{written.day}" if locale in ("en_US", "ja_JP") else f"{written.day}/{written.month}"
    assert day(f"{in_order}/{written.year}", locale, today) == written
    assert day(format_date(written, "short", locale=locale), locale, today) == written


@given(today=days, back=st.integers(0, 364), locale=st.sampled_from(LOCALES))
def test_month_and_day_alone_are_the_day_within_a_year(today: date, back: int, locale: str) -> None:
    then, ahead = today - timedelta(days=back), today + timedelta(days=back)
    for meant, read in ((then, day), (ahead, day_to_come)):
        assume((meant.month, meant.day) != (2, 29))
        month_first = locale in ("en_US", "ja_JP")
        text = f"{meant.month}/{meant.day}" if month_first else f"{meant.day}.{meant.month}"
        assert read(text, locale, today) == meant


@given(today=days, name=st.sampled_from(["monday", "tue", "wednes", "thursday", "fri", "satur", "sun"]))
def test_a_weekday_is_at_most_a_week_away_and_never_today(today: date, name: str) -> None:
    past, to_come = day(name, today=today), day_to_come(name, today=today)
    assert timedelta(1) <= today - past <= timedelta(7)
    assert timedelta(1) <= to_come - today <= timedelta(7)
    assert past.weekday() == to_come.weekday()
    assert format_date(past, "EEEE", locale="en_US").casefold().startswith(name)


@given(text=st.text(max_size=12), locale=st.sampled_from(LOCALES), today=days)
def test_whatever_is_typed_is_a_date_or_refused(text: str, locale: str, today: date) -> None:
    for read in (day, day_to_come):
        with suppress(NotUnderstood):
            assert isinstance(read(text, locale, today), date)
