"""Figures are written as people write them where the workshop is."""

from __future__ import annotations

import unicodedata
from datetime import date
from decimal import Decimal

import pytest

from ledger.money import Currency
from ledger.paper.locales import A4, LETTER, LocalForms

USD, EUR, JPY = Currency("USD", 2), Currency("EUR", 2), Currency("JPY", 0)
NO_BREAK, NARROW = "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("locale", "currency", "cents", "written"),
    [
        ("en_US", USD, 123456_78, "$123,456.78"),
        ("en_US", USD, -50_00, "-$50.00"),
        ("de_DE", EUR, 1234_50, f"1.234,50{NO_BREAK}€"),
        ("fr_FR", EUR, 1234_50, f"1{NARROW}234,50{NO_BREAK}€"),
        ("ja_JP", JPY, 1234, "￥1,234"),
        ("en_US", Currency("KWD", 3), 1234, f"KWD{NO_BREAK}1.234"),
        ("en_CA", USD, 1_50, "US$1.50"),
        ("he_IL", Currency("ILS", 2), -50_00, f"-50.00{NO_BREAK}₪"),
    ],
)
def test_an_amount_has_the_sign_of_its_currency(locale: str, currency: Currency, cents: int, written: str) -> None:
    assert LocalForms(locale, currency).amount(cents) == written


@pytest.mark.parametrize(
    ("currency", "rate", "written"),
    [
        (USD, "0.02", "0.02"),
        (USD, "12.5", "12.50"),
        (USD, "0.015", "0.015"),
        (USD, "1200", "1,200.00"),
        (JPY, "3", "3"),
    ],
)
def test_a_rate_has_the_decimals_of_its_currency_or_more(currency: Currency, rate: str, written: str) -> None:
    assert LocalForms("en_US", currency).rate(Decimal(rate)) == written


@pytest.mark.parametrize(
    ("locale", "value", "written"),
    [
        ("en_US", "4032", "4,032"),
        ("en_US", "2.2222", "2.2222"),
        ("en_US", "1E+3", "1,000"),
        ("en_US", "0.000000001", "0.000000001"),
        ("de_DE", "12345.5", "12.345,5"),
        ("en_IN", "1234567", "12,34,567"),
    ],
)
def test_a_quantity_keeps_the_decimals_that_it_has(locale: str, value: str, written: str) -> None:
    assert LocalForms(locale, USD).number(Decimal(value)) == written


@pytest.mark.parametrize(
    ("locale", "percent", "written"),
    [
        ("en_US", "5.3", "5.3%"),
        ("en_US", "8.875", "8.875%"),
        ("en_US", "4.00", "4%"),
        ("de_DE", "19", f"19{NO_BREAK}%"),
    ],
)
def test_a_percent_is_not_rounded(locale: str, percent: str, written: str) -> None:
    assert LocalForms(locale, USD).percent(Decimal(percent)) == written


@pytest.mark.parametrize(
    ("locale", "written"),
    [
        ("en_US", "Mar 18, 2026"),
        ("de_DE", "18.03.2026"),
        ("ja_JP", "2026/03/18"),
        ("ru_RU", f"18 мар. 2026{NARROW}г."),
        ("zh_CN", "2026-03-18"),
        ("hi_IN", "2026-03-18"),
    ],
)
def test_a_day_is_in_figures_where_few_fonts_have_the_months_letters(locale: str, written: str) -> None:
    assert LocalForms(locale, USD).day(date(2026, 3, 18)) == written


@pytest.mark.parametrize("locale", ["ar_EG", "fa_IR", "he_IL"])
def test_no_figure_has_a_mark_that_turns_the_writing(locale: str) -> None:
    forms = LocalForms(locale, USD)
    written = forms.amount(-1_50) + forms.day(date(2026, 3, 18)) + forms.percent(Decimal("5.3"))
    assert "Cf" not in map(unicodedata.category, written)


@pytest.mark.parametrize("locale", ["en_US", "en", "en_CA", "fr_CA", "es_MX", "es_CL", "en_PH"])
def test_paper_is_letter_where_that_is_the_usual_size(locale: str) -> None:
    assert LocalForms(locale, USD).paper() == LETTER


@pytest.mark.parametrize("locale", ["de_DE", "de", "en_GB", "ja_JP", "fr_FR", "pt_BR", "en_001"])
def test_paper_is_a4_elsewhere(locale: str) -> None:
    paper = LocalForms(locale, USD).paper()
    assert paper == A4
    assert (round(paper.width / 72 * 25.4), round(paper.height / 72 * 25.4)) == (210, 297)
