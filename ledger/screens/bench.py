"""The Bench: the pieces in the house and the jobs around them, and the one that is selected."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import ClassVar

from rich.text import Text
from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.widget import Widget
from textual.widgets import DataTable, Static

from ledger.jobs.bench import read_bench, read_gone
from ledger.jobs.job import Job
from ledger.jobs.prices import price_list
from ledger.jobs.records import read_custody
from ledger.screens.job_detail import JobDetail
from ledger.screens.keys import KeyLine
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import STATE_WORDS, cell_text, counted, plain_lines, plain_text
from ledger.text import shown

# A mark beside the word, so that no state is told by colour.
_MARKS = {"ready": "●", "in-hand": "◐", "booked": "○", "asked": "?", "gone": "$", "called-off": "$"}
# What is said where there is nothing to list: on the bench, and of what is gone.
_NOTHING = {False: "No piece is here. Press n when the first one comes in.", True: "Nothing is gone yet."}
_NO_PRICE = "There is no price yet. Press m for the first one, then n for the first job."
# So many that left the bench last are listed; older ones are found by their names.
_GONE_LISTED = 100
_TURN = Binding("h", "turn", "Gone lately", tooltip="Gone lately, and back. What went home or was called off.")
# What is done with jobs that are gone: these keys stand at the foot while they are listed.
_GONE_ACTS = (
    "refund",
    "returned_check",
    "take_balance",
    "take_owed",
    "void",
    "retax",
    "give_up",
    "print_account",
    "print_quote",
)


class BenchRoom(Room):
    """Jobs on the left, the selected one beside or below."""

    name_of_room = "bench"
    BINDINGS = [*keys_of("bench")[:-3], _TURN, *keys_of("bench")[-3:]]
    DEFAULT_CSS: ClassVar[str] = """
    BenchRoom #jobs {
        width: 1fr;
    }
    BenchRoom #house {
        height: 1;
        padding: 0 1;
        background: $panel;
    }
    BenchRoom Horizontal {
        layout: vertical;
    }
    BenchRoom.wide Horizontal {
        layout: horizontal;
    }
    BenchRoom #detail-frame {
        width: 100%;
        height: 9;
    }
    BenchRoom.wide #detail-frame {
        width: 56;
        height: 1fr;
    }
    """

    def lay_out(self) -> Iterator[Widget]:
        self.jobs: tuple[Job, ...] = ()
        self.lists_gone = False
        self.has_prices = True
        with Horizontal():
            yield DataTable(id="jobs", cursor_type="row", zebra_stripes=False)
            with VerticalScroll(id="detail-frame", classes="detail-frame"):
                yield Static("", id="detail", classes="detail", markup=False)
        yield Static("", id="house", markup=False)

    def paint(self) -> None:
        table = self.query_one("#jobs", DataTable)
        before, row = self.selected(), table.cursor_row
        wanted = self.to_select if isinstance(self.to_select, int) else (before.id if before else None)
        bench = read_bench(self.books)
        self._see_whether_there_are_prices()
        if self.to_select is not None:
            self._turn_to(self.to_select not in [job.id for job in bench])
            self.to_select = None
        table.clear(columns=True)
        if self.lists_gone:
            self._list_gone(table, wanted)
        else:
            self._list_bench(table, bench)
        if self.jobs:
            table.move_cursor(row=self.row_to_select([job.id for job in self.jobs], wanted, row))
        self.query_one("#house", Static).update(plain_text(self._house()))
        self.show_selected()

    def _see_whether_there_are_prices(self) -> None:
        before, self.has_prices = self.has_prices, bool(price_list(self.books, self.books.today))
        if before != self.has_prices:
            self._show_keys()

    def _list_bench(self, table: DataTable[Text], bench: tuple[Job, ...]) -> None:
        self.jobs = bench
        columns = (("State", 9), ("Job", 4), ("Promised", 11), ("Whose", 19), ("Piece", 23))
        self._add_columns(table, columns)
        for job in bench:
            promised = self.showing.short_day(job.promised) if job.promised else ""
            self._add(table, job, f"{_MARKS[job.status]} {STATE_WORDS[job.status]}", promised)

    def _list_gone(self, table: DataTable[Text], wanted: int | None) -> None:
        gone = read_gone(self.books, _GONE_LISTED, also=wanted)
        self.jobs = tuple(each.job for each in gone)
        self._add_columns(table, (("State", 12), ("Job", 4), ("Gone", 12), ("Whose", 17), ("Piece", 23)))
        for each in gone:
            words = "$ owes" if each.job.owed_cents else f"  {each.job.status.replace('-', ' ')}"
            self._add(table, each.job, words, self.showing.day(each.on))

    def _add_columns(self, table: DataTable[Text], columns: Sequence[tuple[str, int]]) -> None:
        for label, width in self.columns(*columns, beside=56):
            table.add_column(label, width=width)

    def _add(self, table: DataTable[Text], job: Job, state: str, day: str) -> None:
        cells = (state, str(job.id), day, shown(job.customer.name), shown(job.piece))
        table.add_row(*map(cell_text, cells), key=str(job.id))

    def _house(self) -> str:
        if self.lists_gone:
            return "What went home or was called off, the latest first; / finds older ones"
        here, amount = read_custody(self.books, self.books.today), self.showing.amount
        return (
            f"{counted(here.pieces, 'piece')} in the house, declared {amount(here.value_cents)}; "
            f"the most ever was {amount(here.highest_cents)}"
        )

    def action_turn(self) -> None:
        """From what is on the bench to what left it, and back."""
        self._turn_to(not self.lists_gone)
        self.reload()

    def _turn_to(self, gone: bool) -> None:
        """List the one or the other, with the keys for it at the foot."""
        self.lists_gone = gone
        self._show_keys()

    def _show_keys(self) -> None:
        of_room = [each for each in self.BINDINGS if isinstance(each, Binding)]
        by_action = {each.action: each for each in of_room}
        shown_keys = [each for each in of_room if each.show]
        if self.lists_gone:
            acts = [by_action[f"act('{each}')"] for each in _GONE_ACTS]
            shown_keys = [*acts, replace(by_action["turn"], description="Bench"), *of_room[-3:]]
        elif not self.has_prices:
            # Before the first job there must be a price.
            shown_keys = [by_action["act('set_price')"], *shown_keys]
        self.query_one(KeyLine).show_keys(shown_keys)

    def selected(self) -> Job | None:
        row = self.query_one("#jobs", DataTable).cursor_row
        return self.jobs[row] if 0 <= row < len(self.jobs) else None

    def on_data_table_row_highlighted(self) -> None:
        self.show_selected()

    def show_selected(self) -> None:
        job = self.selected()
        nothing = _NOTHING[self.lists_gone] if self.has_prices else _NO_PRICE
        lines = JobDetail(self.books, self.showing, job).lines() if job else [nothing]
        self.query_one("#detail", Static).update(plain_lines(lines))
