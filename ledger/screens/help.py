"""What `?` says of a room: what it is for, its keys, and its words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from ledger.actions.registry import acts_of_room
from ledger.screens.doors import door
from ledger.screens.showing import plain_lines, plain_text

# Two sentences at most for each word; the caution where there is one.
WORDS: dict[str, tuple[str, ...]] = {
    "home": ("Each block opens by its digit, by Enter or by a click. / finds any act or room.",),
    "bench": (
        "Deposit: money held until pickup. It is the customer's until then, and no income in these books.",
        "Declared value: what the customer says the piece is worth. Your insurance agent will ask for the highest sum.",
    ),
    "money": (
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
        "Income tax and self-employment tax are not in these figures yet: ask your accountant what to keep back.",
    ),
    "quarter": (
        "Cash method: income counts when the money comes, deposits included.",
        "From the owner's records, not audited, not a tax return. Your accountant decides.",
    ),
    "set_up": (
        "Nobody here knows your local rules. Ask the office that is named, and write down who said what, and when.",
        "For electricity, a licensed electrician; for cover, your insurance agent.",
    ),
}


class HelpPage(ModalScreen[None]):
    """Help over a room."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,enter,question_mark,q", "close", "Close")]
    DEFAULT_CSS: ClassVar[str] = """
    HelpPage {
        align: center middle;
    }
    HelpPage > VerticalScroll {
        width: 74;
        max-width: 100%;
        height: auto;
        max-height: 95%;
        border: round $primary;
        border-title-color: $primary;
        background: $surface;
        padding: 0 1;
    }
    """

    def __init__(self, room: str) -> None:
        super().__init__()
        self.room = room

    def compose(self) -> ComposeResult:
        with VerticalScroll() as frame:
            frame.border_title = plain_text(door(self.room).title)
            yield Static(plain_lines(help_lines(self.room)), markup=False)

    def action_close(self) -> None:
        self.dismiss(None)


def help_lines(room: str) -> Iterator[str]:
    """The help of a room as lines."""
    yield door(room).purpose
    yield ""
    for each in acts_of_room(room):
        yield f"  {each.key}  {each.words}: {each.help}"
    yield "  1 to 6  the rooms    Esc  home    /  find    Ctrl+Q  quit"
    yield ""
    yield from WORDS[room]
