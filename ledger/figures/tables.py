"""Reads one table of a file of figures, key by key, and says of each key what is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Any, Final

from ledger.errors import NotUnderstood
from ledger.figures.faults import MISSING, Fault
from ledger.figures.published import STATUS_WORDS, Figure, LineTable, PercentColumn, Published, Source
from ledger.periods import parse_date
from ledger.text import shown

UNITS: Final = ("percent", "USD", "US cents a mile", "USD a square foot", "square feet", "payments", "months")
# How `read` begins, and which status that allows; a note in brackets may follow. Only a source's own text is official.
READINGS: Final[Mapping[str, tuple[str, ...]]] = {
    "the source's own text": ("official",),
    "a text about it": ("second_hand", "estimate"),
    "printed by a tax-policy library": ("second_hand", "estimate"),
    "not read": ("from_memory", "estimate"),
}
OWN_KEYS: Final[Mapping[str, tuple[str, ...]]] = {
    "figure": ("value", "unit"),
    "column": ("percents",),
    "lines": ("line", "not_confirmed"),
}

_SHARED_KEYS = ("from", "until", "known_through", "source", "read", "status")
_OPTIONAL_KEYS = ("until", "known_through", "not_confirmed")
_SOURCE_KEYS = ("title", "section", "year")
_NUMBER = re.compile(r"[0-9]{1,12}(?:\.[0-9]{1,6})?")
_LINE_NUMBER = re.compile(r"[0-9]{1,2}[a-z]?")
_FIRST_EDITION, _LAST_EDITION = 1900, 2199


def read_table(file: str, kind: str, name: str, number: int, table: Mapping[str, Any]) -> Published | list[Fault]:
    """The value that a table holds, or everything that is wrong with it. `number` counts the tables of one name."""
    reader = _TableReader(file, name, number, table)
    value = reader.read(kind)
    return reader.faults or value


class _TableReader:
    def __init__(self, file: str, name: str, number: int, table: Mapping[str, Any]) -> None:
        self.file, self.name, self.number, self.table = file, name, number, table
        self.faults: list[Fault] = []

    def read(self, kind: str) -> Published:
        self.check_keys(self.table, (*OWN_KEYS[kind], *_SHARED_KEYS), _OPTIONAL_KEYS)
        from_date, until, known_through = self.dates()
        status = self.choice("status", STATUS_WORDS)
        shared: dict[str, Any] = {
            "name": self.name,
            "file": self.file,
            "from_date": from_date,
            "until": until,
            "known_through": known_through,
            "source": self.source(),
            "status": status,
            "read": self.reading(status),
        }
        if kind == "figure":
            return Figure(**shared, value=self.decimal("value"), unit=self.choice("unit", UNITS))
        if kind == "column":
            return PercentColumn(**shared, percents=self.percents())
        numbers = self.line_numbers()
        return LineTable(**shared, numbers=numbers, not_confirmed=self.not_confirmed(numbers))

    def fault(self, key: str, what: str) -> None:
        self.faults.append(Fault(self.file, self.name, self.number, key, what))

    def check_keys(self, table: Mapping[str, Any], known: Collection[str], optional: Collection[str]) -> None:
        for key in table:
            if key not in known:
                self.fault(key, f"is no key here{nearest(key, known)}")
        for key in known:
            if key not in table and key not in optional:
                self.fault(key, MISSING)

    def text(self, key: str, table: Mapping[str, Any] | None = None) -> str:
        """The text under a key, empty where the key is missing or its value is at fault."""
        value = (self.table if table is None else table).get(key)
        if value is None:
            return ""
        if not isinstance(value, str) or not value.strip():
            self.fault(key, "write some text, in quotes")
            return ""
        return value

    def choice(self, key: str, known: Collection[str]) -> str:
        value = self.text(key)
        if value and value not in known:
            self.fault(key, f"«{shown(value)[:40]}» is none of: {', '.join(known)}")
        return value

    def reading(self, status: str) -> str:
        value = self.text("read")
        if value:
            start = next((each for each in READINGS if re.match(re.escape(each) + r"( \(|$)", value)), "")
            if not start:
                self.fault("read", f"begin with one of: {', '.join(READINGS)}")
            elif status in STATUS_WORDS and status not in READINGS[start]:
                self.fault("status", f"«{status}» does not fit what was read: {start}")
        return value

    def decimal(self, key: str) -> Decimal:
        return self.decimal_of(key, self.table[key]) if key in self.table else Decimal(0)

    def decimal_of(self, key: str, value: object) -> Decimal:
        if not isinstance(value, str) or not _NUMBER.fullmatch(value):
            self.fault(key, f"«{shown(str(value))[:40]}» is no number such as 184500 or 57.5, in quotes")
            return Decimal(0)
        return Decimal(value)

    def dates(self) -> tuple[date, date | None, date | None]:
        start, until, known_through = (self.date(key) for key in ("from", "until", "known_through"))
        if ("until" in self.table) == ("known_through" in self.table):
            self.fault("until", "give either until or known_through, and not both")
        for key, end in (("until", until), ("known_through", known_through)):
            if start and end and end < start:
                self.fault(key, f"{end} is before {start}")
        return start or date.min, until, known_through

    def date(self, key: str) -> date | None:
        value = self.text(key)
        try:
            return parse_date(value) if value else None
        except NotUnderstood as refused:
            self.fault(key, refused.what.removesuffix("."))
            return None

    def source(self) -> Source:
        table = self.table.get("source")
        if not isinstance(table, dict):
            if table is not None:
                self.fault("source", "write { title = ..., section = ..., year = ... }")
            return Source("", "", 0)
        self.check_keys(table, _SOURCE_KEYS, ("section",))
        year = table.get("year", _FIRST_EDITION)
        if type(year) is not int or not _FIRST_EDITION <= year <= _LAST_EDITION:
            self.fault("year", "write the year of the edition, without quotes")
        return Source(self.text("title", table), self.text("section", table), year)

    def percents(self) -> tuple[Decimal, ...]:
        values = self.table.get("percents")
        if not isinstance(values, list) or not values:
            if values is not None:
                self.fault("percents", 'write a list such as ["20.00", "32.00"]')
            return ()
        return tuple(self.decimal_of("percents", value) for value in values)

    def line_numbers(self) -> Mapping[str, str]:
        numbers = self.table.get("line", {})
        if not isinstance(numbers, dict):
            self.fault("line", 'write a table of keys and numbers, such as supplies = "22"')
            return {}
        for key, number in numbers.items():
            if not isinstance(number, str) or not _LINE_NUMBER.fullmatch(number):
                self.fault(key, f"«{shown(str(number))[:40]}» is no line number such as 8 or 24b, in quotes")
        return MappingProxyType(numbers)

    def not_confirmed(self, numbers: Mapping[str, str]) -> frozenset[str]:
        keys = self.table.get("not_confirmed", [])
        if not isinstance(keys, list):
            self.fault("not_confirmed", "write a list of the keys that were not seen in the form")
            return frozenset()
        for key in keys:
            if not isinstance(key, str) or key not in numbers:
                self.fault("not_confirmed", f"«{shown(str(key))[:40]}» is no line of this table")
        return frozenset(map(str, keys))


def nearest(name: str, known: Collection[str]) -> str:
    """A hint at the one known name that looks like this one, or nothing."""
    from difflib import get_close_matches  # 8 ms, only where something is at fault

    found = get_close_matches(name, known, n=1)
    return f"; did you mean {found[0]}?" if found else ""
