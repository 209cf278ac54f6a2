"""A table of the packet before anyone sets it: the same rows become a part of the PDF, a sheet and a CSV file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

# amount: cents as int. percent and quantity: Decimal. count: int. day: date.
CellKind = Literal["text", "amount", "percent", "quantity", "count", "day"]
Cell = str | int | Decimal | date | None
Row = tuple[Cell, ...]


@dataclass(frozen=True)
class Field:
    """A column. is_summed: its amounts add up to something, and a last row says to what."""

    head: str
    kind: CellKind = "text"
    is_summed: bool = False


@dataclass(frozen=True)
class PacketTable:
    """name: that of its sheet and its file, at most 31 letters. note: what has to be known to read it.

    on_paper: whether it stands in the PDF too, where long lists have no place.
    """

    name: str
    title: str
    fields: tuple[Field, ...]
    rows: tuple[Row, ...]
    note: str = ""
    on_paper: bool = True

    def __post_init__(self) -> None:
        assert 1 <= len(self.name) <= 31, "the name of a sheet has at most 31 letters"
        assert all(len(row) == len(self.fields) for row in self.rows), f"{self.name}: a row does not fit its columns"

    def sum_of(self, place: int) -> int:
        """What a summed column adds up to, in cents."""
        return sum(cell for row in self.rows if isinstance(cell := row[place], int))


def amounts(*heads: str) -> tuple[Field, ...]:
    """Columns of amounts that are summed."""
    return tuple(Field(head, "amount", is_summed=True) for head in heads)


def by_name_and_part(cells: Iterable[tuple[str, str, int]], parts: Sequence[str]) -> list[tuple[str, tuple[int, ...]]]:
    """A name with its cents in each part of the period and their sum, the largest first. cells: name, part, cents."""
    sums: dict[str, dict[str, int]] = {}
    for name, part, cents in cells:
        of_name = sums.setdefault(name, dict.fromkeys(parts, 0))
        of_name[part] += cents
    rows = [(name, (*of_name.values(), sum(of_name.values()))) for name, of_name in sums.items()]
    return sorted(rows, key=lambda row: (-abs(row[1][-1]), row[0]))
