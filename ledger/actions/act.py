"""What the program knows of an act before anyone calls it: its name, words, key, rooms and help."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Act:
    """id: how the program calls it. verb: the command's words. words: what the palette and the footer say. key: the
    letter in `rooms`, None for the palette alone. help: a sentence or two, the first of which stands in lists. request:
    the type it takes, as module:name. is_rare: its key works, and stands in the help but not in the footer."""

    id: str
    verb: str
    words: str
    key: str | None
    rooms: tuple[str, ...]
    help: str
    request: str
    is_rare: bool = False
