"""The machine: the curve of its payback with the likely range and the plan, and behind one key each its figures, what
jobs earn, and the plan that was kept."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from ledger.machine.curve import Curve
from ledger.machine.curve_record import curve_of
from ledger.machine.kept_plans import read_kept_plan
from ledger.machine.payback import Payback
from ledger.machine.payback_record import PaybackRecord
from ledger.screens.curve_painting import legend, painted_curve
from ledger.screens.figures import bar
from ledger.screens.machine_lines import MachineLines
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import plain_lines

_BESIDE = 54
_FEWEST_ROWS = 6
# The title, two lines of keys, and the bar.
_AROUND = 4


class MachineRoom(Room):
    """In a wide window the figures stand beside the curve."""

    name_of_room = "machine"
    BINDINGS = [
        Binding(
            "g", "see('figures')", "Figures", tooltip="Every figure of the payback, and the months. Again: the curve."
        ),
        Binding(
            "o", "see('plan')", "Plan", tooltip="The plan that was kept, held against the books. Again: the curve."
        ),
        Binding(
            "j", "see('jobs')", "Jobs earn", tooltip="What a job earns, by kind and by customer. Again: the curve."
        ),
        *keys_of("machine"),
    ]
    DEFAULT_CSS: ClassVar[str] = f"""
    MachineRoom .page {{
        padding: 0 1;
    }}
    MachineRoom #beside {{
        display: none;
        width: {_BESIDE};
        padding: 0 1;
    }}
    MachineRoom.wide #beside {{
        display: block;
    }}
    """

    def lay_out(self) -> Iterator[Widget]:
        self.view = "curve"
        with Horizontal():
            with VerticalScroll(classes="page"):
                yield Static("", id="figures", markup=False)
            with VerticalScroll(id="beside"):
                yield Static("", id="beside-lines", markup=False)

    def paint(self) -> None:
        record, kept = PaybackRecord(self.books), read_kept_plan(self.books)
        lines = MachineLines(self.showing, record, kept)
        is_wide = self.has_class("wide")
        self.query_one("#beside").display = is_wide and self.view == "curve"
        if self.view == "curve":
            shown = Content("\n").join(self._curve(record.payback, curve_of(record, kept), lines, is_wide))
            self.query_one("#beside-lines", Static).update(plain_lines(lines.figures(_BESIDE - 3)))
        else:
            shown = plain_lines(self._page(lines))
        self.query_one("#figures", Static).update(shown)

    def action_see(self, view: str) -> None:
        """The curve, or the page that was asked for in its place."""
        self.view = "curve" if self.view == view else view
        self.paint_from_the_top()

    def _page(self, lines: MachineLines) -> Iterator[str]:
        if self.view == "plan":
            return lines.plan()
        if self.view == "jobs":
            return lines.jobs(self.books, self.size.width - 4)
        return lines.whole_figures()

    def _curve(self, found: Payback, curve: Curve, lines: MachineLines, is_wide: bool) -> Iterator[Content]:
        width = self.size.width - 4 - (_BESIDE if is_wide else 0)
        if not found.cost_cents or found.share_percent is None:
            yield plain_lines(lines.without_a_price())
            return
        share = self.showing.percent(found.share_percent)
        yield Content(f"{bar(found.earned_cents / found.cost_cents, width - len(share) - 2)}  {share}")
        above = [] if is_wide else list(lines.in_short(width))
        below = [legend(curve), *lines.outlook(width)]
        yield from map(Content, above)
        rows = self.size.height - _AROUND - len(above) - len(below)
        if rows >= _FEWEST_ROWS:
            yield from painted_curve(curve, width, rows, self.showing.whole)
        yield from map(Content, below)
