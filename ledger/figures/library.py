"""Reads every file of figures at once, and checks what no single table can show.

A file holds one subject. `[[figure.NAME]]` is a number, `[[column.NAME]]` a column of percents, `[[lines.NAME]]` the
line numbers of a form. A figure for a new year is one such table more.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from itertools import pairwise
from typing import Any, TypeVar

from ledger.figures.faults import MISSING, Fault, FiguresNotUsable, parse_toml
from ledger.figures.published import Figure, Library, LineTable, PercentColumn, Published
from ledger.figures.tables import OWN_KEYS, nearest, read_table

_NAME = re.compile(r"[a-z][a-z0-9_]*")

Kind = TypeVar("Kind", bound=Published)


@cache
def shipped_library() -> Library:
    """The figures that come with the program. Raises FiguresNotUsable."""
    from importlib.resources import files  # 35 ms, only where a figure is asked for

    folder = files("ledger.figures")
    return read_library({file.name: file.read_bytes() for file in folder.iterdir() if file.name.endswith(".toml")})


def read_library(files: Mapping[str, bytes]) -> Library:
    """The figures of these files, given by name. Raises FiguresNotUsable with every fault of every file."""
    values: list[Published] = []
    faults: list[Fault] = []
    for file, content in sorted(files.items()):
        found, wrong = _read_file(file, content)
        values += found
        faults += wrong
    by_name: dict[str, list[Published]] = {}
    for value in sorted(values, key=lambda value: value.from_date):
        by_name.setdefault(value.name, []).append(value)
    for same_name in by_name.values():
        faults += _faults_between(same_name)
    if faults:
        raise FiguresNotUsable(faults)
    return Library(_of_kind(by_name, Figure), _of_kind(by_name, PercentColumn), _of_kind(by_name, LineTable))


def _read_file(file: str, content: bytes) -> tuple[list[Published], list[Fault]]:
    try:
        document, faults = parse_toml(file, content.decode("utf-8"))
    except UnicodeDecodeError:
        return [], [Fault(file, "", 0, "", "this is no text in UTF-8")]
    unreadable = {(fault.figure, fault.key) for fault in faults}
    values: list[Published] = []
    for kind, by_name in document.items():
        if kind not in OWN_KEYS or not isinstance(by_name, dict):
            what = f"begin a table with [[figure.NAME]], [[column.NAME]] or [[lines.NAME]]{nearest(kind, OWN_KEYS)}"
            faults.append(Fault(file, "", 0, kind, what))
            continue
        for name, tables in by_name.items():
            for result in _read_tables(file, kind, name, tables):
                if isinstance(result, Published):
                    values.append(result)
                elif result.what != MISSING or (result.figure, result.key) not in unreadable:
                    faults.append(result)
    return values, faults


def _read_tables(file: str, kind: str, name: str, tables: Any) -> list[Published | Fault]:
    results: list[Published | Fault] = []
    if not _NAME.fullmatch(name):
        results.append(Fault(file, name, 0, "", "write a name in small letters, digits and underscores"))
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        return [*results, Fault(file, name, 0, "", f"begin its table with [[{kind}.{name}]], in two brackets")]
    for number, table in enumerate(tables, start=1):
        read = read_table(file, kind, name, number, table)
        results += read if isinstance(read, list) else [read]
    return results


def _faults_between(same_name: list[Published]) -> list[Fault]:
    """A name belongs to one kind and one file, and no two of its tables, given by date, hold on the same day."""
    faults: list[Fault] = []
    for earlier, later in pairwise(same_name):
        if (earlier.file, type(earlier)) != (later.file, type(later)):
            faults.append(Fault(later.file, later.name, 0, "", f"the name is taken by another table in {earlier.file}"))
        elif later.from_date <= earlier.last_day:
            overlap = f"{later.from_date} lies within the table from {earlier.from_date} through {earlier.last_day}"
            faults.append(Fault(later.file, later.name, 0, "from", overlap))
    return faults


def _of_kind(by_name: Mapping[str, list[Published]], kind: type[Kind]) -> dict[str, tuple[Kind, ...]]:
    chosen = {name: tuple(value for value in values if isinstance(value, kind)) for name, values in by_name.items()}
    return {name: values for name, values in chosen.items() if values}
