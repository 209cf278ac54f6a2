"""What is refused, in the words of the rooms: an option is the field of the form, a command its act and its key."""

from __future__ import annotations

import re
from collections.abc import Mapping

from ledger.actions.act import Act
from ledger.actions.registry import ACTS, ROOMS
from ledger.screens.doors import door

_COMMAND = re.compile(r"(«twopurse [^»]*»)")
_OPTION = re.compile(r"--([a-z]+(?:-[a-z]+)*)(?: \"[^\"]*\")?")
# Where the rooms show what a command prints.
_SHOWN_IN = {"job show": "bench", "job list": "bench", "entries": "money"}
# What every room has, but where what is meant must be chosen first.
_CHOSEN_IN = {"reverse": "money"}
# Options that a form has no field for.
_ELSEWHERE = {"on": "another date", "line": "an x beside the work"}


def in_the_rooms(sentence: str, labels: Mapping[str, str] | None = None) -> str:
    """The sentence for somebody who sees the form. labels: what the form calls each of its fields, by their names."""
    parts = _COMMAND.split(sentence)
    return "".join(_act(each) if each.startswith("«twopurse ") else _fields(each, labels or {}) for each in parts)


def _fields(words: str, labels: Mapping[str, str]) -> str:
    def field(found: re.Match[str]) -> str:
        name = found[1].replace("-", "_")
        return f"«{labels[name].strip('?')}»" if name in labels else _ELSEWHERE.get(name, found[0])

    return _OPTION.sub(field, words)


def _act(command: str) -> str:
    """The act by its words and its key, or the room that shows it; a command that no room has stays as it is."""
    words = command.removeprefix("«twopurse ").removesuffix("»")
    for verb, name in _SHOWN_IN.items():
        if f"{words} ".startswith(f"{verb} "):
            return f"«{door(name).title}» ({door(name).digit})"
    of_rooms = [each for each in ACTS if each.rooms and f"{words} ".startswith(f"{each.verb} ")]
    if not of_rooms:
        return command
    act = max(of_rooms, key=lambda each: len(each.verb))
    return f"«{act.words}» ({where(act)})"


def where(act: Act) -> str:
    """The key of an act, with its room where not every room has it."""
    if act.key is None:
        return "found with /"
    if act.rooms == ROOMS and act.id not in _CHOSEN_IN:
        return act.key
    return f"{door(_CHOSEN_IN.get(act.id, act.rooms[0])).title}, {act.key}"
