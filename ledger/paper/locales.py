"""Amounts, numbers, percents and days as people write them where the workshop is, and the paper they print on."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.money import Currency, whole_units

# Unicode Locale Data Markup Language (UTS 35), part 2, measurement system data: paperSize, read November 2026.
LETTER_TERRITORIES = {"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"}
MOST_DECIMALS = 6
# The space that goes between letters that stand for a currency and the figures: UTS 35, part 3, currency spacing.
_LETTER_AT_DIGIT = re.compile(r"(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])")


@dataclass(frozen=True)
class PaperSize:
    """Width and height in points, 72 to the inch."""

    name: str
    width: float
    height: float


LETTER = PaperSize("Letter", 612, 792)
A4 = PaperSize("A4", 210 / 25.4 * 72, 297 / 25.4 * 72)


@dataclass(frozen=True)
class LocalForms:
    """How a place writes figures. locale: such as en_US. Babel is imported where a figure is written: 60 ms."""

    locale: str
    currency: Currency

    def amount(self, cents: int) -> str:
        """With the sign of the currency: $1,234.50, KWD 1.234."""
        from babel.numbers import format_currency

        written = format_currency(whole_units(cents, self.currency), self.currency.code, locale=self.locale)
        return _LETTER_AT_DIGIT.sub("\N{NO-BREAK SPACE}", _bare(written))

    def rate(self, rate: Decimal) -> str:
        """A price for one unit, with the decimals of the currency or more: 0.02, 12.50, 0.015."""
        return self._number(rate, self.currency.decimals)

    def number(self, value: Decimal) -> str:
        """A quantity, with the decimals that it has: 4,032, 56.5."""
        return self._number(value, 0)

    def percent(self, percent: Decimal) -> str:
        """5.3%, 8.875%."""
        from babel.numbers import format_percent

        return _bare(format_percent(percent.scaleb(-2), locale=self.locale, decimal_quantization=False))

    def day(self, day: date) -> str:
        """Mar 18, 2026; in figures alone where the month is written in a script that few fonts have."""
        from babel.dates import format_date

        written = _bare(format_date(day, locale=self.locale))
        return written if all(map(_is_plain, written)) else day.isoformat()

    def paper(self) -> PaperSize:
        """Letter where that is the usual size, A4 elsewhere; a language alone counts as where most speak it."""
        from babel import Locale
        from babel.core import get_global

        territory = Locale.parse(self.locale).territory
        likely = str(get_global("likely_subtags").get(self.locale, ""))
        return LETTER if (territory or likely.rpartition("_")[2]) in LETTER_TERRITORIES else A4

    def _number(self, value: Decimal, least_decimals: int) -> str:
        from babel import Locale
        from babel.numbers import format_decimal

        whole = Locale.parse(self.locale).decimal_formats[None].pattern.partition(".")[0]
        decimals = "0" * least_decimals + "#" * (MOST_DECIMALS - least_decimals)
        pattern = f"{whole}.{decimals}"
        return _bare(format_decimal(value, pattern, locale=self.locale, decimal_quantization=False))


def _bare(written: str) -> str:
    """Without the marks that turn the direction of writing, which the locale data put around signs and figures."""
    return "".join(each for each in written if unicodedata.category(each) != "Cf")


def _is_plain(character: str) -> bool:
    return not character.isalpha() or unicodedata.name(character, "").startswith(("LATIN", "GREEK", "CYRILLIC"))
