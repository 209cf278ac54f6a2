"""Which column of a bank's CSV is what: said once for an account, in TOML, and remembered as JSON.

A map names the columns by their heading or by their number from 1:

    date = "Date"            text = ["Description", "Memo"]      number = "Check"     id = "Reference"
    amount = "Amount"        one column with a sign, or          out = "Debit", in = "Credit"
    balance = "Balance"      the balance after each line, which is then checked
    direction = "Type"       a word beside an amount without a sign, out_words = ["debit"]
    dates = "mdy"            or dmy, ymd          decimal = "."           or ","
    turned = true            where what went out stands above zero
    skip = 2                 lines above the headings             headings = false     where there are none
    delimiter = ";"          encoding = "cp1252"
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any, Literal, cast

from ledger.bank.amounts import Mark
from ledger.bank.file_text import text_of
from ledger.errors import NotUnderstood
from ledger.text import clean

DateOrder = Literal["mdy", "dmy", "ymd"]
Column = str | int
ORDERS: tuple[DateOrder, ...] = ("mdy", "dmy", "ymd")
# Other words for the same, as a person would write them.
_ALSO = {
    "description": "text",
    "payee": "text",
    "memo": "text",
    "debit": "out",
    "withdrawal": "out",
    "credit": "in",
    "deposit": "in",
    "check": "number",
    "check_number": "number",
    "reference": "id",
    "date_order": "dates",
    "date_format": "dates",
    "decimal_mark": "decimal",
    "header": "headings",
    "invert": "turned",
    "separator": "delimiter",
}
_COLUMNS = ("date", "text", "amount", "out", "in", "number", "id", "balance", "direction")
_OTHERS = ("dates", "decimal", "turned", "skip", "headings", "delimiter", "encoding", "out_words")
_DELIMITERS = (",", ";", "\t", "|")
_MOST_SKIPPED = 100


@dataclass(frozen=True)
class CsvMap:
    """None stands for what the file itself has to show. out and in_ are two columns of amounts without a sign."""

    date: Column
    text: tuple[Column, ...]
    amount: Column | None = None
    out: Column | None = None
    in_: Column | None = None
    number: Column | None = None
    id: Column | None = None
    balance: Column | None = None
    direction: Column | None = None
    out_words: tuple[str, ...] = ()
    dates: DateOrder | None = None
    decimal: Mark | None = None
    turned: bool = False
    skip: int = 0
    headings: bool = True
    delimiter: str | None = None
    encoding: str | None = None

    @property
    def columns(self) -> tuple[Column, ...]:
        """Every column that it names."""
        others = (self.amount, self.out, self.in_, self.number, self.id, self.balance, self.direction)
        return (self.date, *self.text, *(each for each in others if each is not None))

    def settled(self, dates: DateOrder, decimal: Mark) -> CsvMap:
        """The same with what the file showed, as it is remembered."""
        return replace(self, dates=dates, decimal=decimal)


def map_from_toml(content: bytes) -> CsvMap:
    """A map as it is written. Raises NotUnderstood, naming what is wrong with it."""
    try:
        table = tomllib.loads(text_of(content))
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise _wrong(f"The map is no TOML: {clean(str(error))[:80]}.") from None
    return _map_of(_flat(table))


def map_from_json(kept: str) -> CsvMap:
    """A map as it was remembered."""
    return _map_of(json.loads(kept))


def map_as_json(csv_map: CsvMap) -> str:
    """What is remembered of a map, always in the same words."""
    kept = {("in" if name == "in_" else name): value for name, value in asdict(csv_map).items() if value is not None}
    return json.dumps(kept, ensure_ascii=False, sort_keys=True)


def _flat(table: Mapping[str, Any]) -> dict[str, Any]:
    """The keys under the words used here, those of a group such as [columns] among them; several texts are joined."""
    flat: dict[str, Any] = {}
    for key, value in table.items():
        if isinstance(value, dict):
            flat.update(_flat(value))
            continue
        name = _ALSO.get(key.casefold(), key.casefold())
        if name == "text":
            flat[name] = [*flat.get(name, []), *(value if isinstance(value, list) else [value])]
        else:
            flat[name] = value
    return flat


def _map_of(table: Mapping[str, Any]) -> CsvMap:
    unknown = sorted(table.keys() - {*_COLUMNS, *_OTHERS})
    if unknown:
        raise _wrong(f"The map says «{clean(unknown[0])[:40]}», which is none of its words.")
    if "date" not in table or not table.get("text"):
        raise _wrong("The map does not name the columns of the date and of the text.")
    split = table.get("out") is not None or table.get("in") is not None
    if (table.get("amount") is not None) == split:
        raise _wrong("The map needs the column of the amount, or those of what went out and came in.")
    texts = table["text"] if isinstance(table["text"], list) else [table["text"]]
    columns = {name: _column(table[name], name) for name in _COLUMNS if name in table and name != "text"}
    return CsvMap(
        date=columns["date"],
        text=tuple(_column(each, "text") for each in texts),
        amount=columns.get("amount"),
        out=columns.get("out"),
        in_=columns.get("in"),
        number=columns.get("number"),
        id=columns.get("id"),
        balance=columns.get("balance"),
        direction=columns.get("direction"),
        out_words=_words(table.get("out_words", [])),
        dates=date_order(table["dates"]) if table.get("dates") is not None else None,
        decimal=cast("Mark", _one_of(table["decimal"], (".", ","), "decimal")) if table.get("decimal") else None,
        turned=table.get("turned") is True,
        skip=_skipped(table.get("skip", 0)),
        headings=table.get("headings") is not False,
        delimiter=_one_of(table["delimiter"], _DELIMITERS, "delimiter") if table.get("delimiter") else None,
        encoding=_encoding(table.get("encoding")),
    )


def date_order(said: object) -> DateOrder:
    """`mdy`, `dmy` or `ymd`, also from a pattern such as MM/DD/YYYY or %d.%m.%Y. Raises NotUnderstood."""
    letters = "".join(dict.fromkeys(each for each in str(said).casefold() if each in "dmy"))
    return cast("DateOrder", _one_of(letters, ORDERS, "dates"))


def _column(value: object, name: str) -> Column:
    is_number = isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= 1000
    if is_number or (isinstance(value, str) and value.strip()):
        return cast("Column", value)
    raise _wrong(f"What the map says for {name} is no column: give its heading, or its number from 1.")


def _one_of(value: object, known: tuple[str, ...], name: str) -> str:
    if isinstance(value, str) and value in known:
        return value
    shown = ", ".join(each.replace("\t", "a tab") for each in known)
    raise _wrong(f"What the map says for {name} is none of {shown}.")


def _words(value: object) -> tuple[str, ...]:
    if isinstance(value, list) and all(isinstance(each, str) for each in value):
        return tuple(each.strip().casefold() for each in value)
    raise _wrong("What the map says for out_words is no list of words.")


def _skipped(value: object) -> int:
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= _MOST_SKIPPED:
        return value
    raise _wrong("What the map says for skip is no number of lines.")


def _encoding(value: object) -> str | None:
    if value is None:
        return None
    known = {
        "utf-8": "utf-8-sig",
        "utf8": "utf-8-sig",
        "utf-16": "utf-16",
        "cp1252": "cp1252",
        "windows-1252": "cp1252",
    }
    return known[_one_of(str(value).casefold(), tuple(known), "encoding")]


def _wrong(what: str) -> NotUnderstood:
    return NotUnderstood(
        what, 'Name the columns, such as date = "Date", text = "Description", amount = "Amount".', "map"
    )
