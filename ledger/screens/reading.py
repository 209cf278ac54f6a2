"""Read what a person types into a form: dates such as "last fri" and amounts such as "12.50+3", in her own locale."""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import cache

from ledger.errors import NotUnderstood
from ledger.money import Currency, read_amount

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_PARTS = re.compile(r"([0-9]{1,4})[/.\-]([0-9]{1,2})(?:[/.\-]([0-9]{1,4}))?")


def typed_amount(text: str, currency: Currency, locale: str, field: str, *, zero: bool = False) -> int:
    """Cents from `42.5`, `1,204.10` or a small sum such as `12.50+3`. Raises NotUnderstood.

    The signs for thousands and decimals are those of the locale; a point alone is always read as decimals too.
    """
    terms = text.strip().replace("\N{NO-BREAK SPACE}", " ").split("+")
    cents = [_term(each, currency, locale, field, zero or len(terms) > 1) for each in terms]
    total = sum(cents)
    if not total and not zero:
        raise NotUnderstood("The amount is zero.", "Give an amount above zero.", field)
    return total


def typed_date(text: str, today: date, locale: str, field: str) -> date:
    """A day from `today`, `yesterday`, `3/14` (the latest past one), `last fri`, `mon`, or a whole date.

    Raises NotUnderstood. Month and day stand in the locale's order; `2026-03-14` is read everywhere.
    """
    words = text.strip().casefold()
    if words in ("", "today"):
        return today
    if words == "yesterday":
        return today - timedelta(days=1)
    weekday = words.removeprefix("last ").strip()[:3]
    if weekday in _DAYS and words.removeprefix("last ").strip().isalpha():
        back = (today.weekday() - _DAYS.index(weekday)) % 7
        return today - timedelta(days=back or 7)
    return _written_date(words, today, locale, field)


def typed_future_date(text: str, today: date, locale: str, field: str) -> date:
    """A day to come: as `typed_date`, but `3/14` and `fri` are the next such day. Raises NotUnderstood."""
    words = text.strip().casefold()
    weekday = words.removeprefix("next ").strip()[:3]
    if weekday in _DAYS and words.removeprefix("next ").strip().isalpha():
        return today + timedelta(days=(_DAYS.index(weekday) - today.weekday() - 1) % 7 + 1)
    if words == "tomorrow":
        return today + timedelta(days=1)
    day = typed_date(text, today, locale, field)
    found = _PARTS.fullmatch(words)
    if found and found[3] is None and day < today:
        return _day(day.year + 1, day.month, day.day, text, field)
    return day


def _term(text: str, currency: Currency, locale: str, field: str, zero: bool) -> int:
    group, decimal = _symbols(locale)
    plain = text.strip().replace(" ", "")
    if decimal != "." and decimal in plain:
        plain = plain.replace(group, "").replace(decimal, ".")
    elif group in plain and _grouped(plain, group):
        plain = plain.replace(group, "")
    if plain.startswith("."):
        plain = "0" + plain
    try:
        return read_amount(plain.removesuffix("."), currency, field, zero=zero)
    except NotUnderstood as refused:
        if refused.what.startswith("«") and "cannot be read" in refused.what:
            raise NotUnderstood("This is no amount.", "Write it like 42.50 or 12.50+3.", field) from None
        raise


def _grouped(text: str, group: str) -> bool:
    """Whether every sign for thousands stands before three digits, so that `1,5` is not read as 15."""
    return re.fullmatch(rf"[0-9]{{1,3}}({re.escape(group)}[0-9]{{3}})+(\.[0-9]+)?", text) is not None


def _written_date(words: str, today: date, locale: str, field: str) -> date:
    found = _PARTS.fullmatch(words)
    if found is None:
        raise NotUnderstood("This is no date.", "Write today, yesterday, 3/14 or 2026-03-14.", field)
    first, second, third = int(found[1]), int(found[2]), found[3]
    if len(found[1]) == 4:
        if third is None:
            raise NotUnderstood("This date has no day.", "Write it like 2026-03-14.", field)
        return _day(first, second, int(third), words, field)
    month, day_number = (first, second) if _month_first(locale) else (second, first)
    if third is not None:
        year = int(third) if len(third) == 4 else 2000 + int(third)
        return _day(year, month, day_number, words, field)
    day = _day(today.year, month, day_number, words, field)
    return day if day <= today else _day(today.year - 1, month, day_number, words, field)


def _day(year: int, month: int, day: int, text: str, field: str) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise NotUnderstood(f"There is no day {text}.", "Check month and day.", field) from None


@cache
def _symbols(locale: str) -> tuple[str, str]:
    from babel.numbers import get_decimal_symbol, get_group_symbol

    return get_group_symbol(locale), get_decimal_symbol(locale)


@cache
def _month_first(locale: str) -> bool:
    from babel import Locale

    pattern = Locale.parse(locale).date_formats["short"].pattern.casefold()
    return bool(pattern.index("m") < pattern.index("d"))
