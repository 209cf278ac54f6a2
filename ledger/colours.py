"""The sets of colours by their names, and which of them the program begins with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ledger.errors import NotUnderstood
from ledger.preferences import keep_preference, read_preference
from ledger.text import shown

PREFERENCE = "colours"


@dataclass(frozen=True)
class Colours:
    """One set. key: its letter on the page where it is chosen. words: what it looks like."""

    name: str
    key: str
    words: str


DAYLIGHT = Colours("daylight", "d", "Dark letters on unbleached cotton.")
LAMPLIGHT = Colours("lamplight", "l", "Light letters on indigo, for the evening.")
INK = Colours("ink", "i", "Black on white, high contrast.")
CHALK = Colours("chalk", "c", "White on black, high contrast.")
TERMINAL = Colours("terminal", "t", "The terminal's own letters, ground and sixteen colours.")
PLAIN = Colours("plain", "p", "No colour at all; bold and reversed letters.")
SETS = (DAYLIGHT, LAMPLIGHT, INK, CHALK, TERMINAL, PLAIN)

# Terminals with sixteen colours or fewer, by the beginning or the end of their names.
_FEW_COLOURS = ("linux", "vt", "ansi", "cons25")
_SIXTEEN = ("-16color", "-8color")
_MONOCHROME = ("dumb", "xterm-mono")


def colours_to_begin_with(environment: Mapping[str, str]) -> Colours:
    """Plain under NO_COLOR, else what TWOPURSE_THEME names, else what was chosen, else what the terminal can show."""
    if environment.get("NO_COLOR"):
        return PLAIN
    by_name = {each.name: each for each in SETS}
    for named in (environment.get("TWOPURSE_THEME", ""), read_preference(PREFERENCE) or ""):
        if named in by_name:
            return by_name[named]
    terminal = environment.get("TERM", "")
    if terminal in _MONOCHROME:
        return PLAIN
    return TERMINAL if terminal.startswith(_FEW_COLOURS) or terminal.endswith(_SIXTEEN) else LAMPLIGHT


def colours_named(name: str) -> Colours:
    """One set by its name. Raises NotUnderstood."""
    for each in SETS:
        if each.name == name.strip().casefold():
            return each
    names = ", ".join(each.name for each in SETS)
    raise NotUnderstood(f"There are no colours named «{shown(name)[:40]}».", f"There are {names}.", "colours")


def keep_colours(name: str) -> Colours:
    """Begin with this set from now on. Raises NotUnderstood, and NotPossible where that cannot be kept."""
    found = colours_named(name)
    keep_preference(PREFERENCE, found.name)
    return found


def overruled_by(environment: Mapping[str, str]) -> str | None:
    """The variable that decides instead of what was chosen, if one does."""
    if environment.get("NO_COLOR"):
        return "NO_COLOR"
    named = environment.get("TWOPURSE_THEME", "")
    return "TWOPURSE_THEME" if named in {each.name for each in SETS} else None
