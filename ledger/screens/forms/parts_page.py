"""A figure opened: its parts, each of which opens into its own, down to the entries."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import DataTable, Static

from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import cell_text, paired, plain_text

if TYPE_CHECKING:
    from ledger.screens.showing import Showing
    from ledger.set_aside.part import Part

_WORDS, _FIGURES = 54, 12


class PartsPage(Page[None]):
    """The parts of one figure; Enter opens the selected one, Esc goes back to what it is a part of."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("enter", "open", "open", key_display="Enter"),
        Binding("escape", "back", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("q", "back", "Back", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    PartsPage > Vertical {
        width: 76;
    }
    PartsPage DataTable {
        height: auto;
        max-height: 60vh;
    }
    PartsPage KeyLine {
        dock: bottom;
    }
    """

    def __init__(self, part: Part, showing: Showing) -> None:
        super().__init__()
        self.part = part
        self.showing = showing
        self.parts = part.opened()

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            amount = "" if self.part.cents is None else f"  {self.showing.amount(self.part.cents)}"
            frame.border_title = plain_text(self.part.words + amount)
            yield DataTable(cursor_type="row", show_header=False)
            yield Static(plain_text(self.part.note), markup=False)
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        table = self.query_one(DataTable)
        table.add_column("What", width=_WORDS)
        table.add_column("Amount", width=_FIGURES)
        for each in self.parts:
            table.add_row(cell_text(part_words(each)), cell_text(_amount(each, self.showing).rjust(_FIGURES)))
        table.focus()

    def on_data_table_row_selected(self, event: DataTable.RowSelected) -> None:
        self.action_open()

    def action_open(self) -> None:
        row = self.query_one(DataTable).cursor_row
        if 0 <= row < len(self.parts) and self.parts[row].opens is not None:
            self.app.push_screen(PartsPage(self.parts[row], self.showing))

    def action_back(self) -> None:
        self.dismiss(None)


def part_lines(part: Part, showing: Showing, width: int) -> Iterator[str]:
    """A figure with the parts that it opens into, as lines."""
    yield paired(part.words, _amount(part, showing), width)
    yield ""
    for each in part.opened():
        yield paired(part_words(each), _amount(each, showing), width) if each.cents is not None else part_words(each)


def part_words(part: Part) -> str:
    """What is no summand, and only says how the figure came about, stands in parentheses."""
    return part.words if part.adds else f"({part.words})"


def _amount(part: Part, showing: Showing) -> str:
    return "" if part.cents is None else showing.plain(part.cents)
