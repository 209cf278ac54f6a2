"""A page that says what was booked or printed: shown over the room until it is closed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Static

from ledger.jobs.gift_certificates import UNUSED
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import plain_lines, plain_text


class PaperPage(Page[str | None]):
    """title: what it is. lines: what it says. below: where it lies on disk, or what else must be known of it.

    above: what must be seen whatever the size of the window; it stands still while the lines are scrolled.
    """

    KEYS: ClassVar[tuple[Binding, ...]] = (Binding("enter", "close", "close", key_display="Enter"),)
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("escape,q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    PaperPage > Vertical {
        border: round $success;
        border-title-color: $success;
    }
    PaperPage KeyLine {
        dock: bottom;
    }
    PaperPage #above {
        height: auto;
        text-style: bold;
        margin-bottom: 1;
    }
    PaperPage VerticalScroll {
        height: auto;
        max-height: 60vh;
    }
    """

    def __init__(self, title: str, lines: Iterable[str], below: str = "", above: Iterable[str] = ()) -> None:
        super().__init__()
        self.title_words = title
        self.lines = tuple(lines)
        self.below = below
        self.above = tuple(above)

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = plain_text(self.title_words)
            if self.above:
                yield Static(plain_lines(self.above), markup=False, id="above")
            with VerticalScroll():
                yield Static(plain_lines(self.lines), markup=False)
            yield Static(plain_text(self.below), markup=False, classes="quiet")
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def action_close(self) -> None:
        self.dismiss(None)


def certificate_page(code: str, amount: str) -> PaperPage:
    """What is to be written on a gift certificate, and what the law says of it."""
    return PaperPage("Gift certificate", (f"Number  {code}", f"Amount  {amount}"), UNUSED)
