"""A list over a room: rows to choose from, and keys that act on the chosen one. It is read anew after every act."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from ledger.errors import Refused
from ledger.lists.lines import LinesInMemory
from ledger.lists.listing import Column, Line, Value
from ledger.screens.arranged_list import LIST_KEY, ArrangedList
from ledger.screens.choices_page import BACK
from ledger.screens.keys import KeyLine
from ledger.screens.list_cells import manner_of
from ledger.screens.page import Page
from ledger.screens.showing import plain_lines, plain_text

if TYPE_CHECKING:
    from ledger.books.books import Books
    from ledger.screens.showing import Showing


@dataclass(frozen=True)
class Listed:
    """One row: the value of each column, or the words for it. subject: what an act of the page is about."""

    cells: tuple[Value, ...]
    subject: Any


class ListPage(Page[str | None]):
    """A page says `title_words`, `COLUMNS` (label, width and, where it is no text, kind), `ACTS` (key, act and words)
    and `listed`; `below` has what is to be known of all rows."""

    title_words: ClassVar[str] = ""
    COLUMNS: ClassVar[Sequence[tuple[str, int] | Column]] = ()
    ACTS: ClassVar[Sequence[tuple[str, str, str]]] = ()
    nothing: ClassVar[str] = "Nothing is listed yet."
    BINDINGS: ClassVar[list[BindingType]] = [BACK, LIST_KEY, Binding("q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    ListPage ArrangedList {
        height: auto;
    }
    ListPage PaintedList {
        height: auto;
        max-height: 60vh;
        background: $surface;
    }
    ListPage #below {
        height: auto;
        margin-top: 1;
    }
    ListPage KeyLine {
        margin-top: 1;
    }
    """

    @property
    def books(self) -> Books:
        return self.twopurse.books

    @property
    def showing(self) -> Showing:
        return self.twopurse.showing

    def listed(self) -> Sequence[Listed]:
        """The rows, read from the books. Raises Refused."""
        raise NotImplementedError

    def below(self) -> Sequence[str]:
        return ()

    def compose(self) -> ComposeResult:
        self.rows: Sequence[Listed] = ()
        keys = [Binding(key, f"act('{act}')", words) for key, act, words in self.ACTS]
        for each in keys:
            self._bindings.bind(each.key, each.action, each.description)
        with Vertical() as frame:
            frame.border_title = plain_text(self.title_words)
            yield ArrangedList(self.title_words.casefold(), id="rows")
            yield Static("", id="below", markup=False)
            yield KeyLine([*keys, LIST_KEY, BACK])

    @property
    def arranged(self) -> ArrangedList:
        return self.query_one(ArrangedList)

    def on_mount(self) -> None:
        self.reload()
        self.arranged.painted_list.focus()

    def on_screen_resume(self) -> None:
        """Back from a form that may have changed what is listed."""
        if self.query(ArrangedList) and self.arranged.lines is not None:
            self.reload()

    def reload(self) -> None:
        columns = [Column(*each) for each in self.COLUMNS]
        try:
            self.rows = self.listed()
            below = self.below()
        except Refused as refused:
            self.twopurse.tell(str(refused), "error")
            return
        lines = [Line(place, each.cells) for place, each in enumerate(self.rows)]
        self.arranged.show(LinesInMemory(columns, lines, manner_of(self.showing)), [each.width for each in columns])
        self.query_one("#below", Static).update(plain_lines([*([] if self.rows else [self.nothing]), *below]))

    def selected(self) -> Any:
        place = self.arranged.key
        return None if place is None else self.rows[place].subject

    def action_act(self, act_id: str) -> None:
        self.twopurse.do(act_id, self.selected())

    def action_list(self) -> None:
        """What can be done in the list."""
        self.arranged.open_keys()

    def action_close(self) -> None:
        self.dismiss(None)
