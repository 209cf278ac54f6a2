"""A household statement looked through: what is picked is booked as the workshop's, and nothing else is kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import ModalScreen
from textual.widgets import DataTable, Static

from ledger.actions import pick_line
from ledger.actions.pick_line import LookedLine, PickRequest
from ledger.actions.read_statement import ReadRequest
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.errors import NotUnderstood, Refused
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.keys import KeyLine
from ledger.screens.showing import cell_text, cut, plain_text

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp


class HouseholdPage(ModalScreen[str | None]):
    """The lines of the file, in memory alone."""

    title_words: ClassVar[str] = "Statement of the household"
    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("c", "pick", "Pick"),
        Binding("question_mark", "app.explain_page", "help", key_display="?"),
        Binding("escape", "leave", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("f1", "app.explain_page", "Help", show=False)]
    DEFAULT_CSS: ClassVar[str] = """
    HouseholdPage {
        background: $background;
    }
    HouseholdPage #household-title {
        height: 1;
        background: $primary;
        color: $background;
        text-style: bold;
    }
    HouseholdPage DataTable {
        height: 1fr;
    }
    """

    def __init__(self, books: Books, request: ReadRequest) -> None:
        super().__init__()
        self.books = books
        self.request = replace(request, keeps_file=False)
        self.lines: list[LookedLine] = []

    @property
    def twopurse(self) -> TwopurseApp:
        return cast("TwopurseApp", self.app)

    def compose(self) -> ComposeResult:
        title = f" {self.request.account} · looked through, nothing kept but what you pick"
        yield Static(plain_text(title), id="household-title", markup=False)
        yield DataTable(id="household", cursor_type="row")
        yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self.query_one(DataTable).focus()

    def on_resize(self) -> None:
        self.paint()

    def paint(self) -> None:
        table = self.query_one(DataTable)
        row = table.cursor_row
        try:
            self.lines = pick_line.look_through(self.books, self.request)[1]
        except Refused as refused:
            self.twopurse.tell(str(refused), "warning")
        table.clear(columns=True)
        for label, width in (("Day", 8), ("Amount", 11), ("Bank's words", max(20, self.size.width - 50)), ("Is", 12)):
            table.add_column(label, width=width)
        showing = self.twopurse.showing
        for each in self.lines:
            line = each.line
            state = f"entry {each.entry}" if each.entry is not None else ""
            cells = (showing.month_day(line.day), f"{showing.plain(line.cents):>11}", line.words, state)
            table.add_row(*map(cell_text, cells))
        if self.lines:
            table.move_cursor(row=max(0, min(row, len(self.lines) - 1)))

    def on_data_table_row_selected(self, event: DataTable.RowSelected) -> None:
        self.action_pick()

    def action_pick(self) -> None:
        row = self.query_one(DataTable).cursor_row
        if not 0 <= row < len(self.lines):
            return
        chosen = self.lines[row]
        if chosen.entry is not None:
            self.twopurse.tell(f"It is entry {chosen.entry} already.", "warning")
            return
        self.app.push_screen(PickForm(self.books, self.request, chosen), self._after)

    def action_leave(self) -> None:
        self.dismiss(None)

    def _after(self, said: str | None) -> None:
        if said:
            self.twopurse.tell(said)
        self.paint()
        if said:
            self.query_one(DataTable).action_cursor_down()


class PickForm(Form):
    """What a line of the household's was for, and the household's part of it."""

    title_words = "For the workshop"

    def __init__(self, books: Books, request: ReadRequest, chosen: LookedLine) -> None:
        super().__init__(books)
        self.request, self.chosen = request, chosen

    def asks(self) -> Sequence[Asked]:
        known = [
            each.name
            for each in read_accounts(self.books).of_kind("expense")
            if each.takes_entries(self.chosen.line.day)
        ]
        return (
            Asked("category", "Category", known=known, only_known=True),
            Asked("who", "Who", hint="if empty: the bank's"),
            Asked("home", "Household's part"),
            Asked("owed", "Owed to you?", hint="if empty: as chosen", known=("yes", "no"), only_known=True),
        )

    def preview(self) -> Sequence[str]:
        line = self.chosen.line
        return [f"{self.showing.day(line.day)}  {self.showing.amount(line.cents)}  {cut(line.words, 44)}"]

    def save(self) -> str:
        if not self.text("category"):
            raise NotUnderstood("What was it for?", "Type the first letters of a category.", "category")
        owed = self.choice("owed", ("yes", "no"), "Owed to you?") == "yes" if self.text("owed") else None
        asked = PickRequest(
            self.request,
            self.chosen.place,
            self.text("category"),
            self.text_or_none("who"),
            self.amount("home", zero=True),
            owed,
        )
        done = pick_line.perform(self.books, self.sound(asked))
        return f"Entry {done.entry}. Nothing else of the file was kept."
