"""A list of which only the lines in sight are read and painted: ten lines or a hundred thousand come up alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar, cast

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from ledger.errors import Refused
from ledger.lists.lines import Lines
from ledger.lists.listing import Column, Line
from ledger.screens.list_cells import set_in, shown_cells

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp

# Lines that are read together.
_PAGE = 64
_HEAD_LINES = 1


class PaintedList(ScrollView, can_focus=True):
    """A head, lines below it, and one of them under the cursor. columns: the painted ones, at their widths."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(-1)", "Up", show=False),
        Binding("down", "move(1)", "Down", show=False),
        Binding("pageup", "turn_page(-1)", "Page up", show=False),
        Binding("pagedown", "turn_page(1)", "Page down", show=False),
        Binding("home,ctrl+home", "first", "First", show=False),
        Binding("end,ctrl+end", "last", "Last", show=False),
        Binding("enter", "choose", "Choose", show=False),
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = {"painted-list--head", "painted-list--cursor"}
    DEFAULT_CSS: ClassVar[str] = """
    PaintedList {
        background: $background;
        color: $foreground;
        height: 1fr;
        overflow-x: hidden;
    }
    PaintedList > .painted-list--head {
        background: $panel;
        color: $foreground;
        text-style: bold;
    }
    PaintedList > .painted-list--cursor {
        background: $primary;
        color: $background;
    }
    """

    class Moved(Message):
        """The cursor went to another line, or another line came under it."""

    class Chosen(Message):
        """Enter, or a click on the line under the cursor."""

    class HeadClicked(Message):
        """column: its place among all columns of the list."""

        def __init__(self, column: int) -> None:
            super().__init__()
            self.column = column

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self.lines: Lines | None = None
        self.widths: Sequence[int] = ()
        self.cursor_row = 0
        self._pages: dict[int, Sequence[Line]] = {}

    @property
    def count(self) -> int:
        return self.lines.count if self.lines is not None else 0

    @property
    def painted(self) -> list[tuple[int, Column, int]]:
        """The painted columns: place among all, column and width in cells."""
        columns = self.lines.columns if self.lines is not None else ()
        with_width = [(place, each) for place, each in enumerate(columns) if each.width]
        return [(place, each, width) for (place, each), width in zip(with_width, self.widths, strict=True)]

    def show(self, lines: Lines, widths: Sequence[int], row: int) -> None:
        """Other lines than before, with the cursor in a row."""
        self.lines, self.widths, self._pages = lines, widths, {}
        self.virtual_size = Size(sum(widths) + 2 * len(widths), self.count + _HEAD_LINES)
        self.cursor_row = max(0, min(row, self.count - 1))
        self.keep_in_sight()
        self.refresh()

    def line_at(self, row: int) -> Line | None:
        """The line that stands in a row as it was read for painting, None beyond the last."""
        if self.lines is None or not 0 <= row < self.count:
            return None
        number, place = divmod(row, _PAGE)
        if number not in self._pages:
            self._pages[number] = self.lines.page(number * _PAGE, _PAGE)
        page = self._pages[number]
        return page[place] if place < len(page) else None

    def get_row_at(self, row: int) -> tuple[str, ...]:
        """The painted cells of a row, none beyond the last."""
        line = self.line_at(row)
        if line is None or self.lines is None:
            return ()
        return shown_cells(line, self.lines.columns, cast("TwopurseApp", self.app).showing)

    def move_to(self, row: int) -> None:
        """Put the cursor on a row, in sight."""
        self.cursor_row = max(0, min(row, self.count - 1))
        self.keep_in_sight()
        self.refresh()
        self.post_message(self.Moved())

    def keep_in_sight(self) -> None:
        height = self.size.height - _HEAD_LINES
        if height < 1:
            return
        top = round(self.scroll_y)
        wanted = min(max(top, self.cursor_row - height + 1), self.cursor_row)
        if wanted != top:
            self.scroll_to(y=wanted, animate=False, force=True)

    def render_line(self, y: int) -> Strip:
        width = self.size.width
        if y < _HEAD_LINES:
            style = self.get_component_rich_style("painted-list--head")
            return self._strip([each.label for _, each, _ in self.painted], style, width)
        row = self.scroll_offset.y + y - _HEAD_LINES
        name = "painted-list--cursor" if row == self.cursor_row and row < self.count else None
        style = self.get_component_rich_style(name) if name else self.rich_style
        try:
            return self._strip(self.get_row_at(row), style, width)
        except Refused as refused:
            # The disk may fail at any line; what it reports is told, and the line stays empty.
            self._pages[row // _PAGE] = ()
            cast("TwopurseApp", self.app).tell(str(refused), "error")
            return Strip.blank(width, self.rich_style)

    def _strip(self, cells: Sequence[str], style: Style, width: int) -> Strip:
        # Beyond the last line there are no cells.
        beside = zip(cells, self.painted, strict=False)
        parts = [f" {set_in(cell, wide, column.kind)} " for cell, (_, column, wide) in beside]
        return Strip([Segment("".join(parts), style)]).adjust_cell_length(width, style)

    def on_resize(self) -> None:
        self.keep_in_sight()

    def on_click(self, event: events.Click) -> None:
        if event.y < _HEAD_LINES:
            end = 0
            for place, _, width in self.painted:
                end += width + 2
                if event.x < end:
                    self.post_message(self.HeadClicked(place))
                    return
            return
        row = round(self.scroll_offset.y) + event.y - _HEAD_LINES
        if row < self.count:
            was_there = row == self.cursor_row
            self.move_to(row)
            if was_there:
                self.post_message(self.Chosen())

    def action_move(self, rows: int) -> None:
        self.move_to(self.cursor_row + rows)

    def action_turn_page(self, pages: int) -> None:
        self.move_to(self.cursor_row + pages * max(1, self.size.height - _HEAD_LINES))

    def action_first(self) -> None:
        self.move_to(0)

    def action_last(self) -> None:
        self.move_to(self.count - 1)

    def action_choose(self) -> None:
        self.post_message(self.Chosen())
