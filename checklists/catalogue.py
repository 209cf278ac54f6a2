"""The items of the set-up list: one TOML file a stage in `items/`, read together and checked in one run.

A file has `title`, `order` (the place of its stage, from 1) and a table `[[item]]` for each item, with these keys:

- id: small letters, digits and underscores. It never changes: the answers in every book hang on it. What begins with
  own_ is an item that somebody added to her own books.
- title, why, caution: a line each. ask: the kind of office or licensed person, written alike wherever it is the same
  one. questions: to be put word for word. proof: what to keep.
- answer: the parts of the answer, `[{ kind = "yes/no" }]`; the kinds stand in `checklists.values`. A part has a `name`
  where there are several, `choices` where its kind is choice.
- feeds (may be absent): the function of `ledger.actions.answers` that takes the answer to the books.
- recurs (may be absent): when it comes round again after an answer, a recurrence rule of RFC 5545.
- blocked_by (may be absent): ids of the items that come first.
- differs (may be absent): published examples, at least two, where the rules differ from place to place.
- sources: `[{ title, section, year, second_hand }]`, all but the title may be absent; second_hand = true where only a
  text about it was read. Or common_practice = true.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from checklists.faults import CatalogueNotUsable, Fault
from checklists.item import Catalogue, Item, Stage
from checklists.item_table import ItemReader, hint
from ledger.text import clean

_FILE_KEYS = ("title", "order", "item")
_ID_LINE = re.compile(r'\s*id\s*=\s*"([^"]*)"')
_SYNTAX_PLACE = re.compile(r"\(at line ([0-9]+), column [0-9]+\)")


@cache
def shipped_catalogue() -> Catalogue:
    """The items that come with the program. Raises CatalogueNotUsable."""
    from importlib.resources import files  # 25 ms, only where the list is asked for

    folder = files("checklists") / "items"
    return read_catalogue({file.name: file.read_bytes() for file in folder.iterdir() if file.name.endswith(".toml")})


def read_catalogue(files: Mapping[str, bytes]) -> Catalogue:
    """The items of these files, given by name. Raises CatalogueNotUsable with every fault of every file."""
    return Catalogue(_read_stages(files))


@dataclass(frozen=True)
class _ReadFile:
    """What a file gave. order: 0 where it has none. named: the ids of all its tables, also of those with faults. whole:
    the file was read through."""

    file: str
    title: str
    order: int
    items: tuple[Item, ...]
    named: tuple[str, ...]
    faults: tuple[Fault, ...]
    whole: bool = True


def _read_stages(files: Mapping[str, bytes]) -> tuple[Stage, ...]:
    """The stages in their order. Raises CatalogueNotUsable with every fault of every file."""
    read = [_read_file(file, content) for file, content in sorted(files.items())]
    faults = [fault for each in read for fault in each.faults]
    faults += _faults_between_files(read)
    if faults:
        raise CatalogueNotUsable(faults)
    stages = (Stage(each.file.removesuffix(".toml"), each.title, each.order, each.items) for each in read)
    return tuple(sorted(stages, key=lambda stage: stage.order))


def _read_file(file: str, content: bytes) -> _ReadFile:
    try:
        document = _parse(file, content)
    except CatalogueNotUsable as unreadable:
        return _ReadFile(file, "", 0, (), (), unreadable.faults, whole=False)
    faults = [
        Fault(file, "", key, f"is no key here{hint(key, _FILE_KEYS)}") for key in document if key not in _FILE_KEYS
    ]
    title, order, tables = document.get("title"), document.get("order"), document.get("item")
    if not isinstance(title, str) or not title.strip() or clean(title) != title:
        faults.append(Fault(file, "", "title", "write the title of the stage, in quotes"))
    if type(order) is not int or order < 1:
        faults.append(Fault(file, "", "order", "write the place of the stage, a whole number from 1"))
        order = 0
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        faults.append(Fault(file, "", "item", "begin each item with [[item]], in two brackets"))
        tables = []
    readers = [ItemReader(file, number, table) for number, table in enumerate(tables, start=1)]
    items = tuple((reader, reader.read()) for reader in readers)
    return _ReadFile(
        file,
        str(title),
        order,
        items=tuple(item for reader, item in items if not reader.faults),
        named=tuple(reader.item for reader in readers if reader.has_id),
        faults=(*faults, *(fault for reader in readers for fault in reader.faults)),
    )


def _parse(file: str, content: bytes) -> dict[str, Any]:
    import tomllib  # 14 ms, only where the list is asked for

    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        raise CatalogueNotUsable([Fault(file, "", "", "this is no text in UTF-8")]) from None
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        found = _SYNTAX_PLACE.search(str(error))
        before = text.split("\n")[: int(found[1])] if found else []
        ids = [line[1] for line in map(_ID_LINE.match, before) if line]
        key = before[-1].partition("=")[0].strip()[:40] if before else ""
        raise CatalogueNotUsable([Fault(file, ids[-1] if ids else "", key, f"this is no TOML: {error}")]) from None


def _faults_between_files(read: list[_ReadFile]) -> list[Fault]:
    faults: list[Fault] = []
    orders: dict[int, str] = {}
    taken: dict[str, str] = {}
    for each in read:
        if each.order in orders:
            faults.append(Fault(each.file, "", "order", f"{each.order} is taken by {orders[each.order]}"))
        if each.order:
            orders.setdefault(each.order, each.file)
        for name in each.named:
            if name in taken:
                faults.append(Fault(each.file, name, "id", f"is taken by an item in {taken[name]}"))
            taken.setdefault(name, each.file)
    owners = {item.id: (each.file, item) for each in read for item in each.items}
    if all(each.whole for each in read):
        faults += _unknown_blockers(owners.values(), taken)
    faults += _cycles(owners)
    return faults


def _unknown_blockers(owned: Iterable[tuple[str, Item]], known: Mapping[str, str]) -> list[Fault]:
    return [
        Fault(file, item.id, "blocked_by", f"there is no item {name}{hint(name, known)}")
        for file, item in owned
        for name in item.blocked_by
        if name not in known
    ]


def _cycles(owners: Mapping[str, tuple[str, Item]]) -> list[Fault]:
    """A fault for each ring of items that wait for one another, at the first of them in the alphabet."""
    faults: list[Fault] = []
    for name, (file, _) in sorted(owners.items()):
        way = _way_back(name, owners)
        if way and name == min(way):
            faults.append(Fault(file, name, "blocked_by", f"waits for itself: {' after '.join([*way, name])}"))
    return faults


def _way_back(start: str, owners: Mapping[str, tuple[str, Item]]) -> list[str]:
    """The shortest way from an item along `blocked_by` back to itself, empty where there is none."""
    ways, seen = [[start]], {start}
    while ways:
        way = ways.pop(0)
        for name in owners[way[-1]][1].blocked_by if way[-1] in owners else ():
            if name == start:
                return way
            if name not in seen:
                seen.add(name)
                ways.append([*way, name])
    return []
