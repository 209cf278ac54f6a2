"""What a list is: columns of a kind and lines of values, so that filter, order and file need no code of their own."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any, Literal, NamedTuple

from ledger.money import Currency, plain_amount, plain_decimal
from ledger.text import folded

# amount: cents as int. number: int or Decimal. day, due: a date; a due one lies ahead.
Kind = Literal["text", "number", "amount", "day", "due"]
Plain = str | int | Decimal | date | None
_NUMBER = re.compile(r"-?([0-9]+\.?[0-9]*|\.[0-9]+)")
# Digits alone stand for a day from a whole year on; fewer would be found in every day there is.
_YEAR_DIGITS = 4


class ShownAs(NamedTuple):
    """A value that is shown in other words than its kind has: a mark before it, or a word where there is none."""

    value: Plain
    words: str


Value = Plain | ShownAs


class Column(NamedTuple):
    """width: in cells; a column of no width is written into files and not painted."""

    label: str
    width: int
    kind: Kind = "text"


@dataclass(frozen=True)
class Line:
    """One line of a list. key: what it is about, by which it is found again after the list was read anew."""

    key: Any
    values: tuple[Value, ...]


class Word(NamedTuple):
    """One word of a filter. number: as a plain number, empty where it is none."""

    text: str
    number: str


@dataclass(frozen=True)
class Manner:
    """How values are shown where the words of a filter are held against what is seen."""

    currency: Currency
    shown_day: Callable[[date], str]


@dataclass(frozen=True)
class Arrangement:
    """Which lines are wanted, and in which order; column: the place of a column, None for the list's own order."""

    words: tuple[Word, ...] = ()
    column: int | None = None
    is_descending: bool = False

    def ordered_by(self, column: int, kind: Kind) -> Arrangement:
        """By a column; by the same once more turns it. Days, amounts and numbers begin with the last and largest."""
        if column == self.column:
            return replace(self, is_descending=not self.is_descending)
        return replace(self, column=column, is_descending=kind in ("number", "amount", "day"))

    def told(self, columns: Sequence[Column], typed: str) -> str:
        """In words; empty where the list stands whole and in its own order."""
        parts = [f"only what has «{typed.strip()}»"] if self.words else []
        if self.column is not None:
            column = columns[self.column]
            parts.append(f"by {column.label.casefold()}, {_BEGINS[column.kind][self.is_descending]} first")
        return "; ".join(parts)


_BEGINS: dict[Kind, tuple[str, str]] = {
    "text": ("A", "Z"),
    "number": ("lowest", "highest"),
    "amount": ("smallest", "largest"),
    "day": ("oldest", "newest"),
    "due": ("soonest", "latest"),
}


def words_of(typed: str, group: str = ",", decimal: str = ".") -> tuple[Word, ...]:
    """The words of a filter; group, decimal: the signs in which numbers are typed."""
    words = []
    for each in folded(typed).split():
        number = each.replace(group, "").replace(decimal, ".")
        words.append(Word(each, number.removeprefix("-") if _NUMBER.fullmatch(number) else ""))
    return tuple(words)


def plain(value: Value) -> Plain:
    return value.value if isinstance(value, ShownAs) else value


def plain_text(value: Plain, kind: Kind, currency: Currency) -> str:
    """As files have it: amounts and numbers plain, days ISO 8601, empty where there is none."""
    match value:
        case None:
            return ""
        case date():
            return value.isoformat()
        case Decimal():
            return plain_decimal(value)
        case int() if kind == "amount":
            return plain_amount(value, currency)
        case _:
            return str(value)


def day_has(day: date, word: Word, shown_day: Callable[[date], str]) -> bool:
    """Whether a word stands for a day: as it is shown, or from the year on as it is written everywhere."""
    if any(each.isalpha() for each in word.text):
        return word.text in folded(shown_day(day))
    return len(word.text) >= _YEAR_DIGITS and day.isoformat().startswith(word.text)


def line_has(line: Line, columns: Sequence[Column], words: Sequence[Word], manner: Manner) -> bool:
    """Whether every word stands in one of the painted columns."""
    painted = [(each, column.kind) for each, column in zip(line.values, columns, strict=True) if column.width]
    return all(any(_value_has(value, kind, word, manner) for value, kind in painted) for word in words)


def arranged(
    lines: Sequence[Line], columns: Sequence[Column], arrangement: Arrangement, manner: Manner
) -> tuple[Line, ...]:
    """The lines that are wanted, in the wanted order: equal ones as they stood, those without a value last."""
    wanted = [each for each in lines if line_has(each, columns, arrangement.words, manner)]
    if arrangement.column is None:
        return tuple(wanted)
    place, kind = arrangement.column, columns[arrangement.column].kind
    with_value = [each for each in wanted if plain(each.values[place]) not in (None, "")]
    without = [each for each in wanted if plain(each.values[place]) in (None, "")]
    in_order = sorted(
        with_value, key=lambda line: _order_key(plain(line.values[place]), kind), reverse=arrangement.is_descending
    )
    return (*in_order, *without)


def day_column(columns: Sequence[Column]) -> int | None:
    """The place of the painted column that has the days of a list, None where it has none."""
    return next((place for place, each in enumerate(columns) if each.width and each.kind in ("day", "due")), None)


def nearest_day(days: Sequence[date], wanted: date) -> date | None:
    """The day itself, or the last one before it, or the first there is."""
    before = [each for each in days if each <= wanted]
    return max(before) if before else min(days, default=None)


def _value_has(value: Value, kind: Kind, word: Word, manner: Manner) -> bool:
    if isinstance(value, ShownAs) and word.text in folded(value.words):
        return True
    bare = plain(value)
    match bare:
        case None:
            return False
        case date():
            return day_has(bare, word, manner.shown_day)
        case int() | Decimal():
            number = plain_text(bare, kind, manner.currency).removeprefix("-")
            return bool(word.number) and number.startswith(word.number)
        case _:
            return word.text in folded(bare)


def _order_key(value: Plain, kind: Kind) -> Any:
    return folded(str(value)) if kind == "text" else value
