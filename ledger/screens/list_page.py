"""A list over a room: rows to choose from, and keys that act on the chosen one. It is read anew after every act."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from ledger.errors import Refused
from ledger.lists.lines import Lines, LinesInMemory
from ledger.lists.listing import Column, Line, Value
from ledger.screens.arranged_list import LIST_KEY, ArrangedList
from ledger.screens.keys import KeyLine
from ledger.screens.list_cells import fitting_widths, manner_of
from ledger.screens.page import Page
from ledger.screens.showing import plain_lines, plain_text

if TYPE_CHECKING:
    from ledger.books.books import Books
    from ledger.screens.showing import Showing

_WIDTH, _FRAME_CELLS, _LEAST_LINES = 78, 4, 3
# The frame, and the space above what is below and above the keys.
_AROUND_LIST = 4
_ONE_STEP_BACK = Binding("escape", "back", "back", key_display="Esc")


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
    BINDINGS: ClassVar[list[BindingType]] = [_ONE_STEP_BACK, LIST_KEY, Binding("q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    ListPage ArrangedList {
        height: auto;
    }
    ListPage PaintedList {
        height: auto;
        background: $surface;
    }
    ListPage #below {
        height: auto;
        margin-top: 1;
    }
    ListPage KeyLine {
        dock: bottom;
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
        self._lines: Lines | None = None
        keys = [Binding(key, f"act('{act}')", words) for key, act, words in self.ACTS]
        for each in keys:
            self._bindings.bind(each.key, each.action, each.description)
        with Vertical() as frame:
            frame.border_title = plain_text(self.title_words)
            yield ArrangedList(self.title_words.casefold(), id="rows")
            yield Static("", id="below", markup=False)
            yield KeyLine([*keys, LIST_KEY, _ONE_STEP_BACK])

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
        self.query_one("#below", Static).update(plain_lines([*([] if self.rows else [self.nothing]), *below]))
        self._lines = LinesInMemory(columns, lines, manner_of(self.showing))
        self._fit()

    def on_resize(self, event: events.Resize) -> None:
        if self._lines is not None:
            self._fit()

    def _fit(self) -> None:
        """Show the lines in the columns that the window has room for, and so many that what is below stays in sight."""
        assert self._lines is not None
        inside = min(self.size.width, _WIDTH) - _FRAME_CELLS
        self.arranged.show(self._lines, fitting_widths(self._lines.columns, inside - 1))
        below, keys = (self.query_one(each) for each in ("#below", KeyLine))
        beside = sum(each.get_content_height(self.size, self.size, inside) for each in (below, keys))
        self.arranged.painted_list.styles.max_height = max(_LEAST_LINES, self.size.height - beside - _AROUND_LIST)

    def selected(self) -> Any:
        place = self.arranged.key
        return None if place is None else self.rows[place].subject

    def action_act(self, act_id: str) -> None:
        self.twopurse.do(act_id, self.selected())

    def action_list(self) -> None:
        """What can be done in the list."""
        self.arranged.open_keys()

    def action_back(self) -> None:
        """A filter is lifted before the page is left."""
        if not self.arranged.lift_filter():
            self.action_close()

    def action_close(self) -> None:
        self.dismiss(None)
