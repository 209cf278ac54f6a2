"""How amounts, dates and text from outside are shown in the rooms: by the books' locale, and never as markup."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from babel.dates import format_date, format_skeleton
from babel.numbers import format_currency, format_decimal, format_percent
from textual.content import Content

from ledger.books.books import Settings
from ledger.money import whole_units
from ledger.text import clean, shown


class Showing:
    """Formats for one books folder."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings

    def amount(self, cents: int) -> str:
        """`$1,204.10` in the United States."""
        currency = self._settings.currency
        return format_currency(whole_units(cents, currency), currency.code, locale=self._settings.locale)

    def plain(self, cents: int) -> str:
        """The amount without the sign of its currency, for columns."""
        currency = self._settings.currency
        pattern = "#,##0" + ("." + "0" * currency.decimals if currency.decimals else "")
        return format_decimal(whole_units(cents, currency), pattern, locale=self._settings.locale)

    def number(self, value: Decimal) -> str:
        return format_decimal(value, locale=self._settings.locale, decimal_quantization=False)

    def percent(self, value: Decimal) -> str:
        return format_percent(value / 100, "#,##0.00 %", locale=self._settings.locale)

    def day(self, day: date) -> str:
        """`Mar 18, 2026` in the United States."""
        return format_date(day, "medium", locale=self._settings.locale)

    def month_day(self, day: date) -> str:
        """`Mar 18`, or as the locale has it."""
        return format_skeleton("MMMd", day, locale=self._settings.locale)

    def short_day(self, day: date) -> str:
        """Weekday and day of the month, for lists of what is near."""
        return format_skeleton("MMMEd", day, locale=self._settings.locale)


def plain_text(text: str) -> Content:
    """Text from outside as text: nothing in it is markup, and nothing in it reaches the terminal as a command."""
    return Content(shown(text))


def plain_lines(lines: Iterable[str]) -> Content:
    """Lines as `plain_text`."""
    return Content("\n".join(clean(line, keep_lines=True) for line in lines))


def counted(number: int, one: str, many: str | None = None) -> str:
    """`1 piece`, `2 pieces`."""
    return f"{number} {one if number == 1 else many or one + 's'}"
