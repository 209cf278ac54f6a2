"""Worksheets as they are typed into a file, in TOML; every mistake is refused with where it stands.

Prices: a table for each kind of work, with `what`, `unit`, `mine` (may be left out), and who asks what.

    [[work]]
    what = "Edge-to-edge"
    unit = "square inch"
    mine = 0.02
    [work.seen]
    "Prairie Longarm" = 0.018

Machines: a table for each offer, with its `name`, what it costs, and what else there is to know.

    [[machine]]
    name = "Used, 26 inches"
    [machine.costs]
    price = 9500
    freight = 400
    [machine.facts]
    throat = "26 inches"
"""

from __future__ import annotations

import re
from collections.abc import Collection
from decimal import Decimal
from pathlib import Path
from typing import Any

from checklists.worksheets import Offer, SeenPrices
from ledger.errors import NotUnderstood
from ledger.money import Currency, read_amount, read_rate
from ledger.text import read_text, shown

MOST_BYTES = 100_000
_LINE = re.compile(r"\(at line ([0-9]+), column [0-9]+\)")
_FIELD = "file"


def read_seen_prices(path: Path) -> tuple[SeenPrices, ...]:
    """The kinds of work in a file of prices. Raises NotUnderstood."""
    return tuple(_work(table, f"work no. {number}") for number, table in _tables(path, "work"))


def read_offers(path: Path, currency: Currency) -> tuple[Offer, ...]:
    """The machines in a file of offers. Raises NotUnderstood."""
    return tuple(_offer(table, f"machine no. {number}", currency) for number, table in _tables(path, "machine"))


def _work(table: dict[str, Any], where: str) -> SeenPrices:
    _check_keys(table, ("what", "unit", "mine", "seen"), where)
    what = _text(table, "what", where)
    seen = _inner(table, "seen", what)
    if not seen:
        raise _refusal(f"{what} has no price that you saw", "write who asks what under [work.seen]")
    return SeenPrices(
        what=what,
        unit=_text(table, "unit", what),
        mine=_price(table["mine"], f"{what}, mine") if "mine" in table else None,
        seen=tuple((_name(who), _price(price, f"{what}, {who}")) for who, price in seen.items()),
    )


def _offer(table: dict[str, Any], where: str, currency: Currency) -> Offer:
    _check_keys(table, ("name", "costs", "facts"), where)
    name = _text(table, "name", where)
    costs = _inner(table, "costs", name)
    if not costs:
        raise _refusal(f"{name} has no price", "write what it costs under [machine.costs]")
    return Offer(
        name=name,
        costs=tuple((_name(what), _cents(cost, f"{name}, {what}", currency)) for what, cost in costs.items()),
        facts=tuple((_name(what), _name(str(fact))) for what, fact in _inner(table, "facts", name).items()),
    )


def _tables(path: Path, key: str) -> list[tuple[int, dict[str, Any]]]:
    document = toml_of(read_content(path))
    _check_keys(document, (key,), "the file")
    tables = document.get(key)
    if not isinstance(tables, list) or not tables or not all(isinstance(each, dict) for each in tables):
        raise _refusal("The file has none of what is wanted", f"begin each with [[{key}]], in two brackets")
    return list(enumerate(tables, start=1))


def read_content(path: Path) -> str:
    """The text of a worksheet. Raises NotUnderstood for a file that cannot be read, is too long or is no text."""
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
        if len(content) > MOST_BYTES:
            raise _refusal(f"The file has more than {MOST_BYTES} bytes", "keep to one worksheet a file")
        return content.decode("utf-8")
    except OSError as error:
        raise _refusal(f"{shown(str(path))} cannot be read ({error.strerror})", "name a file of yours") from None
    except UnicodeDecodeError:
        raise _no_toml("") from None


def toml_of(content: str) -> dict[str, Any]:
    """What stands in a worksheet, its fractions as they were typed. Raises NotUnderstood with the line of a mistake."""
    import tomllib  # 14 ms, only where a worksheet is read

    try:
        return tomllib.loads(content, parse_float=str)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        found = _LINE.search(str(error))
        raise _no_toml(f" at line {found[1]}" if found else "") from None


def _no_toml(where: str) -> NotUnderstood:
    return _refusal(f"The file is no TOML{where}", "compare it with the example in the help")


def _check_keys(table: dict[str, Any], known: Collection[str], where: str) -> None:
    unknown = next((key for key in table if key not in known), None)
    if unknown is not None:
        raise _refusal(f"«{shown(unknown)[:40]}» in {where} is no key here", f"use {', '.join(known)}")


def _inner(table: dict[str, Any], key: str, where: str) -> dict[str, Any]:
    value = table.get(key, {})
    if not isinstance(value, dict):
        raise _refusal(f"{key} of {where} is no table", f"write a line for each, such as «name = value», under [{key}]")
    return value


def _text(table: dict[str, Any], key: str, where: str) -> str:
    value = table.get(key)
    if not isinstance(value, str) or not value.strip():
        raise _refusal(f"{key} of {where} is missing", "write some text, in quotes")
    return _name(value)


def _name(text: str) -> str:
    return read_text(text, _FIELD, limit=120)


def _price(value: object, where: str) -> Decimal:
    try:
        return read_rate(_figure(value), _FIELD)
    except NotUnderstood as wrong:
        raise NotUnderstood(f"{shown(where)[:100]}: {wrong.what}", wrong.do, _FIELD) from None


def _cents(value: object, where: str, currency: Currency) -> int:
    try:
        return read_amount(_figure(value), currency, _FIELD, zero=True)
    except NotUnderstood as wrong:
        raise NotUnderstood(f"{shown(where)[:100]}: {wrong.what}", wrong.do, _FIELD) from None


def _figure(value: object) -> str:
    """A number of the file as it was typed, in quotes or without."""
    return str(value) if isinstance(value, str | int) and not isinstance(value, bool) else repr(value)


def _refusal(what: str, do: str) -> NotUnderstood:
    return NotUnderstood(f"{shown(what)}.", f"{do[0].upper()}{do[1:]}.", _FIELD)
