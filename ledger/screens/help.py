"""What `?` says of a room: what it is for, its keys, and its words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Static

from ledger.actions.registry import acts_of_room
from ledger.screens.doors import door
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import plain_lines, plain_text

# Two sentences at most for each word; the caution where there is one.
WORDS: dict[str, tuple[str, ...]] = {
    "home": ("Each block opens by its digit, by Enter or by a click. / finds any act or room.",),
    "bench": (
        "Deposit: money held until pickup. It is the customer's until then, and no income in these books.",
        "Declared value: what the customer says the piece is worth. Your insurance agent will ask for the highest sum.",
        "Back: the piece goes home with the work not done; the job stays booked.",
    ),
    "money": (
        "x lists what passed between the two purses this year, and why. d lists the receipts without a document. y has "
        "the other lists: categories, shared bills, trips, helpers.",
        "Draw: money that you take out of the workshop. It is no expense, whatever it is for.",
        "Contribution: money or goods that you put in. Owed to owner: what the workshop is to pay back to you.",
        "Undo books the exact mirror of an entry; nothing is ever changed or removed.",
    ),
    "machine": (
        "Taken in: job income alone. Earned: job income less every expense that is not the machine itself.",
        "Both are before income tax and any pay for your time.",
    ),
    "set_aside": (
        "Sales tax that you took is held in trust: it belongs to the state, and you answer for it yourself.",
        "Free to draw: checking, cash box and tax savings, less all that is owed. Enter opens a figure to its entries.",
        "Income tax goes by what your accountant said (i), or by last year's return (l); nothing is guessed.",
    ),
    "quarter": (
        "Cash method: income counts when the money comes, deposits included.",
        "From the owner's records, not audited, not a tax return. Your accountant decides.",
    ),
    "set_up": (
        "Nobody here knows your local rules. Ask the office that is named, and write down who said what, and when.",
        "In each stage what can be asked now stands first, then what waits for something else, then what is settled.",
        "For electricity, a licensed electrician; for cover, your insurance agent.",
    ),
}


# What every room but home has beside its acts.
_MOVING = ("Tab", "to the other part of the room; arrows and page keys go through it")
_WIDTH = 70


class HelpPage(Page[None]):
    """Help over a room. own_keys: what the room has beside its acts, as key and words."""

    KEYS: ClassVar[tuple[Binding, ...]] = (Binding("escape", "close", "back", key_display="Esc"),)
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("enter,question_mark,q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    HelpPage > Vertical {
        width: 76;
    }
    HelpPage VerticalScroll {
        height: auto;
        max-height: 80vh;
    }
    HelpPage KeyLine {
        dock: bottom;
    }
    """

    def __init__(self, room: str, own_keys: Sequence[tuple[str, str]] = ()) -> None:
        super().__init__()
        self.room = room
        self.own_keys = own_keys

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = plain_text(door(self.room).title)
            with VerticalScroll():
                yield Static(plain_lines(help_lines(self.room, self.own_keys)), markup=False)
            yield KeyLine(self.KEYS)

    def action_close(self) -> None:
        self.dismiss(None)


def help_lines(room: str, own_keys: Sequence[tuple[str, str]] = ()) -> Iterator[str]:
    """The help of a room as lines."""
    yield door(room).purpose
    yield ""
    for each in acts_of_room(room):
        if each.key:
            yield from _beside(each.key, f"{each.words}. {first_sentence(each.help)}")
    for key, words in own_keys:
        yield from _beside(key, words)
    yield from _beside("1 to 6", "the rooms")
    if room != "home":
        yield from _beside(*_MOVING)
        yield from _beside("Esc", "home")
    yield from _beside("/", "find a room, an act, a customer or a piece")
    yield from _beside("Ctrl+Q", "quit")
    for paragraph in WORDS[room]:
        yield ""
        yield from wrap(paragraph, _WIDTH)


def first_sentence(text: str) -> str:
    """The sentence of an act's help that stands in lists."""
    return text.partition(". ")[0].removesuffix(".") + "."


def _beside(key: str, words: str) -> Iterator[str]:
    """A key, and its words hanging to the right of it."""
    return iter(wrap(words, _WIDTH, initial_indent=f"{key:<8}", subsequent_indent=" " * 8))
