"""A page of choices over a room: letters with what each does, to press or to click."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, NamedTuple

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import plain_text

BACK: Binding = Binding("escape", "close", "back", key_display="Esc")


class Choice(NamedTuple):
    """action: of the page, as a binding names it. words: the program's own; nothing typed or read comes in here."""

    key: str
    action: str
    words: str


class ChoicesPage(Page[str | None]):
    """A page says `title_words` and its `choices`, and binds their keys; it goes away with what was chosen."""

    title_words: str = ""
    BINDINGS: ClassVar[list[BindingType]] = [BACK, Binding("q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    ChoicesPage > Vertical {
        width: 62;
    }
    ChoicesPage Static {
        link-color: $foreground;
        link-style: none;
        link-background-hover: $primary;
        link-color-hover: $background;
    }
    ChoicesPage KeyLine {
        margin-top: 1;
    }
    """

    def choices(self) -> Sequence[Choice]:
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = plain_text(self.title_words)
            yield Static(Content("\n").join(map(_clickable, self.choices())), markup=False)
            yield KeyLine([BACK])

    def action_close(self) -> None:
        self.dismiss(None)


def _clickable(choice: Choice) -> Content:
    return Content.from_markup(
        f"[@click=screen.{choice.action}][bold underline]{choice.key}[/]   $words[/]", words=choice.words
    )
