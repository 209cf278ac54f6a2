"""Home: six blocks, set like a quilt, each a live figure and a door."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any, ClassVar

from textual import events
from textual.containers import Grid
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import Static

from ledger.screens.doors import DOORS, Door
from ledger.screens.figures import Telling
from ledger.screens.room import Room, keys_of
from ledger.screens.showing import cut, padded, plain_lines
from ledger.screens.what_next import what_next

# Half-square triangles along the foot of each block, so that six of them read as one quilt.
_PATCH = "◢◤◢◤"
# Below this size the blocks stand without anything between them.
_ROOMY = Size(76, 22)
# Below this height the next step is told alone; with every so many rows more, one more.
_LOW, _ROWS_A_STEP = 18, 3
# From this height on the blocks keep their distance below the steps too.
_HIGH = 30
# Cells of the keys, and of frame and margin beside the steps.
_KEYS, _BESIDE = 10, 8


class Block(Static, can_focus=True):
    """One block: the door's name, what the books say, opened by its digit, Enter or a click."""

    def __init__(self, to: Door) -> None:
        super().__init__("", id=f"block-{to.name}", markup=False)
        self.to = to
        self.border_title = Content(f" {to.digit} {to.title} ")
        self.border_subtitle = Content(_PATCH)

    def on_resize(self) -> None:
        """What it says depends on how much fits."""
        room = self.screen
        assert isinstance(room, HomeRoom)
        room.say_refusal_of(partial(room.paint_block, self))

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.open()

    def key_enter(self) -> None:
        self.open()

    def open(self) -> None:
        room = self.screen
        assert isinstance(room, HomeRoom)
        room.action_enter(self.to.name)


class HomeRoom(Room):
    """The first screen."""

    name_of_room = "home"
    BINDINGS = keys_of("home")
    DEFAULT_CSS: ClassVar[str] = """
    HomeRoom #quilt {
        grid-size: 3 2;
        grid-gutter: 1 2;
        padding: 1 2;
        height: 1fr;
    }
    HomeRoom.begins #quilt {
        padding: 0 2 1 2;
    }
    HomeRoom.begins.low #quilt {
        padding: 0 2;
        grid-gutter: 0 2;
    }
    HomeRoom #next {
        height: auto;
        margin: 1 2 0 2;
        border: round $primary;
        border-title-color: $primary;
        border-title-style: bold;
        padding: 0 1;
    }
    HomeRoom.low #next {
        margin: 0 2;
    }
    HomeRoom.tight #next {
        margin: 0;
        border: none;
    }
    HomeRoom.tight #quilt {
        grid-gutter: 0;
        padding: 0;
    }
    HomeRoom Block {
        height: 100%;
        border: round $secondary;
        border-title-color: $primary;
        border-title-style: bold;
        border-subtitle-color: $secondary;
        background: $surface;
        padding: 0 1;
    }
    HomeRoom #block-bench, HomeRoom #block-machine, HomeRoom #block-quarter {
        background: $panel;
    }
    HomeRoom.tight Block {
        padding: 0;
    }
    HomeRoom Block:focus {
        border: double $primary;
    }
    """

    def lay_out(self) -> Iterator[Widget]:
        yield Static("", id="next", markup=False)
        with Grid(id="quilt"):
            for each in DOORS:
                if each.digit:
                    yield Block(each)

    def paint(self) -> None:
        self._tell_what_is_next()
        for block in self.query(Block):
            self.paint_block(block)

    def _tell_what_is_next(self) -> None:
        """In new books, the steps up to the first pickup; nothing once the workshop runs."""
        steps = what_next(self.books)
        place, most = self.query_one("#next", Static), 1 + max(0, self.size.height - _LOW) // _ROWS_A_STEP
        place.border_title = Content(" What to do next ")
        told = [f"{padded(each.keys, _KEYS)}{each.words}" for each in steps[:most]]
        if not self.has_class("tight"):
            told = [cut(each, self.size.width - _BESIDE) for each in told]
        place.update(plain_lines(told))
        place.display = bool(steps)
        self.set_class(bool(steps), "begins")
        self.set_class(self.size.height < _HIGH and not self.has_class("tight"), "low")

    def paint_block(self, block: Block) -> None:
        """Nothing before it has its size, which comes with a paint of its own."""
        size = block.content_size
        if size.width and size.height:
            told = Telling(self.books, self.showing, size.width).tell(block.to.name)
            block.update(plain_lines(told.fitting(size.height)))

    def fit(self, size: Size) -> None:
        super().fit(size)
        self.set_class(size.width < _ROOMY.width or size.height < _ROOMY.height, "tight")

    def on_key(self, event: events.Key) -> None:
        """Arrows go from block to block."""
        step: dict[str, int] = {"left": -1, "right": 1, "up": -3, "down": 3}
        if event.key in step:
            blocks: list[Any] = list(self.query(Block))
            place = blocks.index(self.focused) if self.focused in blocks else 0
            blocks[(place + step[event.key]) % len(blocks)].focus()
            event.stop()
