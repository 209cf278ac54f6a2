"""Set-up: stages with their progress, what can be asked now first, one item to a page, and what she was told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import ClassVar

from rich.text import Text
from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.widget import Widget
from textual.widgets import DataTable, Static

from checklists.fit import Finding
from checklists.item import Catalogue, Stage
from checklists.own_acts import mark_seen
from checklists.progress import Standing, tally, tally_by_stage
from checklists.records import read_answers, read_catalogue_of, read_standings
from ledger.books.documents import read_documents
from ledger.jobs.home_fit import read_fit
from ledger.lists.listing import Column
from ledger.screens.room import Room, keys_of
from ledger.screens.set_up_page import Page, page_lines, stage_lines
from ledger.screens.showing import cell_text, counted, plain_lines, plain_text
from ledger.text import shown

_BAR = 10
_STATE, _UNTIL = 11, 12
# A mark beside the word, so that no state is told by colour.
_STATES = {"open": "○ open", "asked": "◐ asked", "done": "● done", "does not apply": "– not here"}


class SetUpRoom(Room):
    """Items on the left or above, the selected one's page beside or below."""

    name_of_room = "set_up"
    BINDINGS = [
        *keys_of("set_up"),
        Binding("v", "act('view')", "View", show=False, tooltip="View. The newest document of the item."),
        Binding("k", "act('keep_calendar')", "Calendar", show=False, tooltip="Calendar. The renewals as a file."),
        Binding("y", "see_new", "Seen", show=False, tooltip="Seen. You have looked at what is new on the list."),
    ]
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
        self.rows: list[Standing | Stage] = []
        self.standings: tuple[Standing, ...] = ()
        self.fit_findings: tuple[Finding, ...] = ()
        # The item that was answered here last: once it is settled the cursor goes on to the next one.
        self.answered: str | None = None
        yield Static("", id="progress", markup=False)
        with Horizontal():
            yield DataTable(id="items", cursor_type="row")
            with VerticalScroll(id="page-frame", classes="detail-frame"):
                yield Static("", id="page", classes="detail", markup=False)

    def paint(self) -> None:
        table = self.query_one("#items", DataTable)
        before, row = self.selected(), table.cursor_row
        catalogue = read_catalogue_of(self.books)
        self.standings = read_standings(self.books)
        self.fit_findings = read_fit(self.books)
        self.rows = list(rows_of(catalogue, self.standings))
        self.counted = {stage.id: counted for stage, counted in tally_by_stage(catalogue, self.standings)}
        table.clear(columns=True)
        columns = Column("State", _STATE), Column("Until", _UNTIL), Column("What", 47)
        # What is spare goes to the titles alone.
        title = sum(self.columns(*columns, beside=72)) - _STATE - _UNTIL
        for label, width in (("State", _STATE), ("Until", _UNTIL), ("What", title)):
            table.add_column(label, width=width)
        for each in self.rows:
            table.add_row(*(self._stage_cells(each) if isinstance(each, Stage) else map(cell_text, self._cells(each))))
        table.move_cursor(row=self._row_after(before, row))
        if self.to_select in [each.id for each in self.rows]:
            self.select(str(self.to_select))
        self.to_select = None
        self._tell_progress()
        self.show_selected()

    def _row_after(self, before: Standing | None, row: int) -> int:
        """The same item, unless it was answered just now: then what has moved up to its place."""
        if before is None and row == 0:
            return next((at for at, each in enumerate(self.rows) if _can_be_asked(each)), 0)
        answered, self.answered = self.answered, None
        if before is not None and before.id == answered and _can_be_asked(before):
            now = next((each for each in self.standings if each.id == answered), None)
            if now is None or now.state != before.state:
                return min(row, len(self.rows) - 1)
        return self.row_to_select([each.id for each in self.rows], before and before.id, row)

    def _tell_progress(self) -> None:
        found = tally(self.standings)
        above = sum(each.is_above for each in self.fit_findings)
        told = f"{found.settled} of {found.items} settled, {found.asked} asked"
        told += f", {above} above a rule" if above else ""
        told += f", {new} new (y: seen)" if (new := sum(each.is_new for each in self.standings)) else ""
        self.query_one("#progress", Static).update(plain_text(f"{told}. a records what you were told."))

    def selected(self) -> Standing | None:
        row = self.query_one("#items", DataTable).cursor_row
        found = self.rows[row] if 0 <= row < len(self.rows) else None
        return found if isinstance(found, Standing) else None

    def select(self, item: str) -> None:
        """Put the cursor on an item of the list."""
        row = next(at for at, each in enumerate(self.rows) if each.id == item)
        self.query_one("#items", DataTable).move_cursor(row=row)

    def action_act(self, act_id: str) -> None:
        standing = self.selected()
        self.answered = standing.id if standing is not None else None
        super().action_act(act_id)

    def action_see_new(self) -> None:
        """What is new is new no more."""
        self.say_refusal_of(lambda: self.twopurse.tell(f"Seen: {counted(len(mark_seen(self.books)), 'new item')}."))
        self.reload()

    def on_data_table_row_highlighted(self) -> None:
        self.show_selected()

    def show_selected(self) -> None:
        row = self.query_one("#items", DataTable).cursor_row
        found = self.rows[row] if 0 <= row < len(self.rows) else None
        lines: Iterable[str] = ()
        if isinstance(found, Stage):
            lines = stage_lines(found, self.counted[found.id])
        elif found is not None:
            lines = page_lines(self._page_of(found), self.showing)
        self.query_one("#page", Static).update(plain_lines(lines))
        self.query_one("#page-frame", VerticalScroll).scroll_home(animate=False)

    def _page_of(self, standing: Standing) -> Page:
        titles = {each.id: each.item.title for each in self.standings if each.item is not None}
        return Page(
            standing,
            history=read_answers(self.books, standing.id),
            findings=self._findings_of(standing),
            documents=read_documents(self.books, item=standing.id),
            first=tuple(titles.get(each, each) for each in standing.waits_for),
            then=tuple(titles[each.id] for each in self.standings if standing.id in each.waits_for),
        )

    def _cells(self, standing: Standing) -> tuple[str, str, str]:
        title = standing.item.title if standing.item else standing.id
        is_above = any(each.is_above for each in self._findings_of(standing))
        mark = "! " if is_above else "· " if standing.waits_for and not standing.is_settled else "  "
        until = self.showing.day(standing.due) if standing.due else "new" if standing.is_new else ""
        return _STATES[standing.state], until, mark + shown(title)

    def _stage_cells(self, stage: Stage) -> Iterator[Text]:
        counted = self.counted[stage.id]
        filled = counted.settled * _BAR // counted.items if counted.items else 0
        for text in ("■" * filled + "□" * (_BAR - filled), f"{counted.settled} of {counted.items}", stage.title):
            cell = cell_text(text)
            cell.stylize("bold")
            yield cell

    def _findings_of(self, standing: Standing) -> tuple[Finding, ...]:
        """What the rule that this item is about comes to beside how she works."""
        return tuple(each for each in self.fit_findings if each.told.item == standing.id)


def rows_of(catalogue: Catalogue, standings: Sequence[Standing]) -> Iterator[Standing | Stage]:
    """Each stage with its items: what can be asked now, what was asked, what waits, what is settled; the list's own
    order within each. What is gone from the list comes last."""
    for stage in catalogue.stages:
        yield stage
        yield from sorted((each for each in standings if each.stage == stage), key=_rank)
    yield from (each for each in standings if each.stage is None)


def _rank(standing: Standing) -> int:
    if standing.is_settled:
        return 3
    return 0 if standing.can_be_asked else 2 if standing.waits_for else 1


def _can_be_asked(row: Standing | Stage | None) -> bool:
    return isinstance(row, Standing) and row.can_be_asked
