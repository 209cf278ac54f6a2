"""The quarter so far, on the cash method: income, expenses, sales tax, checks, and what is still open."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap
from typing import ClassVar

from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Static

from ledger.books.books import Books
from ledger.books.entries import closed_through
from ledger.periods import Period, next_period, previous_period, quarter_holding
from ledger.quarter.checks import run_checks
from ledger.quarter.questions import find_questions
from ledger.quarter.sales_tax import read_sales_tax
from ledger.results.period import read_statement
from ledger.results.statement import Statement
from ledger.screens.room import Room, keys_of
from ledger.screens.room_words import acts_for_commands
from ledger.screens.showing import paired, plain_lines

# Cells: of words with their figure, and of what is told in sentences.
_COLUMN, _NARROWEST, _WIDEST = 56, 40, 76


def period_to_hand_over(books: Books) -> Period:
    """The last whole quarter where it is not closed yet, else the one that runs."""
    running = quarter_holding(books.today)
    last, closed = previous_period(running), closed_through(books)
    is_open = closed is None or closed < last.end
    return last if is_open and last.end >= books.settings.begun_on else running


class QuarterRoom(Room):
    name_of_room = "quarter"
    BINDINGS = [
        *keys_of("quarter")[:-3],
        # Before what the scrolling part would do with them.
        Binding("left", "earlier", "Earlier", key_display="←", priority=True),
        Binding("right", "later", "Later", key_display="→", priority=True),
        Binding("r", "reports", "Statements"),
        *keys_of("quarter")[-3:],
    ]
    DEFAULT_CSS: ClassVar[str] = """
    QuarterRoom #figures {
        padding: 1 2 0 2;
    }
    """

    def lay_out(self) -> Iterator[Widget]:
        self.period: Period = quarter_holding(self.books.today)
        with VerticalScroll():
            yield Static("", id="figures", markup=False)

    def selected(self) -> Period:
        """The quarter that is shown; while it runs still, the one before it as long as that is not closed."""
        return self.period if self.period.is_over(self.books.today) else period_to_hand_over(self.books)

    def action_reports(self) -> None:
        from ledger.screens.report_page import ReportPage

        self.app.push_screen(ReportPage(self.books, self.period))

    def paint(self) -> None:
        self.query_one("#figures", Static).update(plain_lines(self._lines()))

    def action_earlier(self) -> None:
        self._go_to(previous_period(self.period))

    def action_later(self) -> None:
        self._go_to(next_period(self.period))

    def _go_to(self, moved: Period) -> None:
        """From the quarter in which the books began to the running one."""
        if moved.end < self.books.settings.begun_on:
            self.twopurse.tell(f"The books began in {self.period.label}.")
        elif moved.start > self.books.today:
            self.twopurse.tell(f"{self.period.label} is the quarter that runs.")
        else:
            self.period = moved
            self.reload()

    def _lines(self) -> Iterator[str]:
        start, end = self.period.start, min(self.period.end, self.books.today)
        so_far = "" if self.period.is_over(self.books.today) else ", so far"
        yield f"{self.period.label}{so_far}, on the cash method"
        yield ""
        yield from self._totals(read_statement(self.books, start, end))
        yield ""
        tax = read_sales_tax(self.books, start, end)
        yield self._pair("Sales tax taken, no income", self.showing.amount(tax.collected_cents))
        for each in tax.by_jurisdiction:
            rate = f"{each.jurisdiction} {self.showing.percent(each.percent)}"
            amounts = (self.showing.amount(cents) for cents in (each.base_cents, each.tax_cents))
            yield f"    {rate} on {': '.join(amounts)}"
        yield ""
        checks = run_checks(self.books, start, end)
        failed = [each for each in checks if not each.ok]
        yield f"{len(checks) - len(failed)} of {len(checks)} checks passed."
        yield from (f"  Failed: {each.name}, by {self.showing.amount(each.off_cents)}" for each in failed)
        for number, question in enumerate(find_questions(self.books, start, end), start=1):
            told = acts_for_commands(question)
            yield from wrap(told, self._width, initial_indent=f"  Open {number}: ", subsequent_indent=" " * 10)
        yield ""
        yield "From the owner's records, not audited, not a tax return: your accountant decides."

    def _totals(self, found: Statement) -> Iterator[str]:
        amount = self.showing.amount
        yield from (self._pair(each.account.name, amount(each.cents)) for each in found.income if each.cents)
        between = found.income_cents() - found.bridge.books_cents
        if between:
            yield self._pair("deposits, certificates and balances owed", amount(between))
        yield from self._total("Income", amount(found.income_cents()))
        yield ""
        yield from (self._pair(each.account.name, amount(each.cents)) for each in found.expenses)
        yield from self._total("Expenses", amount(found.expenses_cents))
        yield ""
        yield self._pair("Net", amount(found.net_cents()))

    @property
    def _width(self) -> int:
        """Cells of a line, beside the edges and the scroll bar."""
        return max(_NARROWEST, min(_WIDEST, self.size.width - 5))

    def _pair(self, left: str, right: str) -> str:
        return "  " + paired(left, right, min(_COLUMN, self._width - 2))

    def _total(self, left: str, right: str) -> Iterator[str]:
        yield "  " + paired("", "-" * 14, min(_COLUMN, self._width - 2))
        yield self._pair(left, right)
