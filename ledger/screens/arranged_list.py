"""A list with what can be done in it: filtered as one types, ordered, gone through by day, copied, saved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.timer import Timer
from textual.widgets import Input, Static

from ledger.errors import Refused
from ledger.lists.lines import Lines
from ledger.lists.listing import Arrangement, Line, words_of
from ledger.screens.forms.field import Typed
from ledger.screens.list_cells import shown_cells
from ledger.screens.painted_list import PaintedList
from ledger.screens.showing import plain_text

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp

LIST_KEY = Binding(
    "full_stop", "list", "List", key_display=".", tooltip="List. Filter, order, go to a day, copy, save."
)
# A list so long is narrowed when the letters stop for a moment, and not with each of them.
_LONG, _MOMENT_SECONDS = 10_000, 0.1
_COPIED = (
    "The line was sent to the terminal's clipboard. Not every terminal takes it: "
    "where pasting gives something else, . and v saves the list as a file."
)


class FilterLine(Typed):
    """What the lines of the list must have. Enter and ↓ go back to the list, Esc takes the filter away."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "drop", "Back", show=False),
        Binding("enter,down", "keep", "Keep", show=False),
    ]

    def action_drop(self) -> None:
        self.value = ""
        self.action_keep()

    def action_keep(self) -> None:
        assert isinstance(self.parent, ArrangedList)
        self.parent.end_filter()


class ArrangedList(Vertical):
    """The list of a room or a page. noun: what its lines are, as in the name of its file.

    Whoever has it hands it lines with `show`, hears `PaintedList.Moved`, and asks for `line`.
    """

    DEFAULT_CSS: ClassVar[str] = """
    ArrangedList {
        height: 1fr;
    }
    ArrangedList > FilterLine {
        display: none;
        background: $panel;
        color: $foreground;
        padding: 0 1;
    }
    ArrangedList > FilterLine:focus {
        background: $focused;
    }
    ArrangedList > .words {
        display: none;
        padding: 0 1;
        height: auto;
        background: $panel;
    }
    """

    def __init__(self, noun: str, id: str | None = None) -> None:
        super().__init__(id=id)
        self.noun = noun
        self.filter_line = FilterLine(placeholder="Type what the lines must have", compact=True)
        # Focus is looked for before styles are known: a line that is not there must not catch the first letters.
        self.filter_line.can_focus = False
        self.said = Static("", classes="words", markup=False)
        self.painted_list = PaintedList()
        self.arrangement = Arrangement()
        self._whole: Lines | None = None
        self._widths: Sequence[int] = ()
        self._waiting: Timer | None = None

    def compose(self) -> ComposeResult:
        yield self.filter_line
        yield self.said
        yield self.painted_list

    @property
    def twopurse(self) -> TwopurseApp:
        return cast("TwopurseApp", self.app)

    @property
    def file_name(self) -> str:
        """What the name of its file begins with."""
        return self.noun.replace(" ", "-")

    @property
    def lines(self) -> Lines | None:
        """As they stand: filtered and ordered."""
        return self.painted_list.lines

    @property
    def line(self) -> Line | None:
        """The line under the cursor."""
        return self.painted_list.line_at(self.painted_list.cursor_row)

    @property
    def key(self) -> Any:
        return None if self.line is None else self.line.key

    def show(self, whole: Lines, widths: Sequence[int], wanted: Any = None) -> None:
        """Lines that were read anew, arranged as before, the cursor where it was; wanted: the key of what is to be
        selected, also where a filter would hide it."""
        key, row = self.key, self.painted_list.cursor_row
        if wanted is not None and whole.arranged(self.arrangement).place_of(wanted) is None:
            self.forget()
        self._whole, self._widths = whole, widths
        lines = whole.arranged(self.arrangement)
        place = lines.place_of(key if wanted is None else wanted)
        self.painted_list.show(lines, widths, row if place is None else place)
        self._tell()

    def take(self, arrangement: Arrangement) -> None:
        """The same lines in another arrangement. The cursor stays on its line where only the filter is another; in
        another order one begins at the top."""
        is_order_kept = replace(arrangement, words=self.arrangement.words) == self.arrangement
        self.arrangement = arrangement
        if self._whole is None:
            return
        key, lines = self.key, self._whole.arranged(arrangement)
        try:
            place = lines.place_of(key) if is_order_kept else None
            self.painted_list.show(lines, self._widths, place or 0)
        except Refused as refused:
            self.twopurse.tell(str(refused), "error")
            return
        self._tell()
        self.post_message(PaintedList.Moved())

    def forget(self) -> None:
        """Neither filtered nor ordered any more, from the next `show` on."""
        self.arrangement = Arrangement()
        with self.prevent(Input.Changed):
            self.filter_line.value = ""
        self.filter_line.display = self.filter_line.can_focus = False

    def order_by(self, column: int | None) -> None:
        """By a column; by the same once more turns it; None for the list's own order."""
        if column is None or self.lines is None:
            self.take(replace(self.arrangement, column=None, is_descending=False))
        else:
            self.take(self.arrangement.ordered_by(column, self.lines.columns[column].kind))

    def begin_filter(self) -> None:
        self.filter_line.display = self.filter_line.can_focus = True
        self.filter_line.focus()

    def end_filter(self) -> None:
        """Back to the list; what is typed stays in force."""
        self._narrow()
        self.filter_line.display = self.filter_line.can_focus = False
        self.painted_list.focus()

    def show_whole(self) -> None:
        self.forget()
        self.take(self.arrangement)

    def lift_filter(self) -> bool:
        """All lines again, in the order that they have; whether there was a filter to lift."""
        if not self.arrangement.words:
            return False
        with self.prevent(Input.Changed):
            self.filter_line.value = ""
        self.take(replace(self.arrangement, words=()))
        return True

    def copy(self) -> None:
        """The line under the cursor, with tabs between its cells, to the terminal's clipboard."""
        if self.line is None or self.lines is None:
            self.twopurse.tell("There is no line to copy.", "warning")
            return
        self.app.copy_to_clipboard("\t".join(shown_cells(self.line, self.lines.columns, self.twopurse.showing)))
        self.twopurse.tell(_COPIED)

    def say(self, said: str | None) -> None:
        """What a form of the list ended with."""
        if said:
            self.twopurse.tell(said)

    def open_keys(self) -> None:
        """The page that says what can be done, over the list."""
        from ledger.screens.list_keys import ListKeysPage

        self.app.clear_notifications()
        if self.lines is not None:
            self.app.push_screen(ListKeysPage(self))

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        if self._waiting is not None:
            self._waiting.stop()
        if self._whole is not None and self._whole.count > _LONG:
            self._waiting = self.set_timer(_MOMENT_SECONDS, self._narrow)
        else:
            self._narrow()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()

    def on_painted_list_head_clicked(self, event: PaintedList.HeadClicked) -> None:
        event.stop()
        self.order_by(event.column)

    def _narrow(self) -> None:
        if self._waiting is not None:
            self._waiting.stop()
            self._waiting = None
        words = words_of(self.filter_line.value, *self.twopurse.showing.number_signs)
        if words != self.arrangement.words:
            self.take(replace(self.arrangement, words=words))

    def _tell(self) -> None:
        """In words, how the list stands where that is not whole and in its own order."""
        assert self.lines is not None
        assert self._whole is not None
        told = self.arrangement.told(self.lines.columns, self.filter_line.value)
        if self.arrangement.words:
            number = self.twopurse.showing.count
            told = f"{number(self.lines.count)} of {number(self._whole.count)} {self.noun}: {told}. Esc shows all."
        self.said.update(plain_text(told))
        self.said.display = bool(told)
