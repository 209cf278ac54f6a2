"""Customers by number in what was typed: reasons, questions and file names may say who it was."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from ledger.books.books import Books
from ledger.jobs.customers import customer_code
from ledger.quarter.table import PacketTable

# The columns that hold words of her own or of a bank, by table. Names of shops and of offices stand in others.
_TYPED = {
    "entries": ("What",),
    "late finds": ("What",),
    "crossings": ("Why",),
    "questions": ("Question",),
    "answers": ("Question", "Answer"),
    "documents": ("Kept as",),
}


def read_numbers(books: Books) -> dict[str, str]:
    """The number of each customer by every name that she or he ever had, the longest name first."""
    rows = books.rows(
        "select distinct name, customer.id from customer join party_detail on party_detail.party = customer.party"
    )
    found = {row["name"].casefold(): customer_code(row["id"]) for row in rows}
    return dict(sorted(found.items(), key=lambda each: (-len(each[0]), each[0])))


def by_number(text: str, numbers: Mapping[str, str]) -> str:
    """The text with each whole name of a customer, in capitals or not, as the number. A part of a name stays."""
    if not numbers:
        return text
    names = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, numbers))})(?!\w)", re.IGNORECASE)
    return names.sub(lambda found: numbers.get(found[0].casefold(), found[0]), text)


def number_customers(tables: Sequence[PacketTable], numbers: Mapping[str, str]) -> tuple[PacketTable, ...]:
    """The tables with customers by number wherever words were typed."""
    return tuple(_numbered(each, numbers) if each.name in _TYPED else each for each in tables)


def _numbered(table: PacketTable, numbers: Mapping[str, str]) -> PacketTable:
    typed = [field.head in _TYPED[table.name] for field in table.fields]
    rows = tuple(
        tuple(
            by_number(cell, numbers) if is_typed and isinstance(cell, str) else cell
            for cell, is_typed in zip(row, typed, strict=True)
        )
        for row in table.rows
    )
    return replace(table, rows=rows)
