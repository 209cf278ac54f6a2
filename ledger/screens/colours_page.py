"""The sets of colours: one letter each, seen at once and kept for the next start."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from ledger.colours import SETS
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import plain_lines


class ColoursPage(Page[None]):
    """It stays open, so that one can look at one set after the other."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        *(Binding(each.key, f"choose('{each.name}')", each.name) for each in SETS),
        Binding("escape", "close", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("enter,q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    ColoursPage > Vertical {
        width: 72;
    }
    ColoursPage KeyLine {
        margin-top: 1;
    }
    """

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = "Colours"
            yield Static("", id="sets", markup=False)
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self._paint()

    def action_choose(self, name: str) -> None:
        """These from now on."""
        self.twopurse.choose_colours(name)
        self._paint()

    def action_close(self) -> None:
        self.dismiss(None)

    def _paint(self) -> None:
        self.query_one("#sets", Static).update(plain_lines(self._lines()))

    def _lines(self) -> Iterator[str]:
        for each in SETS:
            mark = "●" if each.name == self.app.theme else "○"
            yield f"{mark} {each.key}  {each.name:<10} {each.words}"
