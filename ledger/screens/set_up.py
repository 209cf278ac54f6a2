"""Set-up: the list of what to ask, one item to a page, and what she was told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual.containers import Horizontal, VerticalScroll
from textual.widget import Widget
from textual.widgets import DataTable, Static

from checklists.fit import Finding
from checklists.progress import Standing, tally
from checklists.records import read_standings
from ledger.jobs.home_fit import read_fit
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
        self.above: tuple[Finding, ...] = ()
        yield Static("", id="progress", markup=False)
        with Horizontal():
            yield DataTable(id="items", cursor_type="row")
            with VerticalScroll(id="page-frame", classes="detail-frame"):
                yield Static("", id="page", classes="detail", markup=False)

    def paint(self) -> None:
        table = self.query_one("#items", DataTable)
        before, row = self.selected(), table.cursor_row
        self.standings = read_standings(self.books)
        self.above = tuple(each for each in read_fit(self.books) if each.is_above)
        table.clear(columns=True)
        for label, width in self.columns(("State", 11), ("Until", 12), ("What", 47), beside=72):
            table.add_column(label, width=width)
        for each in self.standings:
            table.add_row(*map(cell_text, self._cells(each)), key=each.id)
        ids = [each.id for each in self.standings]
        table.move_cursor(row=self.row_to_select(ids, before and before.id, row))
        found = tally(self.standings)
        above = f", {len(self.above)} above a rule" if self.above else ""
        told = f"{found.settled} of {found.items} settled, {found.asked} asked{above}. a records what you were told."
        self.query_one("#progress", Static).update(plain_text(told))
        self.show_selected()

    def selected(self) -> Standing | None:
        row = self.query_one("#items", DataTable).cursor_row
        return self.standings[row] if 0 <= row < len(self.standings) else None

    def on_data_table_row_highlighted(self) -> None:
        self.show_selected()

    def show_selected(self) -> None:
        standing = self.selected()
        lines = page_lines(standing, self._above_of(standing)) if standing else ()
        self.query_one("#page", Static).update(plain_lines(lines))
        self.query_one("#page-frame", VerticalScroll).scroll_home(animate=False)

    def _cells(self, standing: Standing) -> tuple[str, str, str]:
        title = standing.item.title if standing.item else standing.id
        mark = "! " if self._above_of(standing) else "· " if standing.waits_for and not standing.is_settled else "  "
        until = self.showing.day(standing.due) if standing.due else "new" if standing.is_new else ""
        return _STATES[standing.state], until, mark + shown(title)

    def _above_of(self, standing: Standing) -> tuple[Finding, ...]:
        """What is above the rule that this item is about."""
        return tuple(each for each in self.above if each.told.item == standing.id)


def page_lines(standing: Standing, above: Sequence[Finding] = ()) -> Iterator[str]:
    """One item whole: the answer so far, what is above it, why, whom to ask, the questions, the proof, the caution."""
    item, answer = standing.item, standing.answer
    if answer is not None:
        yield f"{standing.state}: {answer.value or ''}, said {answer.asked or 'nobody'} on {answer.on}"
        yield ""
    for finding in above:
        yield f"! {finding.words}"
        yield ""
    if item is None:
        yield "This item is on the list no more; what you were told is kept."
        return
    if item.why:
        yield item.why
    yield f"Ask: {item.ask}"
    yield from (f"  {number}. {question}" for number, question in enumerate(item.questions, start=1))
    if item.proof:
        yield f"Keep: {item.proof}"
    if item.caution:
        yield f"Mind: {item.caution}"
    yield from (f"Differs: {each}" for each in item.differs)
    if standing.waits_for:
        yield f"First: {', '.join(standing.waits_for)}"
    yield f"Source: {item.source_words}"
