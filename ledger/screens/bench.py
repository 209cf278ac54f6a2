"""The Bench: the pieces in the house and the jobs around them, and the one that is selected."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.containers import Horizontal, VerticalScroll
from textual.widget import Widget
from textual.widgets import DataTable, Static

from ledger.jobs.bench import read_bench
from ledger.jobs.job import Job
from ledger.jobs.records import read_custody, read_intake
from ledger.jobs.slip import work_out_slip
from ledger.money import plain_decimal
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import STATE_WORDS, cell_text, counted, padded, paired, plain_lines, plain_text
from ledger.taxes.rules import rules_on
from ledger.text import shown

# Cells of the lines that tell the selected job.
_DETAIL = 52
# A mark beside the word, so that no state is told by colour.
_MARKS = {"ready": "●", "in-hand": "◐", "booked": "○", "asked": "?", "gone": "$"}


class BenchRoom(Room):
    """Jobs on the left, the selected one beside or below."""

    name_of_room = "bench"
    BINDINGS = keys_of("bench")
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
        with Horizontal():
            yield DataTable(id="jobs", cursor_type="row", zebra_stripes=False)
            with VerticalScroll(id="detail-frame", classes="detail-frame"):
                yield Static("", id="detail", classes="detail", markup=False)
        yield Static("", id="house", markup=False)

    def paint(self) -> None:
        table = self.query_one("#jobs", DataTable)
        before, row = self.selected(), table.cursor_row
        wanted, self.to_select = self.to_select or (before and before.id), None
        self.jobs = read_bench(self.books)
        table.clear(columns=True)
        columns = (("State", 9), ("Job", 4), ("Promised", 11), ("Whose", 19), ("Piece", 23))
        for label, width in self.columns(*columns, beside=56):
            table.add_column(label, width=width)
        for job in self.jobs:
            table.add_row(*map(cell_text, self._cells(job)), key=str(job.id))
        if self.jobs:
            table.move_cursor(row=self.row_to_select([job.id for job in self.jobs], wanted, row))
        here = read_custody(self.books, self.books.today)
        amount = self.showing.amount
        self.query_one("#house", Static).update(
            plain_text(
                f"{counted(here.pieces, 'piece')} in the house, declared {amount(here.value_cents)}; "
                f"the most ever was {amount(here.highest_cents)}"
            )
        )
        self.show_selected()

    def selected(self) -> Job | None:
        row = self.query_one("#jobs", DataTable).cursor_row
        return self.jobs[row] if 0 <= row < len(self.jobs) else None

    def on_data_table_row_highlighted(self) -> None:
        self.show_selected()

    def show_selected(self) -> None:
        job = self.selected()
        lines = list(self._detail(job)) if job else ["No piece is here. Press n when the first one comes in."]
        self.query_one("#detail", Static).update(plain_lines(lines))

    def _cells(self, job: Job) -> tuple[str, ...]:
        promised = self.showing.short_day(job.promised) if job.promised else ""
        state = f"{_MARKS[job.status]} {STATE_WORDS[job.status]}"
        return state, str(job.id), promised, shown(job.customer.name), shown(job.piece)

    def _detail(self, job: Job) -> Iterator[str]:
        amount = self.showing.plain
        size = f"{plain_decimal(job.size.width)} x {plain_decimal(job.size.length)} {job.size.units}"
        yield f"{job.customer.name}: {job.piece}"
        yield f"{size}, declared {self.showing.amount(job.value_cents)}"
        for line in job.lines:
            told = f"{self.showing.number(line.shown_quantity)} {line.unit} at {self.showing.number(line.rate)}"
            yield paired(f"{padded(line.name, 17)} {told}", amount(line.cents), _DETAIL)
        yield from self._totals(job)
        intake = read_intake(self.books, job.id)
        if intake is not None and intake.condition:
            yield f"Its state: {intake.condition}"
        if intake is not None and intake.may_collect:
            yield f"May collect: {intake.may_collect}"

    def _totals(self, job: Job) -> Iterator[str]:
        amount = self.showing.plain
        slip = work_out_slip(job.charges, rules_on(self.books, self.books.today))
        if job.pricing.rush_cents or job.pricing.top_up_cents:
            extra = job.pricing.rush_cents + job.pricing.top_up_cents
            yield paired("Minimum and rush", amount(extra), _DETAIL)
        yield paired("Sales tax, as of today", amount(slip.tax_cents), _DETAIL)
        yield paired("Total", amount(slip.total_cents), _DETAIL)
        if job.deposit_cents:
            yield paired("Deposit held", amount(job.deposit_cents), _DETAIL)
        if job.owed_cents:
            yield paired("Still owed", amount(job.owed_cents), _DETAIL)
