"""Read what a person types into a form: dates such as "last fri" and amounts such as "12.50+3", in her own locale."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from contextlib import suppress
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import TypeVar

from ledger.errors import NotUnderstood
from ledger.money import MAX_CENTS, Currency, read_amount

_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
# Germans write 14.3. with a point after the month.
_PARTS = re.compile(r"([0-9]{1,4})[/.\-] ?([0-9]{1,2})(?:[/.\-] ?([0-9]{1,4})|\.)?")
_YEARS_AT_MOST = 8
Known = TypeVar("Known", bound=str)
# As terminals write the name of a file that is dragged into them.
_ESCAPED = re.compile(r"\\(.)")
_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")


def typed_amount(text: str, currency: Currency, locale: str, field: str, *, zero: bool = False) -> int:
    """Cents from `42.5`, `1,204.10` or a small sum such as `12.50+3`. Raises NotUnderstood.

    The signs for thousands and decimals are those of the locale; where they leave it open, a point stands for decimals.
    """
    terms = text.split("+")
    total = sum(_term(each, currency, locale, field, zero or len(terms) > 1) for each in terms)
    if total > MAX_CENTS:
        raise NotUnderstood("The sum is too large an amount.", "Check the number of digits.", field)
    if not total and not zero:
        raise NotUnderstood("The amount is zero.", "Give an amount above zero.", field)
    return total


def typed_file(text: str, field: str) -> Path:
    """A file as it is typed or dragged into the terminal: in quotation marks, with escaped spaces, `~` for the home
    folder. Raises NotUnderstood for what can be none."""
    bare = text.strip()
    if len(bare) > 1 and bare[0] == bare[-1] and bare[0] in "'\"":
        bare = bare[1:-1]
    elif os.sep == "/":
        bare = _ESCAPED.sub(r"\1", bare)
    try:
        path = Path(bare).expanduser()
        path.is_file()  # asks the system whether it takes the name at all
    except (OSError, RuntimeError, ValueError):
        raise NotUnderstood("This can be no file.", "Drag the file here, or type its name.", field) from None
    return path


def with_points(text: str, locale: str) -> str:
    """Numbers with a point for decimals, where the locale writes them with a comma: `142,5` is no two numbers there."""
    return _DECIMAL_COMMA.sub(".", text) if _symbols(locale)[1] == "," else text


def typed_choice(text: str, known: Sequence[Known], field: str, question: str) -> Known:
    """The one of a few words that was typed, or whose first letters were and no other's. Raises NotUnderstood."""
    typed = text.strip().casefold()
    found = [each for each in known if each == typed] or [each for each in known if typed and each.startswith(typed)]
    if len(found) == 1:
        return found[0]
    raise NotUnderstood(question, f"Say {', '.join(known[:-1])} or {known[-1]}.", field)


def typed_date(text: str, today: date, locale: str, field: str) -> date:
    """A day from `today`, `yesterday`, `3/14` (the latest past one), `last fri`, `mon`, or a whole date.

    Raises NotUnderstood. Month and day stand in the locale's order; `2026-03-14` is read everywhere.
    """
    words = " ".join(text.casefold().split())
    if words in ("", "today"):
        return today
    if words == "yesterday":
        return today - timedelta(days=1)
    weekday = _weekday(words.removeprefix("last "))
    if weekday is not None:
        return today - timedelta(days=(today.weekday() - weekday) % 7 or 7)
    return _written_date(words, today, locale, field, to_come=False)


def typed_future_date(text: str, today: date, locale: str, field: str) -> date:
    """A day to come: as `typed_date`, but `3/14` and `fri` are the next such day. Raises NotUnderstood."""
    words = " ".join(text.casefold().split())
    weekday = _weekday(words.removeprefix("next "))
    if weekday is not None:
        return today + timedelta(days=(weekday - today.weekday() - 1) % 7 + 1)
    if words == "tomorrow":
        return today + timedelta(days=1)
    if _PARTS.fullmatch(words):
        return _written_date(words, today, locale, field, to_come=True)
    return typed_date(text, today, locale, field)


