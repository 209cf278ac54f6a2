"""How amounts, dates and text from outside are shown in the rooms: by the books' locale, and never as markup."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from functools import lru_cache

from babel.dates import format_date, format_skeleton
from babel.numbers import format_currency, format_decimal, format_percent, get_decimal_symbol, get_group_symbol
from rich.cells import cell_len, set_cell_size
from rich.text import Text
from textual.content import Content

from ledger.books.books import Settings
from ledger.money import Currency, whole_units
from ledger.text import clean, shown

# A job's state in a word; a job that is gone or called off is on the bench only while it owes.
STATE_WORDS = {
    "ready": "ready",
    "in-hand": "here",
    "booked": "booked",
    "asked": "asked",
    "gone": "owes",
    "called-off": "owes",
}


class Showing:
    """Formats for one books folder."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings

    @property
    def currency(self) -> Currency:
        return self._settings.currency

    @property
    def number_signs(self) -> tuple[str, str]:
        """The signs for thousands and decimals."""
        locale = self._settings.locale
        return get_group_symbol(locale), get_decimal_symbol(locale)

    def count(self, number: int) -> str:
        """How many there are: `1,204`."""
        return format_decimal(number, "#,##0", locale=self._settings.locale)

    def amount(self, cents: int) -> str:
        """`$1,204.10` in the United States."""
        currency = self._settings.currency
        return format_currency(whole_units(cents, currency), currency.code, locale=self._settings.locale)

    def plain(self, cents: int) -> str:
        """The amount without the sign of its currency, for columns."""
        currency = self._settings.currency
        pattern = "#,##0" + ("." + "0" * currency.decimals if currency.decimals else "")
        return format_decimal(whole_units(cents, currency), pattern, locale=self._settings.locale)

    def whole(self, cents: int) -> str:
        """The amount without decimals and sign, for an axis."""
        return format_decimal(whole_units(cents, self._settings.currency), "#,##0", locale=self._settings.locale)

    def number(self, value: Decimal) -> str:
        return format_decimal(value, locale=self._settings.locale, decimal_quantization=False)

    def percent(self, value: Decimal) -> str:
        return format_percent(value / 100, "#,##0.00 %", locale=self._settings.locale)

    def day(self, day: date) -> str:
        """`Mar 18, 2026` in the United States."""
        return format_date(day, "medium", locale=self._settings.locale)

    def day_once(self, day: date) -> str:
        """As `day`, each day put in words once: for lists of thousands."""
        return _day_once(day, self._settings.locale)

    def month_day(self, day: date) -> str:
        """`Mar 18`, or as the locale has it."""
        return format_skeleton("MMMd", day, locale=self._settings.locale)

    def short_day(self, day: date) -> str:
        """Weekday and day of the month, for lists of what is near."""
        return format_skeleton("MMMEd", day, locale=self._settings.locale)

    def month_name(self, day: date) -> str:
        """`Mar`, or as the locale has it."""
        return format_date(day, "LLL", locale=self._settings.locale)

    def month_letter(self, day: date) -> str:
        """The first letter of the month's name, or its number where the locale has no letter for it."""
        return format_date(day, "LLLLL", locale=self._settings.locale)

    def month(self, day: date) -> str:
        """`March 2026`."""
        return format_skeleton("yMMMM", day, locale=self._settings.locale)

    def share(self, percent: Decimal) -> str:
        """A share with one decimal, `21.7 %`."""
        return format_percent(percent / 100, "#,##0.0 %", locale=self._settings.locale)


@lru_cache(maxsize=50_000)
def _day_once(day: date, locale: str) -> str:
    return str(format_date(day, "medium", locale=locale))


def plain_text(text: str) -> Content:
    """Text from outside as text: nothing in it is markup, and nothing in it reaches the terminal as a command."""
    return Content(shown(text))


def plain_lines(lines: Iterable[str]) -> Content:
    """Lines as `plain_text`."""
    return Content("\n".join(clean(line, keep_lines=True) for line in lines))


def cell_text(text: str) -> Text:
    """Text for one cell of a table, as text, with `…` where it is cut."""
    return Text(shown(text), no_wrap=True, overflow="ellipsis")


def counted(number: int, one: str, many: str | None = None) -> str:
    """`1 piece`, `2 pieces`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def cut(text: str, cells: int) -> str:
    """Text that fits in so many cells of a terminal, with `…` where some of it is left out."""
    text = shown(text)
    return text if cell_len(text) <= cells else f"{set_cell_size(text, cells - 1).rstrip()}…"


def padded(text: str, cells: int) -> str:
    """Text in exactly so many cells: cut, or with spaces after it. Wide letters take two."""
    return set_cell_size(cut(text, cells), cells)


def paired(left: str, right: str, cells: int) -> str:
    """Words at the left edge of a column and a figure at its right, which is never cut."""
    return f"{padded(left, max(1, cells - cell_len(right) - 1))} {right}"


def listed(words: str, parts: Sequence[str], cells: int) -> Iterator[str]:
    """Words, then parts with a dot between, in lines that break between two parts and hang beside the words."""
    line = f"{words}  "
    for number, part in enumerate(parts):
        between = " · " if number else ""
        if number and cell_len(line + between + part) > cells:
            yield line
            line, between = " " * (cell_len(words) + 2), ""
        line += between + part
    yield line


def too_small(width: int, height: int) -> str:
    """What is said instead of a room or a form that the window has no room for."""
    return f"This window is too small. Make it at least {width} wide and {height} high."
