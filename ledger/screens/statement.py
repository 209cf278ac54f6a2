"""Statements: the open lines one after the other, each settled with one key, and the next comes up by itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import DataTable, Static

from ledger.actions import place_line, undo_placing
from ledger.actions.book_line import PlaceRequest, Way
from ledger.bank.standing import StandingLine, read_standing
from ledger.books.books import Books
from ledger.errors import Refused
from ledger.screens.keys import KeyLine
from ledger.screens.showing import cell_text, counted, plain_lines, plain_text
from ledger.screens.statement_lines import detail_lines, what_it_is

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp

Done = TypeVar("Done")
_OPEN = ("new", "doubtful", "later")
_MOST_SHOWN = 300
_NOTHING = ("No line is open. r reads a statement, a agrees an account with it, k counts the cash box.",)


class StatementPage(ModalScreen[str | None]):
    """Lines that are not settled, and with `v` every line."""

    title_words: ClassVar[str] = "Statements"
    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("y", "take", "Yes", tooltip="Yes. What is suggested, or the one entry that fits."),
        Binding("c", "ask('category')", "Category"),
        Binding("j", "ask('job')", "Job"),
        Binding("h", "place('home')", "Home", tooltip="Home. A household thing: a draw, or money put in."),
        Binding("t", "ask('transfer')", "Transfer"),
        Binding("l", "place('later')", "Later"),
        Binding("i", "place('ignored')", "Set aside", tooltip="Set aside. Nothing to book: it is there twice."),
        Binding("u", "undo", "Undo"),
        Binding("r", "open('read_statement')", "Read"),
        Binding("a", "open('agree')", "Agree"),
        Binding("k", "open('count_cash')", "Count cash"),
        Binding("g", "look_again", "Look again", show=False),
        Binding("v", "every", "All lines"),
        Binding("question_mark", "app.explain_page", "Help", key_display="?"),
        Binding("escape", "leave", "Money", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *KEYS,
        Binding("f1", "app.explain_page", "Help", show=False),
        *(Binding(str(place), f"choose({place})", "Candidate", show=False) for place in range(1, 6)),
    ]
    DEFAULT_CSS: ClassVar[str] = """
    StatementPage {
        background: $background;
    }
    StatementPage #statement-title {
        height: 1;
        background: $primary;
        color: $background;
        text-style: bold;
    }
    StatementPage #lines {
        height: 1fr;
    }
    StatementPage #line-frame {
        height: 8;
    }
    """

    def __init__(self, books: Books, to_select: int | None = None) -> None:
        super().__init__()
        self.books = books
        self.to_select = to_select
        self.shown: list[StandingLine] = []
        # A line that was found may be settled.
        self.shows_every = to_select is not None
        self.last_placed: int | None = None

    @property
    def twopurse(self) -> TwopurseApp:
        return cast("TwopurseApp", self.app)

    def compose(self) -> ComposeResult:
        yield Static("", id="statement-title", markup=False)
        yield DataTable(id="lines", cursor_type="row")
        with VerticalScroll(id="line-frame", classes="detail-frame", can_focus=False), Vertical():
            yield Static("", id="line", classes="detail", markup=False)
        yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self.query_one(DataTable).focus()
        self.paint()

    def on_resize(self) -> None:
        self.paint()

    def paint(self) -> None:
        """Read the lines again; the cursor stays in its row, where the next one has come up."""
        table = self.query_one(DataTable)
        row, was_shown = table.cursor_row, bool(self.shown)
        every = self._told(lambda: read_standing(self.books)) or []
        wanted = [each for each in every if self.shows_every or each.state in _OPEN]
        # A table of thousands takes seconds to come up: of open lines the first are shown, of all lines the last.
        self.shown = wanted[-_MOST_SHOWN:] if self.shows_every else wanted[:_MOST_SHOWN]
        if self.to_select in (numbers := [each.line.id for each in wanted]):
            first = max(0, min(at := numbers.index(self.to_select), len(wanted) - _MOST_SHOWN))
            self.shown, row = wanted[first : first + _MOST_SHOWN], row if was_shown else at - first
        table.clear(columns=True)
        spare = max(0, self.size.width - 80)
        for label, width in (("Day", 7), ("Amount", 11), ("Bank's words", 26 + spare // 2), ("What", 26 + spare // 2)):
            table.add_column(label, width=width)
        showing = self.twopurse.showing
        for each in self.shown:
            cells = (showing.month_day(each.line.day), f"{showing.plain(each.line.cents):>11}", each.line.words)
            table.add_row(*map(cell_text, (*cells, what_it_is(each))))
        if self.shown:
            table.move_cursor(row=max(0, min(row, len(self.shown) - 1)))
        waiting = sum(each.state in _OPEN for each in every)
        title = f" Statements · {counted(waiting, 'open line')} of {len(every)}"
        self.query_one("#statement-title", Static).update(plain_text(title))
        self.show_selected()

    def selected(self) -> StandingLine | None:
        row = self.query_one(DataTable).cursor_row
        return self.shown[row] if 0 <= row < len(self.shown) else None

    def show_selected(self) -> None:
        found = self.selected()
        lines: Iterator[str] = detail_lines(found, self.twopurse.showing) if found else iter(_NOTHING)
        self.query_one("#line", Static).update(plain_lines(lines))

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        self.show_selected()

    def on_data_table_row_selected(self, event: DataTable.RowSelected) -> None:
        self.action_take()

    def action_take(self) -> None:
        """What is suggested; of several candidates none is taken without being named."""
        found = self.selected()
        if found is not None and len(found.candidates) == 1:
            self.action_choose(1)
        elif found is not None:
            self._place(PlaceRequest(found.line.id, "suggested"))

    def action_choose(self, place: int) -> None:
        found = self.selected()
        if found is not None and place <= len(found.candidates):
            entries = tuple(dict.fromkeys(each.entry for each in found.candidates[place - 1]))
            self._place(PlaceRequest(found.line.id, "entry", entries=entries))

    def action_place(self, way: Way) -> None:
        found = self.selected()
        if found is not None:
            self._place(PlaceRequest(found.line.id, way))

    def action_ask(self, way: str) -> None:
        """The form that asks for what one key cannot say."""
        from ledger.screens.forms.statement_line import FORMS

        found = self.selected()
        if found is not None and found.state in _OPEN:
            self.app.push_screen(FORMS[way](self.books, found), self._after(found.line.id))

    def action_undo(self) -> None:
        """The line that was placed last here, or with all lines shown the one that is selected."""
        found = self.selected()
        number = found.line.id if self.shows_every and found is not None else self.last_placed
        if number is None:
            self.twopurse.tell("Nothing was placed here yet. v shows every line.", "warning")
            return
        done = self._told(lambda: undo_placing.perform(self.books, undo_placing.UndoRequest(number)))
        if done is not None:
            self.last_placed = None
            self.twopurse.tell(f"Line {number} is open again.")
        self.paint()

    def action_open(self, act_id: str) -> None:
        from ledger.screens.forms.doors import form_of

        opened = self._told(lambda: form_of(act_id, self.books, None))
        if isinstance(opened, ModalScreen):
            self.app.push_screen(opened, self._after(None))

    def action_look_again(self) -> None:
        from ledger.actions.read_statement import look_again

        found = self._told(lambda: look_again(self.books))
        self.twopurse.tell(f"{counted(found or 0, 'line')} found their entry.")
        self.paint()

    def action_every(self) -> None:
        self.shows_every = not self.shows_every
        self.paint()

    def action_leave(self) -> None:
        self.dismiss(None)

    def _place(self, request: PlaceRequest) -> None:
        done = self._told(lambda: place_line.perform(self.books, request))
        if done is not None:
            self.last_placed = request.line
            entries = ", ".join(map(str, done.entries))
            self.twopurse.tell(
                f"Line {request.line}: entry {entries}." if entries else f"Line {request.line} is set by."
            )
        self.paint()

    def _after(self, line: int | None) -> Callable[[str | None], None]:
        def painted(said: str | None) -> None:
            if said:
                self.last_placed = line if line is not None else self.last_placed
                self.twopurse.tell(said)
            self.paint()

        return painted

    def _told(self, work: Callable[[], Done]) -> Done | None:
        """What the work gives, or None with what it refuses told."""
        try:
            return work()
        except Refused as refused:
            self.twopurse.tell(str(refused), "warning")
            return None
