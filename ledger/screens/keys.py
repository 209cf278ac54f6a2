"""The line of keys at the foot of a room: it wraps between keys where it must, and each key can be clicked."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.widgets import Static

_GAP = "  "


class KeyLine(Static):
    """The keys of a room that are worth a place, in the order of the table of acts."""

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
        super().__init__("", markup=False)
        self._shown = [each for each in bindings if each.show]

    def on_resize(self, event: events.Resize) -> None:
        lines = [Content(_GAP).join(map(_key, line)) for line in self._lines(event.size.width)]
        # After this round of layout, which would not make room for a second line.
        self.call_after_refresh(self.update, Content("\n").join(lines))

    def _lines(self, width: int) -> Iterator[list[Binding]]:
        line: list[Binding] = []
        for each in self._shown:
            if line and len(_GAP.join(map(_words, [*line, each]))) > width:
                yield line
                line = []
            line.append(each)
        yield line


def _words(binding: Binding) -> str:
    return f"{binding.key_display or binding.key} {binding.description}"


def _key(binding: Binding) -> Content:
    # The words are the program's own, from the table of acts: nothing typed or read ever comes in here.
    action = binding.action if binding.action.startswith("app.") else f"screen.{binding.action}"
    key = binding.key_display or binding.key
    return Content.from_markup(f"[@click={action}][bold underline]{key}[/] {binding.description}[/]")
