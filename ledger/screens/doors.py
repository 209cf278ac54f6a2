"""The seven rooms: their names, what each is for, and the digit that opens it from home."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ledger.screens.room import Room


@dataclass(frozen=True)
class Door:
    """digit: what opens the room from home. purpose: one sentence for help and palette."""

    name: str
    title: str
    digit: str | None
    purpose: str


DOORS: tuple[Door, ...] = (
    Door("home", "Home", None, "What is ready, what is there, what is owed, at a glance."),
    Door("bench", "Bench", "1", "The pieces in the house and the jobs around them, ready ones first."),
    Door("money", "Money", "2", "The workshop's purse and the household's, and every entry."),
    Door("machine", "Machine", "3", "How far the machine is from being paid off."),
    Door("set_aside", "Set-aside", "4", "What belongs to others, and what is left to draw."),
    Door("quarter", "Quarter", "5", "The totals that the accountant gets, and what is still open."),
    Door("set_up", "Set-up", "6", "What to ask, whom, and what you were told."),
)

_CLASSES = {
    "home": "HomeRoom",
    "bench": "BenchRoom",
    "money": "MoneyRoom",
    "machine": "MachineRoom",
    "set_aside": "SetAsideRoom",
    "quarter": "QuarterRoom",
    "set_up": "SetUpRoom",
}


def door(name: str) -> Door:
    return next(each for each in DOORS if each.name == name)


def room(name: str) -> Room:
    """A room, its module read only now."""
    made: Room = getattr(import_module(f"ledger.screens.{name}"), _CLASSES[name])()
    return made
