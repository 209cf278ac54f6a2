"""Set-up: the list of what to ask, one item to a page, and what she was told."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.containers import Horizontal, VerticalScroll
from textual.widget import Widget
from textual.widgets import DataTable, Static

from checklists.progress import Standing, tally
from checklists.records import read_standings
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import cell_text, plain_lines, plain_text
from ledger.text import shown

# A mark beside the word, so that no state is told by colour.
_STATES = {"open": "○ open", "asked": "◐ asked", "done": "● done", "does not apply": "– not here"}


class SetUpRoom(Room):
    """Items on the left or above, the selected one's page beside or below."""

    name_of_room = "set_up"
    BINDINGS = keys_of("set_up")
    DEFAULT_CSS: ClassVar[str] = """
    SetUpRoom #progress {
        height: 1;
        padding: 0 1;
        background: $panel;
    }
    SetUpRoom Horizontal {
        layout: vertical;
    }
    SetUpRoom.wide Horizontal {
        layout: horizontal;
    }
    SetUpRoom #items {
        width: 1fr;
    }
    SetUpRoom #page-frame {
        width: 100%;
        height: 11;
    }
    SetUpRoom.wide #page-frame {
        width: 72;
        height: 1fr;
    }
    """

    def lay_out(self) -> Iterator[Widget]:
        self.standings: tuple[Standing, ...] = ()
        yield Static("", id="progress", markup=False)
        with Horizontal():
            yield DataTable(id="items", cursor_type="row")
            with VerticalScroll(id="page-frame", classes="detail-frame"):
                yield Static("", id="page", classes="detail", markup=False)

    def paint(self) -> None:
        table = self.query_one("#items", DataTable)
        before, row = self.selected(), table.cursor_row
        self.standings = read_standings(self.books)
        table.clear(columns=True)
        for label, width in self.columns(("", 11), ("Until", 12), ("What", 47), beside=72):
            table.add_column(label, width=width)
        for each in self.standings:
            table.add_row(*map(cell_text, self._cells(each)), key=each.id)
        ids = [each.id for each in self.standings]
        table.move_cursor(row=self.row_to_select(ids, before and before.id, row))
        found = tally(self.standings)
        told = f"{found.settled} of {found.items} settled, {found.asked} asked. a records what you were told."
        self.query_one("#progress", Static).update(plain_text(told))
        self.show_selected()

    def selected(self) -> Standing | None:
        row = self.query_one("#items", DataTable).cursor_row
        return self.standings[row] if 0 <= row < len(self.standings) else None

    def on_data_table_row_highlighted(self) -> None:
        self.show_selected()

    def show_selected(self) -> None:
        standing = self.selected()
        self.query_one("#page", Static).update(plain_lines(page_lines(standing)) if standing else "")
        self.query_one("#page-frame", VerticalScroll).scroll_home(animate=False)

    def _cells(self, standing: Standing) -> tuple[str, str, str]:
        title = standing.item.title if standing.item else standing.id
        waits = "  " if not standing.waits_for or standing.is_settled else "· "
        return _STATES[standing.state], self.showing.day(standing.due) if standing.due else "", waits + shown(title)


def page_lines(standing: Standing) -> Iterator[str]:
    """One item whole: the answer so far, why, whom to ask, the questions, the proof, the caution."""
    item, answer = standing.item, standing.answer
    if answer is not None:
        yield f"{standing.state}: {answer.value or ''}, said {answer.asked or 'nobody'} on {answer.on}"
        yield ""
    if item is None:
        yield "This item is on the list no more; what you were told is kept."
        return
    yield item.why
    yield f"Ask: {item.ask}"
    yield from (f"  {number}. {question}" for number, question in enumerate(item.questions, start=1))
    yield f"Keep: {item.proof}"
    yield f"Mind: {item.caution}"
    yield from (f"Differs: {each}" for each in item.differs)
    if standing.waits_for:
        yield f"First: {', '.join(standing.waits_for)}"
    yield f"Source: {item.source_words}"
