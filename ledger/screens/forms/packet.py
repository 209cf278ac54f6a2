"""The packet of a period: one more Enter builds it, and the fields say what may leave the house."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from textual.binding import Binding

from ledger.actions import build_packet
from ledger.books.books import Books
from ledger.periods import Period, parse_period
from ledger.quarter.documents import read_documents
from ledger.quarter.packet import read_checks
from ledger.quarter.questions import find_questions
from ledger.quarter.span import PacketChoice, span_of
from ledger.results.period import read_statement
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.forms.paper_page import PaperPage
from ledger.screens.showing import counted, paired

_YES_NO = ("yes", "no")
_LINE = 54


class PacketForm(Form):
    """Which period, where, and how much of it. Enter builds it from whichever field."""

    title_words = "Packet for the accountant"
    KEYS = (Binding("enter", "next", "build it", key_display="Enter"), *Form.KEYS[2:])

    def __init__(self, books: Books, period: Period) -> None:
        super().__init__(books)
        self.period = period

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("period", "Period", value=self.period.label),
            Asked("packet", "Folder", hint="if empty: your books"),
            Asked("names", "Customers' names", value="no", known=_YES_NO, only_known=True),
            Asked("documents", "The documents", value="yes", known=_YES_NO, only_known=True),
        )

    def preview(self) -> Sequence[str]:
        request = self.sound(self._request())
        span = span_of(self.books, request.period)
        found = read_statement(self.books, span.start, span.end)
        checks = read_checks(self.books, span, read_documents(self.books, span, request.choice))
        passed = sum(1 for each in checks if each.ok)
        open_questions = len(find_questions(self.books, span.start, span.end))
        return [
            f"{span.label}, cash method" + (f", so far: it runs until {span.period.end}" if span.so_far else ""),
            paired("Income", self.showing.plain(found.income_cents()), _LINE),
            paired("Expenses", self.showing.plain(found.expenses_cents), _LINE),
            paired("Net", self.showing.plain(found.net_cents()), _LINE),
            f"{passed} of {len(checks)} checks passed; {counted(open_questions, 'question')} open.",
            "Nothing in the books changes.",
        ]

    def save(self) -> str:
        request = self.sound(self._request())
        place = build_packet.perform(self.books, request)
        self.app.call_later(self.app.push_screen, packet_page(place))
        return f"The packet of {request.period.label} is built."

    def action_next(self) -> None:
        """Everything is filled in already."""
        self.action_save()

    def _request(self) -> build_packet.PacketRequest:
        folder = self.text_or_none("packet")
        return build_packet.PacketRequest(
            self.read("period", parse_period, self.period),
            Path(folder).expanduser() if folder is not None else None,
            PacketChoice(
                with_names=self.choice("names", _YES_NO, "Customers by name?") == "yes",
                with_documents=self.choice("documents", _YES_NO, "The documents too?") == "yes",
            ),
        )


def packet_page(place: Path) -> PaperPage:
    """What was made, and what comes next."""
    made = sorted(each.name + ("/" if each.is_dir() else "") for each in place.iterdir())
    lines = (*made, "", "Read packet.pdf first. When it is handed over, close the period with c.")
    return PaperPage("The packet", lines, str(place))
