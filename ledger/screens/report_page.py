"""Statements of the period that the quarter shows: one page, the next kind with the right arrow."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Static

from ledger.books.books import Books
from ledger.paper.locales import LocalForms
from ledger.paper.plain import sheet_text
from ledger.periods import Period
from ledger.quarter.reports import KINDS, read_report, report_sheet
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import plain_lines, plain_text

# Cells of a line, and of the frame beside it with its scroll bar.
_NARROW, _WIDE, _FRAME = 72, 110, 6


class ReportPage(Page[None]):
    """The statements of a period, one at a time."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("right", "next", "next statement", key_display="→"),
        Binding("left", "before", "the one before", key_display="←"),
        Binding("escape", "close", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right", "next", "next statement", key_display="→", priority=True),
        Binding("left", "before", "the one before", key_display="←", priority=True),
        Binding("escape,q,enter", "close", "back", show=False),
    ]
    DEFAULT_CSS: ClassVar[str] = """
    ReportPage.wide > Vertical {
        width: 116;
    }
    ReportPage VerticalScroll {
        height: auto;
        max-height: 85vh;
    }
    ReportPage KeyLine {
        dock: bottom;
    }
    """

    def __init__(self, books: Books, period: Period) -> None:
        super().__init__()
        self.books = books
        self.period = period
        self.place = 0

    def compose(self) -> ComposeResult:
        with Vertical() as frame:
            frame.border_title = plain_text("Statements")
            with VerticalScroll():
                yield Static("", markup=False, id="statement")
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self._paint()
        self.query_one(VerticalScroll).focus()

    def on_resize(self) -> None:
        self._paint()

    def action_next(self) -> None:
        self._turn(1)

    def action_before(self) -> None:
        self._turn(-1)

    def _turn(self, by: int) -> None:
        self.place = (self.place + by) % len(KINDS)
        self._paint()
        self.query_one(VerticalScroll).scroll_home(animate=False)

    def action_close(self) -> None:
        self.dismiss(None)

    def _paint(self) -> None:
        kind = KINDS[self.place]
        tables = read_report(self.books, kind, self.period)
        forms = LocalForms(self.books.settings.locale, self.books.currency)
        sheet = report_sheet(self.books, tables, self.period, forms)
        is_wide = self.app.size.width >= _WIDE + _FRAME
        self.set_class(is_wide, "wide")
        width = _WIDE if is_wide else max(40, min(_NARROW, self.app.size.width - _FRAME))
        lines = sheet_text(sheet, width).splitlines()
        if not tables:
            lines.append("There is no form over two tax years: choose a period of one.")
        title = f"{kind.replace('-', ' ').capitalize()}, {self.period.label} ({self.place + 1} of {len(KINDS)})"
        self.query_one(Vertical).border_title = plain_text(title)
        self.query_one("#statement", Static).update(plain_lines(lines))
