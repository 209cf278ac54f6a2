"""The Bench: the pieces in the house and the jobs around them, and the one that is selected."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import ClassVar

from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from ledger.jobs.bench import read_bench
from ledger.jobs.job import Job
from ledger.jobs.job_list import BENCH_COLUMNS, GONE_COLUMNS, job_line, read_gone_lines
from ledger.jobs.prices import price_list
from ledger.jobs.records import read_custody, read_job
from ledger.lists.lines import LinesInMemory
from ledger.lists.listing import Line
from ledger.screens.arranged_list import LIST_KEY, ArrangedList
from ledger.screens.job_detail import JobDetail
from ledger.screens.keys import KeyLine
from ledger.screens.list_cells import manner_of
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import STATE_WORDS, counted, plain_lines, plain_text

# A mark beside the word, so that no state is told by colour.
_MARKS = {"ready": "●", "in-hand": "◐", "booked": "○", "asked": "?", "gone": "$", "called-off": "$"}
# What is said where there is nothing to list: on the bench, and of what is gone.
_NOTHING = {False: "No piece is here. Press n when one comes in.", True: "Nothing is gone yet."}
_NO_PRICE = "There is no price yet. Press m for the first one, then n for the first job."
# The acts from picking up to sending home what was ready.
_EVERY_DAY = 8
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
    # The list beside what is selected would be cut short before.
    wide_from = 144
    BINDINGS = [*keys_of("bench")[:_EVERY_DAY], _TURN, LIST_KEY, *keys_of("bench")[_EVERY_DAY:]]
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
        # Those on the bench, and of those that are gone each that was selected since the last paint.
        self.jobs: dict[int, Job] = {}
        self.lists_gone = False
        self.has_prices = True
        with Horizontal():
            yield ArrangedList("jobs", id="jobs")
            with VerticalScroll(id="detail-frame", classes="detail-frame"):
                yield Static("", id="detail", classes="detail", markup=False)
        yield Static("", id="house", markup=False)

    @property
    def listed(self) -> ArrangedList:
        return self.query_one(ArrangedList)

    def paint(self) -> None:
        self.jobs = {job.id: job for job in read_bench(self.books)}
        self._see_whether_there_are_prices()
        if self.to_select is not None:
            self._turn_to(self.to_select not in self.jobs)
        columns = GONE_COLUMNS if self.lists_gone else BENCH_COLUMNS
        whole = read_gone_lines(self.books) if self.lists_gone else tuple(map(_bench_line, self.jobs.values()))
        widths = self.columns(*(each for each in columns if each.width), beside=56)
        lines = LinesInMemory(columns, whole, manner_of(self.showing))
        self.listed.show(lines, widths, self.to_select)
        self.to_select = None
        self.query_one("#house", Static).update(plain_text(self._house()))
        self.show_selected()

    def _see_whether_there_are_prices(self) -> None:
        before, self.has_prices = self.has_prices, bool(price_list(self.books, self.books.today))
        if before != self.has_prices:
            self._show_keys()

    def _house(self) -> str:
        if self.lists_gone:
            return "What went home or was called off, the latest first"
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
        """List the one or the other, whole, with the keys for it at the foot."""
        if gone != self.lists_gone:
            self.listed.forget()
        self.lists_gone = gone
        self._show_keys()

    def _show_keys(self) -> None:
        of_room = [each for each in self.BINDINGS if isinstance(each, Binding)]
        by_action = {each.action: each for each in of_room}
        shown_keys = [each for each in of_room if each.show]
        if self.lists_gone:
            acts = [by_action[f"act('{each}')"] for each in _GONE_ACTS]
            shown_keys = [*acts, replace(by_action["turn"], description="Bench"), by_action["list"], *of_room[-3:]]
        elif not self.has_prices:
            # Before the first job there must be a price.
            shown_keys = [by_action["act('set_price')"], *shown_keys]
        self.query_one(KeyLine).show_keys(shown_keys)

    def selected(self) -> Job | None:
        number = self.listed.key
        if number is not None and number not in self.jobs:
            self.jobs[number] = read_job(self.books, number)
        return None if number is None else self.jobs[number]

    def on_painted_list_moved(self) -> None:
        self.say_refusal_of(self.show_selected)

    def show_selected(self) -> None:
        job = self.selected()
        nothing = _NOTHING[self.lists_gone] if self.has_prices else _NO_PRICE
        nothing = "No job has that." if self.listed.arrangement.words else nothing
        lines = JobDetail(self.books, self.showing, job).lines() if job else [nothing]
        self.query_one("#detail", Static).update(plain_lines(lines))


def _bench_line(job: Job) -> Line:
    return job_line(job, state=f"{_MARKS[job.status]} {STATE_WORDS[job.status]}")
