"""The line of keys at the foot of a room: it wraps where it must, and each key can be clicked."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding
from textual.content import Content
from textual.widgets import Static


class KeyLine(Static):
    """The keys of the room that are worth a place, in the order of the table of acts."""

    DEFAULT_CSS: ClassVar[str] = """
    KeyLine {
        height: auto;
        padding: 0 1;
        background: $panel;
        color: $foreground;
        link-color: $foreground;
        link-style: none;
        link-background-hover: $primary;
        link-color-hover: $background;
    }
    """

    def __init__(self, bindings: list[Binding]) -> None:
        shown = [each for each in bindings if each.show]
        # The words are the program's own, from the table of acts: nothing typed or read ever comes in here.
        parts = [_part(each) for each in shown]
        super().__init__(Content("  ").join(Content.from_markup(each) for each in parts))


def _part(binding: Binding) -> str:
    action = binding.action if binding.action.startswith("app.") else f"screen.{binding.action}"
    key = binding.key_display or binding.key
    # Spaces that do not break keep a key with its word when the line wraps.
    words = binding.description.replace(" ", "\N{NO-BREAK SPACE}")
    return f"[@click={action}][bold $accent]{key}[/]\N{NO-BREAK SPACE}{words}[/]"
