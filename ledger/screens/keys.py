"""The line of keys at the foot of a room or a form: it wraps between keys, and each can be clicked.

What is told stands above the keys, in a place of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.geometry import Size
from textual.widgets import Static

from ledger.screens.program import Program
from ledger.screens.showing import plain_text

_GAP = "  "
_MOST_LINES = 2
_LEAST_TOLD = 3
# Find, help and the way back.
_KEPT_AT_THE_END = 3
# What can be done in a list stands at the foot wherever there is one.
_OF_EVERY_LIST = "full_stop"


class KeyLine(Static):
    """The keys that are worth a place, in the order given."""

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

    def __init__(self, bindings: Sequence[Binding]) -> None:
        super().__init__("", markup=False)
        self._notices: Sequence[tuple[str, str]] = ()
        self._shown = [each for each in bindings if each.show]

    def show_keys(self, bindings: Sequence[Binding]) -> None:
        """Other keys than before, where a room has more than one view."""
        self._shown = list(bindings)
        self.refresh(layout=True)

    def on_resize(self, event: events.Resize) -> None:
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the keys take in this width, known before the line is painted."""
        return len(self._told_lines(width)) + len(self.fitting(width))

    def render(self) -> Content:
        width = self.content_size.width
        keys = (Content(_GAP).join(map(_key, line)) for line in self.fitting(width))
        return Content("\n").join([*self._told_lines(width), *keys])

    def on_mount(self) -> None:
        if isinstance(self.app, Program):
            self.tell(self.app.notices)

    def tell(self, notices: Sequence[tuple[str, str]]) -> bool:
        """Sentences to stand above the keys, each with its style; whether they are others than before."""
        is_new = tuple(notices) != tuple(self._notices)
        if is_new:
            self._notices = notices
            self.refresh(layout=True)
        return is_new

    def _told_lines(self, width: int) -> list[Content]:
        """Wrapped, and as wide as the line; where they would take too much of the window, the latest of them."""
        lines = [
            Content.styled(line.plain + " " * (width - line.cell_length), style)
            for words, style in self._notices
            for line in plain_text(words).wrap(max(1, width))
        ]
        return lines[-max(_LEAST_TOLD, self.app.size.height // 3) :]

    def fitting(self, width: int) -> list[list[Binding]]:
        """The keys as lines. Where they take too many, acts before the last keys are left to help and palette."""
        shown = list(self._shown)
        while len(lines := list(_lines(shown, width))) > _MOST_LINES:
            left_out = [each for each in shown[:-_KEPT_AT_THE_END] if each.key != _OF_EVERY_LIST]
            if not left_out:
                break
            shown.remove(left_out[-1])
        return lines


def _lines(bindings: Sequence[Binding], width: int) -> Iterator[list[Binding]]:
    line: list[Binding] = []
    for each in bindings:
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
