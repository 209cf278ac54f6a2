"""The items of the set-up list as they are read from its files, in stages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from ledger.errors import unknown_name

# So begin the ids of items that she added herself, and no others.
OWN: Final = "own_"


@dataclass(frozen=True)
class Source:
    """second_hand: a text about it was read, not the source itself."""

    title: str
    section: str | None
    year: int | None
    second_hand: bool

    def __str__(self) -> str:
        named = ", ".join(str(part) for part in (self.title, self.section, self.year) if part is not None)
        return f"{named} (read in a text about it)" if self.second_hand else named


@dataclass(frozen=True)
class AnswerPart:
    """One value of an answer. name: `value` where the answer has one part alone. choices: of the kind choice."""

    name: str
    kind: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Item:
    """One item as the list tells it; `checklists.catalogue` explains the fields. No sources: common practice.

    is_own: she added it herself; its why, proof and caution may be empty. is_reworded: it came with the program, and
    says something in her words.
    """

    id: str
    title: str
    why: str
    ask: str
    questions: tuple[str, ...]
    proof: str
    caution: str
    parts: tuple[AnswerPart, ...]
    feeds: str | None
    recurs: str | None
    blocked_by: tuple[str, ...]
    differs: tuple[str, ...]
    sources: tuple[Source, ...]
    is_own: bool = False
    is_reworded: bool = False

    @property
    def source_words(self) -> str:
        if self.is_own:
            return "your own item"
        return "; ".join(map(str, self.sources)) or "common practice, no source"


@dataclass(frozen=True)
class Stage:
    """id: the name of its file. order: its place among the stages. hidden: the items that she put away."""

    id: str
    title: str
    order: int
    items: tuple[Item, ...]
    hidden: tuple[Item, ...] = ()


@dataclass(frozen=True)
class Catalogue:
    """The stages in their order. What she put away is no part of the list, but is still found by its name."""

    stages: tuple[Stage, ...]

    def __iter__(self) -> Iterator[Item]:
        return (item for stage in self.stages for item in stage.items)

    @property
    def hidden(self) -> tuple[Item, ...]:
        return tuple(item for stage in self.stages for item in stage.hidden)

    def item(self, name: str) -> Item:
        """The item of an id, hyphens and capitals aside. Raises NotFound, offering the three nearest."""
        wanted = name.strip().casefold().replace("-", "_")
        items: list[Item] = [*self, *self.hidden]
        found = next((item for item in items if item.id == wanted), None)
        if found is None:
            raise unknown_name("item", name.strip(), [item.id for item in self], "item")
        return found
