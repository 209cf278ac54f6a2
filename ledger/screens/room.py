"""What every room shares: its title line, its keys out of the table of acts, its help, and reading the books anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.geometry import Size
from textual.screen import Screen
from textual.widgets import Static

from ledger.actions.registry import acts_of_room
from ledger.errors import Refused
from ledger.screens.doors import DOORS, door
from ledger.screens.keys import KeyLine
from ledger.screens.list_cells import fitting_widths
from ledger.screens.showing import plain_text, too_small

if TYPE_CHECKING:
    from ledger.books.books import Books
    from ledger.lists.listing import Column
    from ledger.screens.app import TwopurseApp
    from ledger.screens.showing import Showing

SMALLEST_WIDTH, SMALLEST_HEIGHT = 60, 18
WIDE = 110
# A name is long enough then.
_MOST_BESIDE_LAST = 12


def keys_of(name: str) -> list[BindingType]:
    """The keys of a room: its acts, the doors, help and back."""
    keys: list[BindingType] = [
        Binding(each.key, f"act('{each.id}')", each.words, show=not each.is_rare)
        for each in acts_of_room(name)
        if each.key
    ]
    keys += [Binding(each.digit, f"enter('{each.name}')", each.title, show=False) for each in DOORS if each.digit]
    keys.append(Binding("f3", "app.colours", "Colours", show=False, key_display="F3"))
    keys.append(Binding("f1", "explain", "Help", show=False, key_display="F1"))
    keys.append(Binding("slash", "app.command_palette", "Find", key_display="/"))
    keys.append(Binding("question_mark", "explain", "Help", key_display="?"))
    if name == "home":
        keys.append(Binding("q", "app.quit", "Quit"))
    else:
        keys.append(Binding("escape", "home", "Home", key_display="Esc"))
    return keys


class Room(Screen[None]):
    """One room. `name_of_room` says which; `lay_out` yields its widgets; `paint` fills them from the books."""

    name_of_room: ClassVar[str] = ""
    # From how many cells on the room is laid out for a wide window.
    wide_from: ClassVar[int] = WIDE
    # The number of what is to be selected when the room opens, of an item its name.
    to_select: int | str | None = None

    @property
    def twopurse(self) -> TwopurseApp:
        return cast("TwopurseApp", self.app)

    @property
    def books(self) -> Books:
        return self.twopurse.books

    @property
    def showing(self) -> Showing:
        return self.twopurse.showing

    def compose(self) -> ComposeResult:
        yield Static(id="room-title", markup=False)
        with Vertical(id="room-body"):
            yield from self.lay_out()
        yield Static(too_small(SMALLEST_WIDTH, SMALLEST_HEIGHT), id="too-small", markup=False)
        yield KeyLine([each for each in self.BINDINGS if isinstance(each, Binding)])

    def lay_out(self) -> Iterator[Any]:
        """The widgets of the room."""
        raise NotImplementedError

    def paint(self) -> None:
        """Fill the widgets from the books. Raises Refused for what the disk reports."""
        raise NotImplementedError

    def selected(self) -> Any:
        """What an act of this room would be about: a job, an entry, an item; None where nothing is selected."""
        return None

    def on_resize(self, event: events.Resize) -> None:
        """The first paint comes from here too: a room has its size before it is seen."""
        self.fit(event.size)
        self.reload()

    def fit(self, size: Size) -> None:
        """Lay out for a window of this size."""
        self.set_class(size.width < SMALLEST_WIDTH or size.height < SMALLEST_HEIGHT, "small")
        self.set_class(size.width >= self.wide_from, "wide")

    def reload(self) -> None:
        """Read the books again and paint what they say; where the window is too small, once it has grown."""
        title = door(self.name_of_room).title
        day = self.showing.day(self.books.today)
        self.query_one("#room-title", Static).update(plain_text(f" {self.books.settings.name} · {title} · {day}"))
        if not self.has_class("small"):
            self.say_refusal_of(self.paint)

    def paint_from_the_top(self) -> None:
        """Read the books again, and show every part of the room from its beginning."""
        self.reload()
        for each in self.query(VerticalScroll):
            each.scroll_home(animate=False)

    def say_refusal_of(self, paint: Callable[[], None]) -> None:
        """Paint, or say what keeps the books from being read: what the disk reports, or other books in their place."""
        try:
            paint()
        except Refused as refused:
            self.twopurse.tell(str(refused), "error")

    def row_to_select(self, keys: Sequence[object], before: object, row: int) -> int:
        """Where the cursor goes after the lists were read anew: to what was selected `before`, else to the same row.

        Another window may have moved everything, and the next key must not act on a neighbour.
        """
        return keys.index(before) if before in keys else max(0, min(row, len(keys) - 1))

    def action_list(self) -> None:
        """What can be done in the list of the room."""
        from ledger.screens.arranged_list import ArrangedList

        self.query_one(ArrangedList).open_keys()

    def columns(self, *wanted: Column, beside: int) -> list[int]:
        """The widths of a list's columns, in all as wide as the window: what it has beyond them goes to the last two,
        most to the last.

        beside: the cells that what stands beside the table takes where the window is wide.
        """
        width = self.size.width - (beside if self.size.width >= self.wide_from else 0)
        widths = fitting_widths(wanted, width - 2)
        spare = max(0, width - sum(widths) - 2 * len(wanted) - 2)
        beside_last = min(spare // 2, _MOST_BESIDE_LAST)
        widths[-2] += beside_last
        widths[-1] += spare - beside_last
        return widths

    def action_act(self, act_id: str) -> None:
        self.twopurse.do(act_id, self.selected())

    def action_enter(self, name: str) -> None:
        self.twopurse.enter(name)

    def action_home(self) -> None:
        """One step back: a filter is lifted before the room is left."""
        from ledger.screens.arranged_list import ArrangedList

        if not any(each.lift_filter() for each in self.query(ArrangedList)):
            self.twopurse.enter("home")

    def action_explain(self) -> None:
        from ledger.screens.help import help_of_room

        of_every_room = keys_of(self.name_of_room)
        own = [each for each in self.BINDINGS if isinstance(each, Binding) and each not in of_every_room]
        own_keys = [(each.key_display or each.key, each.tooltip or each.description) for each in own]
        self.app.push_screen(help_of_room(self.name_of_room, own_keys))
