"""Find as one types: a line to type in, below it what is found, and Enter goes there."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from ledger.actions.find import Finder
from ledger.books.finding import Found
from ledger.errors import Refused
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.palette import all_rooms_and_acts, line_for, of_the_rooms, typed_cents
from ledger.screens.showing import counted, plain_text

_HINT = "a room, an act, a name, a piece, a number, an amount"
_NOTHING = "Nothing has all of these words. Fewer letters find more."


class FindPage(Page[Found | None]):
    """It closes with what was chosen. finder: keeps what was read from one time to the next."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("down", "move('cursor_down')", "choose", key_display="↓ ↑"),
        Binding("enter", "choose", "go there", key_display="Enter"),
        Binding("escape", "close", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *KEYS,
        Binding("up", "move('cursor_up')", "Up", show=False),
        Binding("pagedown", "move('page_down')", "Next lines", show=False),
        Binding("pageup", "move('page_up')", "Previous lines", show=False),
    ]
    DEFAULT_CSS: ClassVar[str] = """
    FindPage > Vertical {
        width: 104;
        height: 90%;
    }
    FindPage Input {
        padding: 0 1;
        background: $focused;
    }
    FindPage OptionList {
        height: 1fr;
        margin-top: 1;
        padding: 0;
        border: none;
        background: $surface;
    }
    FindPage OptionList > .option-list--option {
        padding: 0 1;
    }
    FindPage OptionList > .option-list--option-highlighted {
        background: $primary;
        color: $background;
    }
    FindPage #how-many {
        height: 1;
        padding: 0 1;
    }
    """

    def __init__(self, finder: Finder) -> None:
        super().__init__()
        self.finder = finder
        self.found: Sequence[Found] = ()
        self.of_the_rooms = tuple(of_the_rooms())
        self.is_read = False
        self._searched = ""

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = Content("Find")
            yield Input(placeholder=_HINT, compact=True)
            yield OptionList(markup=False)
            yield Static("", id="how-many", markup=False)
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self.query_one(OptionList).can_focus = False
        self.run_worker(self._read_on())

    async def _read_on(self) -> None:
        """A slice at a time, and between two of them whatever was typed is searched for in what is read."""
        try:
            for _ in self.finder.read_on(self.twopurse.books):
                await asyncio.sleep(0)
        except Refused as refused:
            self.twopurse.tell(str(refused), "error")
        self.is_read = True
        self.search()

    def on_resize(self, event: events.Resize) -> None:
        self.call_after_refresh(self.search)

    def on_input_changed(self, event: Input.Changed) -> None:
        self.search()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        self.action_choose()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(self.found[event.option_index])

    def search(self) -> None:
        """Find what is typed, and list it; the cursor stays on what it was on while only more is read."""
        typed, books = self.query_one(Input).value, self.twopurse.books
        was_on = self._chosen()
        try:
            found = self.finder.find(books, typed, typed_cents(books), self.of_the_rooms)
        except Refused as refused:
            self.twopurse.tell(str(refused), "error")
            return
        self.found = found if typed.strip() else all_rooms_and_acts()
        listed = self.query_one(OptionList)
        width, showing = listed.content_size.width - 3, self.twopurse.showing
        listed.set_options(Option(plain_text(line_for(each, showing, max(40, width)))) for each in self.found)
        if self.found:
            stays = typed == self._searched and was_on in self.found
            listed.highlighted = self.found.index(was_on) if stays and was_on else 0
        self._searched = typed
        self.query_one("#how-many", Static).update(Content(self._how_many(typed)))

    def _how_many(self, typed: str) -> str:
        still = "" if self.is_read else " Still reading what is older."
        if not typed.strip():
            return "Every room and act; type to find anything that the books hold."
        if not self.found:
            return _NOTHING + still
        return counted(len(self.found), "hit") + (", the best first." if len(self.found) > 1 else ".") + still

    def _chosen(self) -> Found | None:
        row = self.query_one(OptionList).highlighted
        return self.found[row] if row is not None and row < len(self.found) else None

    def action_move(self, how: str) -> None:
        getattr(self.query_one(OptionList), f"action_{how}")()

    def action_choose(self) -> None:
        chosen = self._chosen()
        if chosen is not None:
            self.dismiss(chosen)

    def action_close(self) -> None:
        self.dismiss(None)
