"""A list over a room: rows to choose from, and keys that act on the chosen one. It is read anew after every act."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import DataTable, Static

from ledger.errors import Refused
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import cell_text, plain_lines, plain_text

if TYPE_CHECKING:
    from ledger.books.books import Books
    from ledger.screens.showing import Showing

BACK: Binding = Binding("escape", "close", "back", key_display="Esc")


@dataclass(frozen=True)
class Listed:
    """One row. subject: what an act of the page is about."""

    cells: tuple[str, ...]
    subject: Any


class ListPage(Page[str | None]):
    """A page says `title_words`, `COLUMNS` (label and width), `ACTS` (key, act and words) and `listed`; `below` has
    what is to be known of all rows."""

    title_words: ClassVar[str] = ""
    COLUMNS: ClassVar[Sequence[tuple[str, int]]] = ()
    ACTS: ClassVar[Sequence[tuple[str, str, str]]] = ()
    nothing: ClassVar[str] = "Nothing is listed yet."
    BINDINGS: ClassVar[list[BindingType]] = [BACK, Binding("q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
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
            yield DataTable(id="rows", cursor_type="row")
            yield Static("", id="below", markup=False)
            yield KeyLine([*keys, BACK])

    def on_mount(self) -> None:
        table = self.query_one(DataTable)
        # A table fills a room, but here is only as high as its rows.
        table.styles.height, table.styles.max_height = "auto", "60vh"
        for label, width in self.COLUMNS:
            table.add_column(label, width=width)
        self.reload()
        table.focus()

    def on_screen_resume(self) -> None:
        """Back from a form that may have changed what is listed."""
        if self.query(DataTable) and self.query_one(DataTable).columns:
            self.reload()

    def reload(self) -> None:
        table = self.query_one(DataTable)
        row = table.cursor_row
        try:
            self.rows = self.listed()
            below = self.below()
        except Refused as refused:
            self.twopurse.tell(str(refused), "error")
            return
        table.clear()
        for each in self.rows:
            table.add_row(*map(cell_text, each.cells))
        table.move_cursor(row=max(0, min(row, len(self.rows) - 1)))
        self.query_one("#below", Static).update(plain_lines([*([] if self.rows else [self.nothing]), *below]))

    def selected(self) -> Any:
        row = self.query_one(DataTable).cursor_row
        return self.rows[row].subject if 0 <= row < len(self.rows) else None

    def action_act(self, act_id: str) -> None:
        self.twopurse.do(act_id, self.selected())

    def action_close(self) -> None:
        self.dismiss(None)
