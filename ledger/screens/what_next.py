"""What comes next in new books, in words and with the keys for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ledger.actions.act import Act
from ledger.actions.registry import ROOMS, act
from ledger.books.books import Books
from ledger.jobs.first_steps import FirstFacts, Step, next_steps, read_first_facts
from ledger.jobs.prices import price_list
from ledger.screens.doors import door


class Next(NamedTuple):
    """keys: from home. words: what they do."""

    keys: str
    words: str


# The act behind each step.
_ACTS: dict[Step, str] = {
    "open_books": "tell_opening",
    "set_price": "set_price",
    "take_in": "take_in",
    "pick_up": "pick_up",
    "answer": "answer",
    "rates": "set_rate",
    "machine_price": "add_machine_cost",
    "opening": "tell_opening",
}
_WORDS: dict[Step, str] = {
    "open_books": "At work before today? A form takes what stood there already.",
    "set_price": "Put your first price on the list: edge-to-edge, by area.",
    "take_in": "Take in the first piece: whose, its size, the work.",
    "pick_up": "When its owner comes: the slip, how it is paid, receipt.",
    "answer": "Ask if taxed: {classes}. Until then, no tax.",
    "rates": "Enter the sales tax rates where you are.",
    "machine_price": "Enter what the machine cost.",
    "opening": "Enter what was in the bank on the first day.",
}


def what_next(books: Books) -> list[Next]:
    """The steps that are left, the next one first; empty once the workshop runs."""
    facts = read_first_facts(books)
    return list(_told(facts))


def first_piece(books: Books) -> str:
    """What brings the first piece, for a bench that is empty."""
    if price_list(books, books.today):
        return "Press n when the first one comes in."
    return "Press 1, then m, for the first price; then n for a piece."


def _told(facts: FirstFacts) -> Iterator[Next]:
    for step in next_steps(facts):
        behind = act(_ACTS[step])
        # Which item is answered is chosen in the room.
        keys = _from_home(behind) if step != "answer" else door(behind.rooms[0]).digit or ""
        yield Next(keys, _WORDS[step].format(classes=", ".join(facts.unanswered)))


def _from_home(behind: Act) -> str:
    """`n`, or `1 then m` where it is done in a room."""
    if behind.key is None:
        return f"/ {behind.words}"
    return behind.key if behind.rooms == ROOMS else f"{door(behind.rooms[0]).digit} then {behind.key}"
