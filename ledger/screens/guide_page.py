"""The guide in the rooms: the list of chapters, one chapter to read, and finding words in all of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from ledger.guide.chapters import CHAPTERS, Found, find, read_chapter
from ledger.guide.markdown import Line, Look, set_lines
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.showing import counted, cut, plain_text

_LIST_CELLS = 44
# From this width on the list stands beside the chapter.
_WIDE = 110
_WIDEST_LINE = 76
# The frame, the space inside it, and the scroll bar.
_AROUND = 7
_LOOKS: dict[Look, str] = {"": "", "key": "bold $secondary", "strong": "bold"}
_MOST_FOUND = 200


class GuidePage(Page[None]):
    """Opened at a chapter; the arrows turn to the next one."""

    KEYS: ClassVar[tuple[Binding, ...]] = (
        Binding("right", "next", "next chapter", key_display="→"),
        Binding("left", "before", "the one before", key_display="←"),
        Binding("c", "contents", "chapters"),
        Binding("slash", "find", "find", key_display="/"),
        Binding("escape", "back", "back", key_display="Esc"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS, Binding("q,question_mark", "close", "Close", show=False)]
    DEFAULT_CSS: ClassVar[str] = f"""
    GuidePage > Vertical {{
        width: 100%;
        max-width: 132;
        height: 100%;
    }}
    GuidePage Horizontal {{
        height: 1fr;
    }}
    GuidePage OptionList {{
        width: {_LIST_CELLS};
        height: 100%;
        background: $surface;
        border: none;
        padding: 0;
        margin-right: 1;
    }}
    GuidePage OptionList > .option-list--option-highlighted {{
        background: $panel;
        color: $foreground;
        text-style: bold;
    }}
    GuidePage OptionList:focus {{
        border: none;
    }}
    GuidePage OptionList:focus > .option-list--option-highlighted {{
        background: $primary;
        color: $background;
    }}
    GuidePage VerticalScroll {{
        width: 1fr;
        height: 100%;
    }}
    GuidePage.narrow OptionList {{
        display: none;
        width: 100%;
        margin: 0;
    }}
    GuidePage.narrow.listing OptionList {{
        display: block;
    }}
    GuidePage.narrow.listing VerticalScroll {{
        display: none;
    }}
    GuidePage KeyLine {{
        dock: bottom;
    }}
    GuidePage Input {{
        display: none;
        background: $panel;
        color: $foreground;
    }}
    GuidePage.finding Input {{
        display: block;
    }}
    """

    def __init__(self, chapter: str, heading: str | None = None) -> None:
        super().__init__()
        self.chapter = chapter
        self.heading = heading
        self.found: list[Found] = []
        # The block that was found last, and the words in it that were looked for.
        self.marked: int | None = None
        self.wanted = heading or ""
        self._lines: list[Line] = []

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Input(placeholder="Find in the guide", compact=True, id="find")
            with Horizontal():
                yield OptionList(id="contents", markup=False)
                with VerticalScroll(id="chapter"):
                    yield Static("", id="text", markup=False)
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self._list_chapters()
        blocks = read_chapter(self.chapter)
        at = (
            n for n, each in enumerate(blocks) if each.kind == "heading" and each.plain.startswith(self.heading or " ")
        )
        # Once the window has its size.
        self.call_after_refresh(self.open, self.chapter, next(at, None))

    def on_resize(self, event: events.Resize) -> None:
        self.set_class(event.size.width < _WIDE, "narrow")
        self._paint()

    def open(self, chapter: str, block: int | None = None) -> None:
        """Show a chapter from its beginning, or from a block of it."""
        self.chapter, self.marked = chapter, block
        self.remove_class("listing")
        self._paint()
        scroll = self.query_one("#chapter", VerticalScroll)
        row = next((at for at, line in enumerate(self._lines) if line.block == block and line.runs), 0)
        # Once the text has its new height.
        self.call_after_refresh(scroll.scroll_to, y=max(0, row - 2) if block else 0, animate=False)
        scroll.focus()

    def action_next(self) -> None:
        self._turn(1)

    def action_before(self) -> None:
        self._turn(-1)

    def _turn(self, by: int) -> None:
        names = list(CHAPTERS)
        self.open(names[(names.index(self.chapter) + by) % len(names)])
        self._list_chapters()

    def action_contents(self) -> None:
        """The list of chapters, to choose one with Enter."""
        self._list_chapters()
        self.add_class("listing")
        self.query_one("#contents").focus()

    def action_find(self) -> None:
        self.add_class("finding", "listing")
        field = self.query_one(Input)
        field.focus()
        self._list_found(field.value)

    def action_back(self) -> None:
        """Out of finding and out of the list first, then out of the guide."""
        if self.has_class("finding") or (self.has_class("listing") and self.has_class("narrow")):
            self.remove_class("finding", "listing")
            self._list_chapters()
            self.query_one("#chapter").focus()
        else:
            self.dismiss(None)

    def action_close(self) -> None:
        self.dismiss(None)

    def on_input_changed(self, event: Input.Changed) -> None:
        self._list_found(event.value)

    def on_input_submitted(self) -> None:
        """The first place that was found; with the arrows one goes to the others."""
        if self.found:
            self.query_one("#contents").focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        if self.has_class("finding") and self.found:
            place = self.found[event.option_index]
            self.remove_class("finding")
            self.wanted = self.query_one(Input).value
            self.open(place.chapter, place.block)
        else:
            self.open(list(CHAPTERS)[event.option_index])

    def _list_chapters(self) -> None:
        contents = self.query_one(OptionList)
        contents.clear_options()
        contents.add_options([Option(plain_text(title)) for title in CHAPTERS.values()])
        contents.highlighted = list(CHAPTERS).index(self.chapter)

    def _list_found(self, words: str) -> None:
        """The places where the words stand, each with what it says; the chapters while nothing is typed."""
        if not words.strip():
            self.found = []
            self._list_chapters()
            return
        self.found = [each for _, each in zip(range(_MOST_FOUND), find(words), strict=False)]
        contents = self.query_one(OptionList)
        contents.clear_options()
        width = max(20, (self.size.width - _AROUND) if self.has_class("narrow") else _LIST_CELLS - 2)
        contents.add_options([Option(plain_text(cut(_told(each), width))) for each in self.found])
        contents.highlighted = 0 if self.found else None
        self.query_one(Vertical).border_subtitle = plain_text(counted(len(self.found), "place"))

    def _paint(self) -> None:
        frame = self.query_one(Vertical)
        frame.border_title = plain_text(f"Guide: {CHAPTERS[self.chapter]}")
        frame.border_subtitle = plain_text(f"{list(CHAPTERS).index(self.chapter) + 1} of {len(CHAPTERS)}")
        beside = 0 if self.has_class("narrow") else _LIST_CELLS + 1
        width = max(30, min(_WIDEST_LINE, min(self.size.width, 132) - beside - _AROUND))
        # The title stands in the frame.
        blocks = read_chapter(self.chapter)
        self._lines = [line for line in set_lines(blocks, width) if line.block or blocks[0].kind != "title"][1:]
        self.query_one("#text", Static).update(Content("\n").join(self._painted()))

    def _painted(self) -> Iterator[Content]:
        # Words are found in the heading of a block too.
        before = range(self.marked or 0)
        headings = (each for each in reversed(before) if read_chapter(self.chapter)[each].kind == "heading")
        marked = {self.marked, next(headings, None)} - {None}
        for line in self._lines:
            words = Content("").join(Content.styled(each.text, _LOOKS[each.look]) for each in line.runs)
            if line.kind == "heading":
                words = words.stylize("bold $primary")
            elif line.kind == "commands":
                words = words.stylize("$secondary")
            for each in _places(self.wanted, words.plain) if line.block in marked else ():
                words = words.stylize("bold reverse", *each)
            yield words


def _places(wanted: str, said: str) -> Iterator[tuple[int, int]]:
    """Where each of the words stands in a line, from its first letter to after its last."""
    for word in wanted.split():
        for found in re.finditer(re.escape(word), said, re.IGNORECASE):
            yield found.span()


def _told(place: Found) -> str:
    """What stands at the place, with its heading before it; of the names of a word the first."""
    heading = place.heading.partition(", ")[0] if place.chapter == "words" else place.heading
    return f"{heading}: {place.words}" if heading else place.words
