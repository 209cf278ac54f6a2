"""Close a period, or open a closed one again with the reason."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from ledger.actions import close_period
from ledger.books.books import Books
from ledger.books.entries import closed_through
from ledger.periods import Period, parse_period, quarter_holding
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form


class CloseForm(Form):
    """Which period. Nothing more is entered in it then."""

    title_words = "Close a period"

    def __init__(self, books: Books, period: Period) -> None:
        super().__init__(books)
        self.period = _next_to_close(books, period)

    def asks(self) -> Sequence[Asked]:
        return (Asked("period", "Period", value=self.period.label),)

    def preview(self) -> Sequence[str]:
        period = self.sound(self.read("period", parse_period, self.period))
        closed = closed_through(self.books)
        return [
            f"Closed so far: through {self.showing.day(closed)}." if closed else "Nothing is closed so far.",
            f"Nothing more is entered through {self.showing.day(period.end)}.",
            "What turns up late goes into the open period, and carries the day it belongs to.",
        ]

    def save(self) -> str:
        period = self.read("period", parse_period, self.period)
        return close_period.close(self.books, self.sound(close_period.CloseRequest(period)))


def _next_to_close(books: Books, period: Period) -> Period:
    """Closing goes in order: the first quarter that is open, where it lies before the one that is looked at."""
    closed = closed_through(books)
    first = quarter_holding(closed + timedelta(days=1) if closed else books.settings.begun_on)
    return first if first.end < period.start else period


class ReopenForm(Form):
    """Which period, and why."""

    title_words = "Open a closed period again"

    def __init__(self, books: Books, period: Period) -> None:
        super().__init__(books)
        self.period = period

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("period", "Period", value=self.period.label),
            Asked("why", "Why", hint="such as late receipt"),
        )

    def preview(self) -> Sequence[str]:
        period = self.sound(self.read("period", parse_period, self.period))
        return [
            f"It and everything after it is open again from {self.showing.day(period.start)}.",
            "The accountant has a packet of it: what is entered then stands in the next one as changed.",
        ]

    def save(self) -> str:
        period = self.read("period", parse_period, self.period)
        return close_period.reopen(self.books, self.sound(close_period.ReopenRequest(period, self.text("why"))))
