"""What is refused, in the words of the rooms: an option is the field of the form, a command its act and its key."""

from __future__ import annotations

import re
from collections.abc import Mapping

from ledger.actions.act import Act
from ledger.actions.registry import ACTS, ROOMS
from ledger.screens.doors import door

_COMMAND = re.compile(r"(«twopurse [^»]*»)")
_OPTION = re.compile(r"--([a-z]+(?:-[a-z]+)*)(?: \"[^\"]*\")?")
# Where the rooms show what a command prints, or have what it does: the words there, and the keys that lead to them.
_LIKE_A_COMMAND = {
    "job show": ("Bench", "1"),
    "job list": ("Bench", "1"),
    "entries": ("Money", "2"),
    "question list": ("Quarter", "5"),
    "setup list": ("Set-up", "6"),
    "setup show": ("Set-up", "6"),
    "owed list": ("Open items", "Money, o"),
    "gift list": ("Open items", "Money, o"),
    "mileage list": ("Trips", "Money, y then t"),
    "machine list": ("Figures", "Machine, g"),
    "machine payoff": ("Schedule", "Machine, d"),
    "tax class": ("Answer", "Set-up, a"),
    "tax period": ("Answer", "Set-up, a"),
    "tax": ("Tax rate» or «Answer", "Set-up, r or a"),
}
# Acts that have no key in a room, but one in a page over it.
_IN_PAGES = {
    **dict.fromkeys(("place_line", "undo_placing"), "Money, r"),
    "read_statement": "Money, r then r",
    "agree": "Money, r then a",
    "count_cash": "Money, r then k",
    **dict.fromkeys(("add_category", "rename_category", "merge_category"), "Money, y then c"),
    **dict.fromkeys(("retire_category", "bring_back_category"), "Money, y then c"),
    "strike_trip": "Money, y then t",
    **dict.fromkeys(("pay_for_work", "keep_tax_form"), "Money, y then h"),
    "limit_documents": "Money, d then l",
    "choose_household": "Money, y then w",
    "let_go": "Money, y then g",
    "open_household": "Money, y then o",
    "view": "Money, v",
    **dict.fromkeys(("print_intake", "print_receipt"), "Bench, j"),
    "keep_calendar": "Set-up, k",
    "file_tax": "Set-aside, x then f",
    "pay_tax": "Set-aside, x then y",
    "unfile_tax": "Set-aside, x then u",
}
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


def acts_for_commands(sentence: str) -> str:
    """A sentence that is shown in a room as it stands, but for the commands in it."""
    return "".join(_act(each) if each.startswith("«twopurse ") else each for each in _COMMAND.split(sentence))


def _act(command: str) -> str:
    """The act by its words and its keys, or the room that shows it; a command that no room has is called one."""
    words = command.removeprefix("«twopurse ").removesuffix("»")
    if words.startswith("quarter ") and "--reopen" in words:
        words = "reopen"
    by_verb = {each.verb: each for each in ACTS}
    known = [each for each in (*by_verb, *_LIKE_A_COMMAND) if f"{words} ".startswith(f"{each} ") and each != "tax"]
    if words == "tax":
        known = [words]
    if not known:
        return f"«twopurse {words}» (a command, outside the rooms)"
    verb = max(known, key=len)
    if verb in by_verb:
        return f"«{by_verb[verb].words}» ({where(by_verb[verb])})"
    called, keys = _LIKE_A_COMMAND[verb]
    return f"«{called}» ({keys})"


def where(act: Act) -> str:
    """The keys that lead to an act, with its room where not every room has it."""
    if act.key is None:
        return _IN_PAGES.get(act.id, "found with /")
    if act.rooms == ROOMS and act.id not in _CHOSEN_IN:
        return act.key
    return f"{door(_CHOSEN_IN.get(act.id, act.rooms[0])).title}, {act.key}"
