"""What stands in the guide and the README as something to type: commands, options, keys, and examples of words."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from typing import NamedTuple

from ledger.guide.chapters import CHAPTERS, read_text_of
from tests.structure.tree import CHECKOUT

_SPAN = re.compile(r"`([^`]+)`(?:\s\(([^)]+)\))?")
_BLOCK = re.compile(r"^```\n(.*?)^```", re.MULTILINE | re.DOTALL)
_A_KEY = re.compile(r"[a-z0-9?/.←→]|Enter|Esc|Tab|F\d+|Ctrl\+[A-Z]")
# These open the rooms, and wait for a person.
OPEN_THE_ROOMS = {"twopurse", "twopurse --demo"}


class Key(NamedTuple):
    """words: what stands in brackets after it, which is what the foot of the screen calls it; empty where nothing."""

    key: str
    words: str


def texts() -> dict[str, str]:
    """Every chapter by its name, and the README."""
    readme = (CHECKOUT / "README.md").read_text(encoding="utf-8")
    return {**{name: read_text_of(name) for name in CHAPTERS}, "README": readme}


def commands_in(text: str) -> list[list[str]]:
    """The words of every command: those between fences in their order, then those within the sentences."""
    blocks = [line for block in _BLOCK.findall(text) for line in block.splitlines()]
    inline = [span for span, _ in _SPAN.findall(_BLOCK.sub("", text))]
    lines = [" ".join(each.split()) for each in (*blocks, *inline) if each.split()[:1] == ["twopurse"]]
    return [shlex.split(each, comments=True)[1:] for each in lines if each not in OPEN_THE_ROOMS]


def spans_in(text: str) -> Iterator[tuple[str, str]]:
    """What stands between marks within the sentences, and the words in brackets after it."""
    for span, words in _SPAN.findall(_BLOCK.sub("", text)):
        yield " ".join(span.split()), " ".join(words.split())


def keys_in(text: str) -> list[Key]:
    return [Key(span, words) for span, words in spans_in(text) if _A_KEY.fullmatch(span)]


def options_in(text: str) -> set[str]:
    return {span.split()[0] for span, _ in spans_in(text) if span.startswith("--")}