def _weekday(word: str) -> int | None:
    """The number of a weekday from three of its letters or more; `last month` is none."""
    found = (number for number, name in enumerate(_DAYS) if len(word) >= 3 and name.startswith(word))
    return next(found, None)


def _term(text: str, currency: Currency, locale: str, field: str, zero: bool) -> int:
    group, decimal = _symbols(locale)
    # Whatever space a locale or a keyboard has between thousands.
    plain = "".join(" " if each.isspace() else each for each in _without_sign(text.strip(), currency, locale))
    for sign in (" ", group):
        plain = _without_thousands(plain, sign, decimal)
    if decimal != ".":
        plain = plain.replace(decimal, ".")
    if plain.startswith("."):
        plain = "0" + plain
    try:
        return read_amount(plain.removesuffix("."), currency, field, zero=zero)
    except NotUnderstood as refused:
        if refused.what.startswith("«") and "cannot be read" in refused.what:
            raise NotUnderstood("This is no amount.", "Write it like 42.50 or 12.50+3.", field) from None
        raise


def _without_sign(text: str, currency: Currency, locale: str) -> str:
    """The amount without the sign of its own currency, before it or after it."""
    from babel.numbers import get_currency_symbol

    for sign in (get_currency_symbol(currency.code, locale=locale), currency.code):
        text = text.removeprefix(sign).removesuffix(sign).strip()
    return text


def _without_thousands(text: str, sign: str, decimal: str) -> str:
    """The number without its signs for thousands, where each of them stands before three digits: `1,5` is not 15."""
    one, point = re.escape(sign), re.escape(decimal)
    grouped = re.fullmatch(rf"-?[0-9]{{1,3}}({one}[0-9]{{3}})+({point}[0-9]*)?", text)
    return text.replace(sign, "") if grouped else text


def _written_date(words: str, today: date, locale: str, field: str, *, to_come: bool) -> date:
    found = _PARTS.fullmatch(words)
    if found is None:
        raise NotUnderstood("This is no date.", "Write today, yesterday, 3/14 or 2026-03-14.", field)
    first, second, third = int(found[1]), int(found[2]), found[3]
    if len(found[1]) > 2:
        if third is None or len(found[1]) != 4:
            raise NotUnderstood("This is no whole date.", "Write it like 2026-03-14.", field)
        return _day(first, second, int(third), words, field)
    month, day = (first, second) if _month_first(locale) else (second, first)
    if third is None:
        return _nearest(month, day, today, to_come, words, field)
    if len(third) not in (2, 4):
        raise NotUnderstood("This year cannot be read.", "Give it with two or four digits.", field)
    return _day(int(third) if len(third) == 4 else 2000 + int(third), month, day, words, field)


def _nearest(month: int, day: int, today: date, to_come: bool, text: str, field: str) -> date:
    """The next such day from today on, or the latest until today: 29 February may be eight years away."""
    for years in range(_YEARS_AT_MOST + 1):
        with suppress(ValueError):
            found = date(today.year + (years if to_come else -years), month, day)
            if (found >= today) if to_come else (found <= today):
                return found
    return _day(today.year, month, day, text, field)


def _day(year: int, month: int, day: int, text: str, field: str) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise NotUnderstood(f"«{text}» is no day of the calendar.", "Check month and day.", field) from None


@cache
def _symbols(locale: str) -> tuple[str, str]:
    from babel.numbers import get_decimal_symbol, get_group_symbol

    return get_group_symbol(locale), get_decimal_symbol(locale)


@cache
def _month_first(locale: str) -> bool:
    from babel import Locale

    pattern = Locale.parse(locale).date_formats["short"].pattern.casefold()
    return bool(pattern.index("m") < pattern.index("d"))
