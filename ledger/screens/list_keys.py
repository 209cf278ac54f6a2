"""The page over a list that says what can be done in it: one letter, and it is done."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from ledger.lists.listing import day_column
from ledger.screens.arranged_list import ArrangedList
from ledger.screens.forms.of_a_list import DayForm, SaveListForm
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import plain_text

_BACK = Binding("escape", "close", "back", key_display="Esc")


class _Choices(Page[None]):
    """Letters with what each does, to press or to click."""

    BINDINGS: ClassVar[list[BindingType]] = [_BACK, Binding("q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    _Choices > Vertical {
        width: 62;
    }
    _Choices Static {
        link-color: $foreground;
        link-style: none;
        link-background-hover: $primary;
        link-color-hover: $background;
    }
    _Choices KeyLine {
        margin-top: 1;
    }
    """

    def __init__(self, arranged: ArrangedList) -> None:
        super().__init__()
        self.arranged = arranged
        for key, _ in self.choices():
            self._bindings.bind(key, f"choose('{key}')", show=False)

    def choices(self) -> Sequence[tuple[str, str]]:
        raise NotImplementedError

    def choose(self, key: str) -> None:
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = plain_text(f"The list: {self.arranged.noun}")
            yield Static(Content("\n").join(_clickable(key, words) for key, words in self.choices()), markup=False)
            yield KeyLine([_BACK])

    def action_choose(self, key: str) -> None:
        self.dismiss(None)
        self.choose(key)

    def action_close(self) -> None:
        self.dismiss(None)


class ListKeysPage(_Choices):
    """What can be done in every list."""

    def choices(self) -> Sequence[tuple[str, str]]:
        has_days = day_column(self.arranged.lines.columns) is not None if self.arranged.lines else False
        return (
            ("f", "Filter: type what the lines must have"),
            ("o", "Order by a column (a click on its head does it too)"),
            *((("g", "Go to a day"),) if has_days else ()),
            ("c", "Copy the line to the clipboard of the terminal"),
            ("v", "Save as a file for a table program (CSV)"),
            ("w", "The whole list again, in its own order"),
        )

    def choose(self, key: str) -> None:
        arranged, app = self.arranged, self.twopurse
        match key:
            case "f":
                arranged.begin_filter()
            case "o":
                app.push_screen(OrderPage(arranged))
            case "g":
                app.push_screen(DayForm(app.books, arranged), arranged.say)
            case "c":
                arranged.copy()
            case "v":
                app.push_screen(SaveListForm(app.books, arranged), arranged.say)
            case _:
                arranged.show_whole()


class OrderPage(_Choices):
    """Its columns, each with a digit."""

    def choices(self) -> Sequence[tuple[str, str]]:
        columns = self.arranged.lines.columns if self.arranged.lines else ()
        return (
            *((str(place + 1), self._words(place, each.label)) for place, each in enumerate(columns) if each.width),
            ("0", "its own order"),
        )

    def choose(self, key: str) -> None:
        self.arranged.order_by(int(key) - 1 if key != "0" else None)

    def _words(self, place: int, label: str) -> str:
        return f"{label}, the other way round" if place == self.arranged.arrangement.column else label


def _clickable(key: str, words: str) -> Content:
    # The words are the program's own: nothing typed or read ever comes in here.
    return Content.from_markup(f"[@click=screen.choose('{key}')][bold underline]{key}[/]   {words}[/]")
