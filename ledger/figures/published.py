"""What a published figure carries with it: its dates, its source, how it was read, and how sure it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

# How sure a figure is: the word in the files, and what a screen or a packet says beside the figure.
STATUS_WORDS: Final[Mapping[str, str]] = {
    "official": "official",
    "second_hand": "as texts about the source give it",
    "estimate": "an estimate",
    "from_memory": "from memory",
}


@dataclass(frozen=True)
class Source:
    """Where a figure is published: the title, the place in it, and the year of the edition."""

    title: str
    section: str
    year: int

    def __str__(self) -> str:
        return ", ".join(part for part in (self.title, self.section, str(self.year)) if part)


@dataclass(frozen=True, kw_only=True)
class Published:
    """One dated value. It holds from `from_date` through `until`, or as far as it is known through `known_through`.

    Just one of these two is given. `until` is the last day of a figure that was replaced or ran out; `known_through` is
    the last day for which anything was published. `beyond_year` is the year it was asked for, where that lies beyond
    its last day and the last known value was taken all the same.
    """

    name: str
    file: str
    from_date: date
    until: date | None
    known_through: date | None
    source: Source
    status: str
    read: str
    beyond_year: int | None = None

    @property
    def last_day(self) -> date:
        end = self.until or self.known_through
        assert end is not None, "the loader lets no figure pass without its last day"
        return end

    @property
    def beyond_known(self) -> bool:
        return self.beyond_year is not None

    @property
    def notes(self) -> tuple[str, ...]:
        """What has to stand beside the figure wherever it is shown; nothing for an official figure within its dates."""
        sure = () if self.status == "official" else (STATUS_WORDS[self.status],)
        late = (f"no published figure for {self.beyond_year} yet",) if self.beyond_known else ()
        return sure + late


@dataclass(frozen=True, kw_only=True)
class Figure(Published):
    """One number with its unit."""

    value: Decimal
    unit: str


@dataclass(frozen=True, kw_only=True)
class PercentColumn(Published):
    """A column of a published table: percents of the cost, the first year of use first."""

    percents: tuple[Decimal, ...]


@dataclass(frozen=True, kw_only=True)
class LineTable(Published):
    """The line numbers of a form by our key. `not_confirmed` are those not seen in that year's form."""

    numbers: Mapping[str, str]
    not_confirmed: frozenset[str]


@dataclass(frozen=True)
class FormLine:
    """One line of a form in one tax year. `number` is bare ("27b"); `table` tells the source and how sure it is."""

    key: str
    number: str
    confirmed: bool
    table: LineTable

    @property
    def words(self) -> str:
        """The number as a screen or a packet shows it."""
        return self.number if self.confirmed else f"{self.number} (not confirmed)"


@dataclass(frozen=True)
class Library:
    """Everything that the files hold, by name, each name's values in the order of their dates."""

    figures: Mapping[str, tuple[Figure, ...]]
    columns: Mapping[str, tuple[PercentColumn, ...]]
    lines: Mapping[str, tuple[LineTable, ...]]
