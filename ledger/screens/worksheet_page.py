"""The worksheet of a sales tax return over a room: one filing period after the other, and the keys to file and pay."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Static

from ledger.actions.file_tax import remarks
from ledger.books.before_books import BEFORE_WORDS
from ledger.errors import Refused
from ledger.periods import Period
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.room_words import in_the_rooms
from ledger.screens.showing import paired, plain_lines, plain_text
from ledger.taxes.filed_returns import credit_left
from ledger.taxes.filing_periods import period_after, period_holding
from ledger.taxes.returns import Return, ReturnsBook
from ledger.taxes.worksheet import Worksheet

if TYPE_CHECKING:
    from ledger.books.books import Books
    from ledger.screens.showing import Showing

# The widest line, and what a narrow window takes from it: the frame, the space in it and the scroll bar.
_LINE, _BESIDE_LINE = 70, 5
TRUST = "Sales tax is held in trust: it is the state's money from the day it is taken."


class WorksheetPage(Page[str | None]):
    """Opens on what has to be done next: the oldest return that is over and not filed, or filed and not paid."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("left", "earlier", "earlier", key_display="←", priority=True),
        Binding("right", "later", "later", key_display="→", priority=True),
        Binding("f", "act('file_tax')", "file"),
        Binding("y", "act('pay_tax')", "pay"),
        Binding("u", "act('unfile_tax')", "take back"),
        Binding("escape", "close", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("q", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    WorksheetPage > Vertical {
        width: 76;
    }
    WorksheetPage VerticalScroll {
        height: auto;
        max-height: 80vh;
    }
    WorksheetPage KeyLine {
        margin-top: 1;
    }
    """

    def __init__(self, books: Books) -> None:
        super().__init__()
        self.period = _first_to_see(ReturnsBook(books))

    @property
    def books(self) -> Books:
        return self.twopurse.books

    @property
    def showing(self) -> Showing:
        return self.twopurse.showing

    def compose(self) -> ComposeResult:
        with Vertical(id="frame"):
            with VerticalScroll():
                yield Static("", id="sheet", markup=False)
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self.reload()
        self.query_one(VerticalScroll).focus()

    def on_resize(self) -> None:
        self.reload()

    def on_screen_resume(self) -> None:
        """Back from a form that may have filed or paid."""
        if self.query("#sheet"):
            self.reload()

    def reload(self) -> None:
        try:
            book = ReturnsBook(self.books)
            found = book.newest_return(self.period)
            lines = list(self._lines(book, found))
        except Refused as refused:
            self.twopurse.tell(str(refused), "error")
            return
        self.query_one("#frame").border_title = plain_text(f"Sales tax return {self.period.label}")
        self.query_one("#sheet", Static).update(plain_lines(lines))

    def action_earlier(self) -> None:
        """The return before this one, down to the one in which the books began."""
        book = ReturnsBook(self.books)
        earliest = min((self.books.settings.begun_on, *(each.period.start for each in book.filed)))
        if self.period.start <= earliest:
            self.twopurse.tell(f"The books began in {self.period.label}.")
            return
        self._go_to(period_holding(book.rules, self.period.start.fromordinal(self.period.start.toordinal() - 1)))

    def action_later(self) -> None:
        after = period_after(ReturnsBook(self.books).rules, self.period)
        if after.start > self.books.today:
            self.twopurse.tell(f"{self.period.label} is the period that runs.")
            return
        self._go_to(after)

    def _go_to(self, period: Period) -> None:
        self.period = period
        self.reload()
        self.query_one(VerticalScroll).scroll_home(animate=False)

    def action_act(self, act_id: str) -> None:
        self.twopurse.do(act_id, self.period)

    def action_close(self) -> None:
        self.dismiss(None)

    def _lines(self, book: ReturnsBook, found: Return) -> Iterator[str]:
        day = self.showing.day
        due = f"due {day(found.due_on)}" if found.due_on else "no due day is recorded: answer how you file in Set-up"
        if found.filed is not None:
            yield f"Filed {day(found.filed.through.filed_on)}, {due}{', amended' if found.sequence else ''}"
        else:
            so_far = "" if found.period.is_over(self.books.today) else ", so far"
            yield f"Not filed{so_far}, {due}"
        yield ""
        yield from self._figures(found.worksheet)
        yield from self._settled(book, found)
        notes = [*self._late(book, found.period), *map(in_the_rooms, remarks(self.books, book, found))]
        yield from ("", *notes) if notes else ()
        yield ""
        yield TRUST

    def _figures(self, sheet: Worksheet) -> Iterator[str]:
        pair = self._pair
        yield pair("Gross sales", sheet.gross_cents)
        if sheet.before is not None:
            yield pair(f"  of it {BEFORE_WORDS}", sheet.before.gross_cents)
            yield pair(f"  taxable {BEFORE_WORDS}", sheet.before.taxable_cents)
            yield pair(f"  sales tax {BEFORE_WORDS}", sheet.before.tax_cents)
        for each in (*sheet.exempt, *sheet.deductions):
            yield pair(f"  less {each.reason}", each.cents)
        if sheet.unanswered:
            yield pair("  no tax taken, nobody asked", sheet.unanswered_cents)
        yield pair("Taxable", sheet.taxable_cents)
        for line in sheet.taxed:
            rate = f"{line.levy.name} {self.showing.percent(line.percent)}"
            yield pair(f"  {rate} of {self.showing.plain(line.taxable_cents)}", line.due_cents)
        yield pair("Tax due on the totals", sheet.due_cents)
        yield pair("Tax collected", sheet.collected_cents)
        beside = (
            ("Where more is due than was taken, yours to bear", sheet.borne_cents),
            ("Where more was taken than is due, paid over", sheet.over_collected_cents),
            ("Use tax", sheet.use_tax_cents),
            ("Filed before for this period", sheet.owed_before_cents),
            ("Kept for filing and paying on time", sheet.allowance_cents),
            ("Credit from before", sheet.carried_cents),
        )
        yield from (pair(words, cents) for words, cents in beside if cents)
        yield pair("Total", sheet.total_cents)

    def _settled(self, book: ReturnsBook, found: Return) -> Iterator[str]:
        """What was paid of it, what is left, and what is kept as a credit."""
        if found.filed is not None:
            yield self._pair("Paid", found.filed.paid_cents)
            yield self._pair("Left to pay", max(0, found.filed.to_pay_on(self.books.today)))
            if found.filed.is_claimed:
                yield self._pair("Claimed back and not come yet", max(0, -found.filed.left_cents))
        credit = credit_left(book.filed)
        if credit and not found.worksheet.carried_cents:
            yield self._pair("Credit for the next return", credit)

    def _late(self, book: ReturnsBook, period: Period) -> Iterator[str]:
        for each in book.late_entries(period):
            into = "an amended return" if each.goes_to.sequence else f"the return of {each.goes_to.period.label}"
            tax = self.showing.amount(each.tax_cents)
            yield f"Entry {each.entry} came late: its tax of {tax} goes into {into}."

    def _pair(self, words: str, cents: int) -> str:
        return paired(words, self.showing.plain(cents), min(_LINE, self.size.width - _BESIDE_LINE))


def _first_to_see(book: ReturnsBook) -> Period:
    today = book.books.today
    to_file = [each for each in book.open_periods() if each.is_over(today)]
    to_pay = [each.period for each in book.filed if each.to_pay_on(today) > 0]
    waiting = sorted((*to_file, *to_pay), key=lambda each: each.start)
    return waiting[0] if waiting else period_holding(book.rules, today)
