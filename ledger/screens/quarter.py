"""The quarter so far, on the cash method: income, expenses, sales tax, checks, and what is still open; income by month
and expenses by category as pictures, behind a key each and beside the page where the window is wide."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap
from typing import ClassVar

from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from ledger.books.books import Books
from ledger.books.entries import closed_through
from ledger.periods import Period, next_period, previous_period, quarter_holding
from ledger.quarter.checks import run_checks
from ledger.quarter.packet import FACE
from ledger.quarter.questions import find_questions
from ledger.quarter.sales_tax import read_sales_tax
from ledger.results.period import read_statement
from ledger.results.statement import Statement
from ledger.screens.keys import KeyLine
from ledger.screens.quarter_pictures import QuarterPictures
from ledger.screens.room import Room, keys_of
from ledger.screens.room_words import acts_for_commands
from ledger.screens.showing import paired, plain_lines

# Cells: of words with their figure, and of what is told in sentences.
_COLUMN, _NARROWEST, _WIDEST = 56, 40, 76
_TABLE = "Picture into table, and back. Every figure of what is painted."
_INCOME = "Income by month. The year beside the one before. Again: the quarter."
_CATEGORIES = "Spent, by category, the largest first. Again: the quarter."
_OF_PICTURES = ("turn", "see('income')", "see('expenses')", "earlier", "later")
_NO_PICTURE = "i shows income by month, b expenses by category. g turns either into its table."
# Cells of the page where the pictures stand beside it.
_LEAST_PAGE, _WIDEST_PAGE = 64, 81
# What the frame takes beside a line: the space around it and the scroll bar.
_AROUND, _AROUND_PICTURES = 5, 3


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
        Binding("i", "see('income')", "Income", tooltip=_INCOME),
        Binding("b", "see('expenses')", "Spent", tooltip=_CATEGORIES),
        Binding("g", "turn", "Table", tooltip=_TABLE),
        *keys_of("quarter")[-3:],
    ]
    DEFAULT_CSS: ClassVar[str] = """
    QuarterRoom #figures {
        padding: 1 2 0 2;
    }
    QuarterRoom #pictures {
        padding: 1 1 0 1;
    }
    QuarterRoom #beside {
        display: none;
        width: 1fr;
    }
    """

    def lay_out(self) -> Iterator[Widget]:
        self.period: Period = quarter_holding(self.books.today)
        self.view, self.as_table = "page", False
        with Horizontal():
            with VerticalScroll(id="page"):
                yield Static("", id="figures", markup=False)
            with VerticalScroll(id="beside"):
                yield Static("", id="pictures", markup=False)

    def selected(self) -> Period:
        """The quarter that is shown; while it runs still, the one before it as long as that is not closed."""
        return self.period if self.period.is_over(self.books.today) else period_to_hand_over(self.books)

    def action_reports(self) -> None:
        from ledger.screens.report_page import ReportPage

        self.app.push_screen(ReportPage(self.books, self.period))

    def paint(self) -> None:
        beside, page_width = self._has_beside, self._page_width
        self.query_one("#page").styles.width = page_width if beside else "1fr"
        self.query_one("#beside").display = beside
        self._show_keys(beside)
        pictures = QuarterPictures(self.books, self.showing, self.period, self.as_table)
        height = self.size.height - _AROUND
        if beside:
            both = pictures.both(self.size.width - page_width - _AROUND_PICTURES, height)
            self.query_one("#pictures", Static).update(Content("\n").join(both))
        shown = self.query_one("#figures", Static)
        if self.view == "page":
            shown.update(plain_lines(self._lines()))
        else:
            shown.update(Content("\n").join(pictures.of(self.view, page_width - _AROUND, height)))

    def _show_keys(self, beside: bool) -> None:
        """The key for a table is worth a place where there is a picture, and the first one where there is no other."""
        keys = [each for each in self.BINDINGS if isinstance(each, Binding) and each.show]
        if self.view != "page":
            keys.sort(key=lambda each: each.action not in _OF_PICTURES)
        elif not beside:
            keys = [each for each in keys if each.action != "turn"]
        self.query_one(KeyLine).show_keys(keys)

    def action_see(self, view: str) -> None:
        """A picture over the whole room, or the quarter's page again."""
        self.view = "page" if self.view == view else view
        self.paint_from_the_top()

    def action_turn(self) -> None:
        """Pictures into their tables, and back."""
        if self.view == "page" and not self.has_class("wide"):
            self.twopurse.tell(_NO_PICTURE)
            return
        self.as_table = not self.as_table
        self.paint_from_the_top()

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
        yield from wrap(FACE, self._width)

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
        return max(_NARROWEST, min(_WIDEST, self._page_width - _AROUND))

    @property
    def _page_width(self) -> int:
        """Cells of the page: all of them, but where the pictures stand beside it."""
        whole = self.size.width
        return max(_LEAST_PAGE, min(_WIDEST_PAGE, whole // 2)) if self._has_beside else whole

    @property
    def _has_beside(self) -> bool:
        return self.has_class("wide") and self.view == "page"

    def _pair(self, left: str, right: str) -> str:
        return "  " + paired(left, right, min(_COLUMN, self._width - 2))

    def _total(self, left: str, right: str) -> Iterator[str]:
        yield "  " + paired("", "-" * 14, min(_COLUMN, self._width - 2))
        yield self._pair(left, right)
