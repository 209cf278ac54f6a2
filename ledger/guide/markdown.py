"""The little of Markdown that the guide is written in, as blocks, and as lines of so many letters.

A title (`#`), headings (`##`), paragraphs, items (`-`), commands (between fences), and in their words `keys` and
**strong** ones: nothing else is read, and a test holds that nothing else is written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

Kind = Literal["title", "heading", "paragraph", "item", "commands"]
Look = Literal["", "key", "strong"]

_FENCE = "```"
_MARKED = re.compile(r"`(?P<key>[^`]+)`|\*\*(?P<strong>[^*]+)\*\*")
_ITEM = "- "


@dataclass(frozen=True)
class Run:
    """Words of one look."""

    text: str
    look: Look = ""


@dataclass(frozen=True)
class Block:
    """text: the words with their marks; of commands the lines as they are typed."""

    kind: Kind
    text: str

    @property
    def runs(self) -> tuple[Run, ...]:
        return tuple(_runs(self.text))

    @property
    def plain(self) -> str:
        """The words without their marks."""
        return self.text if self.kind == "commands" else "".join(each.text for each in self.runs)


@dataclass(frozen=True)
class Line:
    """One line of a chapter that is set for a width. block: the number of the block that it is of."""

    block: int
    kind: Kind
    runs: tuple[Run, ...]

    @property
    def plain(self) -> str:
        return "".join(each.text for each in self.runs)


def read_blocks(text: str) -> tuple[Block, ...]:
    """The blocks of a chapter, in their order."""
    return tuple(_blocks(text.splitlines()))


def _blocks(lines: Sequence[str]) -> Iterator[Block]:
    parts = iter("\n".join(lines).split(f"\n{_FENCE}"))
    # Between every second pair of fences stand commands.
    for number, part in enumerate(parts):
        if number % 2:
            yield Block("commands", part.strip("\n"))
        else:
            yield from _prose(part.splitlines())


def _prose(lines: Sequence[str]) -> Iterator[Block]:
    for is_text, group in groupby(lines, key=lambda line: bool(line.strip())):
        if is_text:
            yield from _block_of(list(group))


def _block_of(lines: list[str]) -> Iterator[Block]:
    """One paragraph, one heading, or the items of a list, each perhaps over several lines."""
    started: list[str] = []
    for line in lines:
        if line.startswith(("# ", "## ", _ITEM)) and started:
            yield _made(started)
            started = []
        started.append(line)
    yield _made(started)


def _made(lines: list[str]) -> Block:
    words = " ".join(each.strip() for each in lines)
    starts: tuple[tuple[str, Kind], ...] = (("# ", "title"), ("## ", "heading"), (_ITEM, "item"))
    for start, kind in starts:
        if words.startswith(start):
            return Block(kind, words.removeprefix(start))
    return Block("paragraph", words)


def _runs(text: str) -> Iterator[Run]:
    place = 0
    for found in _MARKED.finditer(text):
        if found.start() > place:
            yield Run(text[place : found.start()])
        yield Run(found["key"], "key") if found["key"] else Run(found["strong"], "strong")
        place = found.end()
    if place < len(text):
        yield Run(text[place:])


def set_lines(blocks: Sequence[Block], width: int) -> Iterator[Line]:
    """The chapter in lines no longer than `width`, commands aside, with a free line between blocks."""
    before: Kind | None = None
    for number, block in enumerate(blocks):
        if before is not None and not before == block.kind == "item":
            yield Line(number, block.kind, ())
        before = block.kind
        if block.kind == "commands":
            for each in block.text.splitlines():
                yield Line(number, block.kind, (Run(f"  {each}"),))
        else:
            first, then = ("- ", "  ") if block.kind == "item" else ("", "")
            for runs in _wrapped(block.runs, width, first, then):
                yield Line(number, block.kind, runs)


def _wrapped(runs: Sequence[Run], width: int, first: str, then: str) -> Iterator[tuple[Run, ...]]:
    line, length = [Run(first)] if first else [], len(first)
    is_begun = False
    for word in _words(runs):
        cells = sum(len(each.text) for each in word)
        if is_begun and length + 1 + cells > width:
            yield tuple(line)
            line, length, is_begun = [Run(then)] if then else [], len(then), False
        if is_begun:
            line.append(Run(" "))
            length += 1
        line += word
        length += cells
        is_begun = True
    yield tuple(line)


def _words(runs: Sequence[Run]) -> Iterator[list[Run]]:
    """What is not to be parted: a word, of several looks where a mark ends inside it."""
    word: list[Run] = []
    for run in runs:
        for number, part in enumerate(run.text.split(" ")):
            if number and word:
                yield word
                word = []
            if part:
                word.append(Run(part, run.look))
    if word:
        yield word
