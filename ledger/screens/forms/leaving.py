"""Asked before a form is left with something typed in it."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from ledger.screens.keys import KeyLine


class Leaving(ModalScreen[bool]):
    """True to leave and lose what was typed."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("y", "answer(True)", "leave"),
        Binding("n", "answer(False)", "stay"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("escape", "answer(False)", "Stay", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    Leaving {
        align: center middle;
    }
    Leaving > Vertical {
        width: 48;
        max-width: 100%;
        height: auto;
        border: round $warning;
        background: $surface;
        padding: 0 1;
    }
    Leaving KeyLine {
        background: $surface;
        padding: 0;
    }
    """

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static("Leave without saving? What you typed is lost.", markup=False)
            yield KeyLine(self.KEYS)

    def action_answer(self, leave: bool) -> None:
        self.dismiss(leave)
