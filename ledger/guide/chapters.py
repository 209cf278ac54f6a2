"""The chapters of the guide in their order, each read from its Markdown only when it is wanted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from ledger.errors import NotFound
from ledger.guide.markdown import Block, read_blocks

# The name of each chapter, which is that of its file, and its title.
CHAPTERS: dict[str, str] = {
    "first": "The first minutes",
    "job": "A job, from drop-off to pickup",
    "sunday": "Sunday evening",
    "draw": "Can I take some money out?",
    "sales-tax": "Sales tax, from the answer to the return",
    "machine": "The machine, its loan and the plan",
    "quarter": "Quarter's end and the accountant",
    "before": "Before the first customer",
    "wrong": "When something went wrong",
    "words": "Words",
    "cautions": "Cautions",
    "commands": "Everything by commands",
}
# The chapter that a room opens the guide at.
OF_ROOM = {
    "home": "first",
    "bench": "job",
    "money": "sunday",
    "machine": "machine",
    "set_aside": "draw",
    "quarter": "quarter",
    "set_up": "before",
}
_SUFFIX = ".md"


@dataclass(frozen=True)
class Found:
    """A place in the guide. heading: the last one before it. block: its number in the chapter."""

    chapter: str
    block: int
    heading: str
    words: str


def read_text_of(chapter: str) -> str:
    """The Markdown of a chapter. Raises NotFound."""
    if chapter not in CHAPTERS:
        raise NotFound(f"The guide has no chapter «{chapter}».", f"It has {', '.join(CHAPTERS)}.", "chapter")
    return (files("ledger.guide") / f"{chapter}{_SUFFIX}").read_text(encoding="utf-8")


@cache
def read_chapter(chapter: str) -> tuple[Block, ...]:
    """The blocks of a chapter, the first of them its title. Raises NotFound."""
    return read_blocks(read_text_of(chapter))


def find(words: str) -> Iterator[Found]:
    """The blocks in which all of these words stand, whole or in part, chapter after chapter; titles aside."""
    wanted = words.casefold().split()
    if not wanted:
        return
    for chapter in CHAPTERS:
        heading = ""
        for number, block in enumerate(read_chapter(chapter)):
            if block.kind == "heading":
                heading = block.plain
            said = f"{heading} {block.plain}".casefold()
            if block.kind not in ("title", "heading") and all(each in said for each in wanted):
                yield Found(chapter, number, heading, block.plain)
