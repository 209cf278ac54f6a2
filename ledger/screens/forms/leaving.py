"""Asked before a form is left with something typed in it."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static


class Leaving(ModalScreen[bool]):
    """True to leave and lose what was typed."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y", "answer(True)", "Leave"),
        Binding("n,escape", "answer(False)", "Stay"),
    ]
    DEFAULT_CSS: ClassVar[str] = """
    Leaving {
        align: center middle;
    }
    Leaving > Vertical {
        width: 46;
        height: auto;
        border: round $warning;
        background: $surface;
        padding: 0 1;
    }
    """

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static("Leave without saving? What you typed is lost.", markup=False)
            yield Static("y leave · n stay", markup=False, classes="quiet")

    def action_answer(self, leave: bool) -> None:
        self.dismiss(leave)
