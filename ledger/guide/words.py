"""The words of the trade and of these rooms, out of the chapter that explains them: help shows them room by room."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from ledger.guide.chapters import read_chapter

CAUTION = "Caution: "


@dataclass(frozen=True)
class Word:
    """names: what the rooms call it, the usual name first. caution: None where there is none."""

    names: tuple[str, ...]
    meaning: str
    caution: str | None

    @property
    def name(self) -> str:
        return self.names[0]

    @property
    def told(self) -> str:
        """Name, meaning and caution in one paragraph."""
        said = f"{self.name}: {self.meaning}"
        return said if self.caution is None else f"{said} {CAUTION}{self.caution}"

    def stands_in(self, text: str) -> bool:
        """Whether a text has one of its names, as a word or as several."""
        return any(re.search(rf"(?<!\w){re.escape(each)}(?!\w)", text, re.IGNORECASE) for each in self.names)


@cache
def read_words() -> dict[str, Word]:
    """Every word by its name. A heading holds the names, the paragraph below it the meaning, the next the caution."""
    parts: list[tuple[str, list[str]]] = []
    for block in read_chapter("words"):
        if block.kind == "heading":
            parts.append((block.plain, []))
        elif parts:
            parts[-1][1].append(block.plain)
    words = (_word(heading, said) for heading, said in parts)
    return {each.name: each for each in words}


def _word(heading: str, said: list[str]) -> Word:
    caution = next((each.removeprefix(CAUTION) for each in said if each.startswith(CAUTION)), None)
    return Word(tuple(heading.split(", ")), said[0], caution)


def words_in(text: str) -> list[Word]:
    """The words that a text uses, in the order of the chapter."""
    return [each for each in read_words().values() if each.stands_in(text)]
