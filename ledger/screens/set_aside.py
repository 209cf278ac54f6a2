"""Set-aside: what can be taken out, what is owed and held, the year's strip of due dates, and as a picture the year
ahead: what tax savings hold against what falls due."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import DataTable, Static

from ledger.screens.ahead_picture import AheadLines
from ledger.screens.forms.parts_page import PartsPage, part_lines
from ledger.screens.keys import KeyLine
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import cell_text, padded, paired, plain_lines, plain_text
from ledger.set_aside.due_dates import Due
from ledger.set_aside.owed import SetAside, is_there, read_set_aside
from ledger.set_aside.part import Part
from ledger.set_aside.parts import parts_of
from ledger.set_aside.year_ahead import year_ahead_of

_LABELS, _FIGURES = 24, 11
# The table with the space around its cells, and what a scrollbar takes.
_TABLE = _LABELS + _FIGURES + 6
_WIDEST_STRIP = 60
# From this width on the parts have room beside the strip; below the other the strip stands under the figures.
_WITH_PARTS, _NARROW = 130, 76
# The title and the keys, and the fewest lines that the picture takes beside the figures.
_AROUND, _LEAST_PICTURE = 3, 16
_AHEAD = "Year ahead. What is held against what falls due, month by month. Again: the figures."
_TURN = "Picture into table, and back. Every date, how it is covered, and what is left."
_NO_PICTURE = "y shows the year ahead as a picture; g turns it into its table."
_OPEN = "Open a figure. What it is made of, down to the entries."


class SetAsideRoom(Room):
    """The answer above, the figures left, the strip of due dates beside them; in a wide window the parts too."""

    name_of_room = "set_aside"
    BINDINGS = [
        *keys_of("set_aside")[:-3],
        Binding("y", "see_ahead", "Year ahead", tooltip=_AHEAD),
        Binding("g", "turn", "Table", tooltip=_TURN),
        Binding("enter", "open_figure", "Open", tooltip=_OPEN, key_display="Enter"),
        *keys_of("set_aside")[-3:],
    ]
    DEFAULT_CSS: ClassVar[str] = f"""
    SetAsideRoom #answer {{
        height: auto;
        padding: 0 1;
        background: $panel;
    }}
    SetAsideRoom #figures {{
        width: {_TABLE};
    }}
    SetAsideRoom #strip-frame {{
        width: 1fr;
        padding: 0 1;
    }}
    SetAsideRoom #parts-frame {{
        display: none;
        width: 1fr;
        padding: 0 1;
    }}
    SetAsideRoom.with-parts #strip-frame {{
        max-width: {_WIDEST_STRIP + 4};
    }}
    SetAsideRoom.with-parts #parts-frame {{
        display: block;
    }}
    SetAsideRoom.ahead #strip-frame {{
        max-width: 100%;
    }}
    SetAsideRoom.ahead #figures, SetAsideRoom.ahead #parts-frame {{
        display: none;
    }}
    SetAsideRoom.narrow #beside {{
        layout: vertical;
    }}
    SetAsideRoom.narrow #figures {{
        height: 2fr;
        width: 100%;
    }}
    """

    def lay_out(self) -> Iterator[Widget]:
        self.parts: tuple[Part, ...] = ()
        self.as_table = False
        yield Static("", id="answer", markup=False)
        with Horizontal(id="beside"):
            yield DataTable(id="figures", cursor_type="row", show_header=False)
            with VerticalScroll(id="strip-frame"):
                yield Static("", id="strip", markup=False)
            with VerticalScroll(id="parts-frame"):
                yield Static("", id="parts", markup=False)

    def paint(self) -> None:
        found = read_set_aside(self.books)
        self.query_one("#answer", Static).update(plain_lines(self._answer(found)))
        self._fill(found)
        self.query_one("#strip", Static).update(Content("\n").join(self._beside(found)))
        self._show_keys()
        self.show_selected()

    def _show_keys(self) -> None:
        """The key for a table is worth a place where there is a picture, and Enter where there are figures."""
        keys = [each for each in self.BINDINGS if isinstance(each, Binding) and each.show]
        if self.has_class("ahead"):
            keys.sort(key=lambda each: each.action not in ("see_ahead", "turn"))
        idle = "open_figure" if self.has_class("ahead") else "" if self._has_picture else "turn"
        self.query_one(KeyLine).show_keys([each for each in keys if each.action != idle])

    @property
    def _has_picture(self) -> bool:
        return self.has_class("ahead") or self.has_class("wide")

    def fit(self, size: Size) -> None:
        super().fit(size)
        self.set_class(size.width >= _WITH_PARTS, "with-parts")
        self.set_class(size.width < _NARROW, "narrow")

    def on_data_table_row_selected(self, event: DataTable.RowSelected) -> None:
        self.action_open_figure()

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        self.show_selected()

    def action_see_ahead(self) -> None:
        """The year ahead over the whole room, or the figures again."""
        self.toggle_class("ahead")
        self.query_one("#strip-frame" if self.has_class("ahead") else "#figures").focus()
        self.paint_from_the_top()

    def action_turn(self) -> None:
        """The picture into its table, and back."""
        if not self._has_picture:
            self.twopurse.tell(_NO_PICTURE)
            return
        self.as_table = not self.as_table
        self.paint_from_the_top()

    def action_open_figure(self) -> None:
        """What the selected figure is made of; from the year ahead the way back to the figures."""
        if self.has_class("ahead"):
            self.action_see_ahead()
            return
        part = self._selected_part()
        if part is not None and part.opens is not None:
            self.app.push_screen(PartsPage(part, self.showing))

    def show_selected(self) -> None:
        """The parts of the selected figure, where there is room for them."""
        part = self._selected_part()
        if part is not None and self.has_class("with-parts"):
            self.query_one("#parts", Static).update(plain_lines(part_lines(part, self.showing, self._width_beside())))

    def _width_beside(self) -> int:
        """Cells of a line beside the figures, where strip and parts share the width, or the strip has it alone."""
        if self.has_class("ahead"):
            return self.size.width - 4
        room = self.size.width - (0 if self.has_class("narrow") else _TABLE)
        return min(_WIDEST_STRIP, (room // 2 if self.has_class("with-parts") else room) - 4)

    def _selected_part(self) -> Part | None:
        row = self.query_one("#figures", DataTable).cursor_row
        return self.parts[row] if 0 <= row < len(self.parts) else None

    def _fill(self, found: SetAside) -> None:
        table = self.query_one("#figures", DataTable)
        words, row = self.parts and self.parts[table.cursor_row].words, table.cursor_row
        table.clear(columns=True)
        table.add_column("What", width=_LABELS)
        table.add_column("Amount", width=_FIGURES)
        self.parts = parts_of(self.books, found)
        for each in self.parts:
            amount = "" if each.cents is None else self.showing.plain(each.cents)
            table.add_row(cell_text(each.words), cell_text(amount.rjust(_FIGURES)))
        table.move_cursor(row=self.row_to_select([each.words for each in self.parts], words, row))

    def _answer(self, found: SetAside) -> Iterator[str]:
        amount = self.showing.amount
        if found.short_cents:
            yield f"Short by {amount(found.short_cents)}: nothing is free to draw."
        else:
            label = "Free to draw, before income tax" if found.is_before_income_tax else "Free to draw"
            yield f"{label}: {amount(found.free_cents)}"
        owed, held, to_move = found.owed.total_cents, found.held_cents, found.to_move_cents
        yield f"Owed {amount(owed)} · held {amount(held)} · to move {amount(to_move)}"
        due = found.next_due
        if due is not None:
            takes = amount(due.cents or 0)
            yield f"Next: {due.what}, {self.showing.day(due.day)}, {takes}, {is_there(found, due.cents or 0)}"

    def _beside(self, found: SetAside) -> Iterator[Content]:
        """What stands beside the figures, or in their place: the strip, the picture of the year ahead, or its table."""
        width, height = self._width_beside(), self.size.height - _AROUND - len(list(self._answer(found)))
        lines = AheadLines(self.showing, year_ahead_of(found))
        if self._has_picture and self.as_table:
            yield from map(plain_text, lines.table(width))
        elif self.has_class("ahead"):
            yield from lines.picture(width, height)
        else:
            yield plain_text("Due within a year")
            yield from (plain_text(self._due(due, width)) for due in found.dues)
        if self.has_class("ahead"):
            return
        for note in found.notes:
            yield Content("")
            yield plain_text(note)
        if self.has_class("wide") and not self.as_table:
            yield Content("")
            yield from lines.picture(width, max(_LEAST_PICTURE, height - len(found.dues) - 2 * len(found.notes) - 2))

    def _due(self, due: Due, width: int) -> str:
        day = padded("late" if due.is_late else self.showing.month_day(due.day), 7)
        return paired(f"{day}{due.short}", "-" if due.cents is None else self.showing.plain(due.cents), width)
