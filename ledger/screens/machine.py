"""The machine: its share earned, what was taken in, what is left, and when."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from ledger.machine.payback import Payback
from ledger.machine.payback_record import read_payback
from ledger.screens.figures import bar
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import paired, plain_lines


class MachineRoom(Room):
    name_of_room = "machine"
    BINDINGS = keys_of("machine")
    DEFAULT_CSS: ClassVar[str] = """
    MachineRoom #figures {
        padding: 1 2;
    }
    """

    def lay_out(self) -> Iterator[Widget]:
        with VerticalScroll():
            yield Static("", id="figures", markup=False)

    def paint(self) -> None:
        cells = max(20, min(100, self.size.width - 24))
        lines = list(self._lines(read_payback(self.books), cells))
        self.query_one("#figures", Static).update(plain_lines(lines))

    def _lines(self, found: Payback, cells: int) -> Iterator[str]:
        amount = self.showing.amount
        if not found.cost_cents or found.share_percent is None:
            yield "The machine has no price yet, so there is nothing to pay off."
            return
        yield f"{bar(found.earned_cents / found.cost_cents, cells)}  {self.showing.percent(found.share_percent)}"
        yield ""
        yield _pair("The machine cost", amount(found.cost_cents))
        yield _pair("Taken in, job income alone", amount(found.taken_in_cents))
        yield _pair("Spent, the machine itself apart", amount(found.taken_in_cents - found.earned_cents))
        yield _pair("Earned towards the machine", amount(found.earned_cents))
        yield _pair("Left", amount(found.left_cents))
        yield ""
        yield from self._outlook(found)
        yield ""
        yield "Before income tax and any pay for your time."

    def _outlook(self, found: Payback) -> Iterator[str]:
        forecast = found.forecast
        if found.left_cents == 0:
            yield "It is paid off."
            return
        if found.jobs_left is not None:
            yield f"About {found.jobs_left} jobs more, at what a job left in the last three months."
        if forecast.too_early:
            yield "When: too early to say, under three whole months of work."
        elif forecast.middle is None:
            yield "When: not at this pace."
        else:
            late = f"{forecast.late:%Y-%m}" if forecast.late else "later than can be said"
            yield f"When: about {forecast.middle:%Y-%m}."
            yield f"In four of five cases between {forecast.early:%Y-%m} and {late}."


def _pair(left: str, right: str) -> str:
    return paired(left, right, 50)
