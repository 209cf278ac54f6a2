"""Reads one `[[item]]` table of the checklist, key by key, and says of each what is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from typing import Any, Final

from checklists.faults import Fault
from checklists.item import OWN, AnswerPart, Item, Source
from checklists.recurrence import rule_fault
from checklists.values import KINDS, STANDS_ALONE
from ledger.text import TEXT_LENGTH, clean, shown

MISSING: Final = "is missing"

_NEEDED = ("id", "title", "why", "ask", "questions", "proof", "caution", "answer")
_OPTIONAL = ("feeds", "recurs", "blocked_by", "differs", "sources", "common_practice")
_ID = re.compile(r"[a-z][a-z0-9_]{0,59}")
_FIRST_EDITION, _LAST_EDITION = 1900, 2199


class ItemReader:
    """item: the id, or `item no. 3` where the table has none that can be read."""

    def __init__(self, file: str, number: int, table: Mapping[str, Any]) -> None:
        self.file, self.table = file, table
        self.faults: list[Fault] = []
        name = table.get("id")
        self.has_id = isinstance(name, str) and _ID.fullmatch(name) is not None
        self.item = str(name) if self.has_id else f"item no. {number}"

    def read(self) -> Item:
        """The item; where `faults` is not empty it is not to be used."""
        self.check_keys("", self.table, _NEEDED, _OPTIONAL)
        if "id" in self.table and not self.has_id:
            self.fault("id", "write an id in small letters, digits and underscores")
        if self.item.startswith(OWN):
            self.fault("id", f"ids that begin with {OWN} are kept for items that she adds herself")
        return Item(
            id=self.item,
            title=self.text("title"),
            why=self.text("why"),
            ask=self.text("ask"),
            questions=self.texts("questions"),
            proof=self.text("proof"),
            caution=self.text("caution"),
            parts=self.parts(),
            feeds=self.name("feeds"),
            recurs=self.rule(),
            blocked_by=self.texts("blocked_by"),
            differs=self.examples(),
            sources=self.sources(),
        )

    def fault(self, field: str, what: str) -> None:
        self.faults.append(Fault(self.file, self.item, field, what))

    def check_keys(
        self, field: str, table: Mapping[str, Any], needed: Collection[str], optional: Collection[str]
    ) -> None:
        """field: the key under which the table stands, empty for the item itself."""
        for key in table:
            if key not in needed and key not in optional:
                self.fault(field or key, f"{f'{key} ' if field else ''}is no key here{hint(key, [*needed, *optional])}")
        for key in needed:
            if key not in table:
                self.fault(field or key, f"{key} {MISSING}" if field else MISSING)

    def text(self, key: str) -> str:
        return self.line(key, self.table[key]) if key in self.table else ""

    def line(self, field: str, value: object) -> str:
        """One line of text, empty where it is at fault."""
        if not isinstance(value, str) or not value.strip():
            self.fault(field, "write some text, in quotes")
        elif clean(value) != value or len(value) > TEXT_LENGTH:
            self.fault(field, f"write one line of at most {TEXT_LENGTH} characters that can be shown")
        else:
            return value
        return ""

    def texts(self, key: str) -> tuple[str, ...]:
        if key not in self.table:
            return ()
        values = self.table[key]
        if not isinstance(values, list) or not values:
            self.fault(key, 'write a list of texts, such as ["one", "two"]')
            return ()
        return tuple(self.line(key, value) for value in values)

    def examples(self) -> tuple[str, ...]:
        examples = self.texts("differs")
        if len(examples) == 1:
            self.fault("differs", "one example looks like the rule: give at least two")
        return examples

    def name(self, key: str) -> str | None:
        value = self.table.get(key)
        if value is not None and not (isinstance(value, str) and _ID.fullmatch(value)):
            self.fault(key, "write a name in small letters, digits and underscores")
            return None
        return value

    def rule(self) -> str | None:
        if "recurs" not in self.table:
            return None
        value = self.text("recurs")
        wrong = rule_fault(value) if value else None
        if wrong:
            self.fault("recurs", f"«{shown(value)[:60]}»: {wrong}")
        return value

    def parts(self) -> tuple[AnswerPart, ...]:
        tables = self.table.get("answer", [])
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            self.fault("answer", 'write a list such as [{ kind = "yes/no" }]')
            return ()
        if not tables and "answer" in self.table:
            self.fault("answer", "give at least one kind of answer")
        parts = tuple(self.part(table, alone=len(tables) == 1) for table in tables)
        names = [part.name for part in parts if part.name]
        if len(names) != len(set(names)):
            self.fault("answer", "give each part a name of its own")
        if len(parts) > 1 and any(part.kind in STANDS_ALONE for part in parts):
            self.fault("answer", "a text stands alone, since commas part the others")
        return parts

    def part(self, table: Mapping[str, Any], *, alone: bool) -> AnswerPart:
        kind, choices, name = table.get("kind"), table.get("choices", []), table.get("name", "value" if alone else None)
        self.check_keys("answer", table, ["kind"], ["name", "choices"])
        if "kind" in table and (not isinstance(kind, str) or kind not in KINDS):
            self.fault("answer", f"«{shown(str(kind))[:40]}» is none of: {', '.join(KINDS)}")
        if not isinstance(name, str) or not _ID.fullmatch(name):
            self.fault("answer", "give each of several parts a name in small letters")
        is_list = isinstance(choices, list) and all(isinstance(each, str) and each.strip() for each in choices)
        if not is_list or (kind == "choice") != bool(choices) or any("," in each for each in choices):
            self.fault("answer", "give choices, a list of texts without commas, to the kind choice and to no other")
            choices = []
        return AnswerPart(str(name), str(kind), tuple(choices))

    def sources(self) -> tuple[Source, ...]:
        tables, common = self.table.get("sources"), self.table.get("common_practice")
        if common is not None and common is not True:
            self.fault("common_practice", "write true, or leave it out")
        elif (tables is None) == (common is None):
            self.fault("sources", "give either sources or common_practice = true")
        elif tables is not None:
            if isinstance(tables, list) and tables and all(isinstance(table, dict) for table in tables):
                return tuple(self.source(table) for table in tables)
            self.fault("sources", "write a list such as [{ title = ..., section = ..., year = ... }]")
        return ()

    def source(self, table: Mapping[str, Any]) -> Source:
        self.check_keys("sources", table, ["title"], ["section", "year", "second_hand"])
        year, second_hand = table.get("year"), table.get("second_hand", False)
        if year is not None and (type(year) is not int or not _FIRST_EDITION <= year <= _LAST_EDITION):
            self.fault("sources", "write the year of the edition, without quotes")
        if not isinstance(second_hand, bool):
            self.fault("sources", "write second_hand = true, or leave it out")
        title = self.line("sources", table["title"]) if "title" in table else ""
        section = self.line("sources", table["section"]) if "section" in table else None
        return Source(title, section, year, second_hand)


def hint(name: str, known: Collection[str]) -> str:
    """A hint at the one known name that looks like this one, or nothing."""
    from difflib import get_close_matches  # 8 ms, only where something is at fault

    found = get_close_matches(name, list(known), n=1)
    return f"; did you mean {found[0]}?" if found else ""
