"""The program in the terminal: one app over one books folder, six rooms, and forms over them."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from textual.binding import Binding

from ledger.books.books import Books
from ledger.books.clock import Clock
from ledger.colours import PLAIN, keep_colours, overruled_by
from ledger.errors import Refused
from ledger.screens.doors import room
from ledger.screens.forms.doors import form_of
from ledger.screens.forms.form import Form
from ledger.screens.forms.leaving import Leaving
from ledger.screens.notices import TellingProgram
from ledger.screens.room import Room
from ledger.screens.room_words import in_the_rooms
from ledger.screens.showing import Showing

if TYPE_CHECKING:
    from ledger.actions.find import Finder
    from ledger.books.finding import Found

# Another window may have written; asking costs microseconds.
_LOOK_EVERY_SECONDS = 1.0
_TOLD_WIDTH = 70


class TwopurseApp(TellingProgram):
    """Opened with books that are open already, and closes nothing that it did not open.

    read_clock: what day it is now, asked while the rooms are open; the day of the books stands where it is left out.
    """

    CSS_PATH = "app.tcss"
    TITLE = "Twopurse"
    COMMAND_PALETTE_BINDING = "ctrl+p"
    BINDINGS = [Binding("ctrl+q", "quit", "Quit", show=False, priority=True)]

    def __init__(self, books: Books, read_clock: Callable[[], Clock] | None = None) -> None:
        super().__init__(os.environ)
        self.books = books
        self.showing = Showing(books.settings)
        self._finder: Finder | None = None
        self._read_clock = read_clock or (lambda: books.clock)
        self._seen = books.change_mark()

    def on_mount(self) -> None:
        self.push_screen(room("home"))
        self.set_interval(_LOOK_EVERY_SECONDS, self.look_around)
        if self.books.damage is not None:
            self.tell(f"These books are open to look at only: {self.books.damage}.", "error")

    def look_around(self) -> None:
        """Repaint what is on the screen when another window has written, or a new day has begun."""
        try:
            clock, mark = self._read_clock(), self.books.change_mark()
        except Refused as refused:
            self.tell(str(refused), "error")
            return
        is_another_day = clock.today != self.books.today
        self.books = replace(self.books, clock=clock)
        if mark != self._seen or is_another_day:
            self._seen = mark
            self.repaint_rooms()

    def repaint_rooms(self) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, Room):
                screen.reload()

    def enter(self, name: str, selected: int | str | None = None) -> None:
        """Go into a room from wherever one is; home is below every other. selected: what is to be selected there."""
        while len(self.screen_stack) > 2:
            self.pop_screen()
        if name != "home":
            entered = room(name)
            entered.to_select = selected
            self.push_screen(entered)

    @property
    def chapter_here(self) -> str:
        """The chapter of the guide about the room that one is in."""
        from ledger.guide.chapters import OF_ROOM

        rooms = [each.name_of_room for each in self.screen_stack if isinstance(each, Room)]
        return OF_ROOM[rooms[-1] if rooms else "home"]

    def open_guide(self, chapter: str | None = None, word: str | None = None) -> None:
        """The guide, at the chapter of this room unless another is named, and there at a heading if one is."""
        from ledger.screens.guide_page import GuidePage

        self.push_screen(GuidePage(chapter or self.chapter_here, word))

    def action_explain_page(self) -> None:
        """Help over a page over a room, unless it goes away by itself."""
        from ledger.screens.help import help_of_page

        if getattr(self.screen, "stays", True):
            self.push_screen(help_of_page(self.screen, self.chapter_here))

    def do_here(self, act_id: str) -> None:
        """Do an act on what is selected in the room that one is in."""
        self.do(act_id, self.screen.selected() if isinstance(self.screen, Room) else None)

    def do(self, act_id: str, subject: Any = None) -> None:
        """Open the form of an act, or do it at once where nothing is left to ask. subject: what is selected.

        What was told of the act before is read by then, and out of the way of this one.
        """
        self.clear_notifications()
        try:
            opened = form_of(act_id, self.books, subject)
        except Refused as refused:
            self.tell(in_the_rooms(str(refused)), "warning")
            return
        if isinstance(opened, str):
            self._after_form(opened)
        else:
            if isinstance(opened, Form):
                opened.opened_by = act_id
            self.push_screen(opened, self._after_form)

    def action_colours(self) -> None:
        """The page of the sets of colours, over a room."""
        from ledger.screens.colours_page import ColoursPage

        if isinstance(self.screen, Room):
            self.push_screen(ColoursPage())

    def choose_colours(self, name: str) -> None:
        """These colours at once, and from the next start on, unless a variable decides."""
        deciding = overruled_by(self.environment)
        if deciding == "NO_COLOR" and name != PLAIN.name:
            self.tell("NO_COLOR is set, so no colour is sent. Unset it to choose one.", "warning")
            return
        self.theme = name
        try:
            keep_colours(name)
        except Refused as refused:
            self.tell(f"These colours hold until you leave. {refused}", "warning")
            return
        if deciding is not None:
            self.tell(f"At the next start {deciding} decides again.")

    def show_told(self) -> None:
        """What was told lately, the latest first: to be read again."""
        from ledger.screens.forms.paper_page import PaperPage

        lines = [line for told in reversed(self.told_lately) for line in (*wrap(told, _TOLD_WIDTH), "")]
        self.push_screen(PaperPage("Told lately", lines or ["Nothing was told since you began."]))

    def action_command_palette(self) -> None:
        """Only over a room: from a form one could leave what was typed without being asked."""
        if isinstance(self.screen, Room):
            from ledger.actions.find import Finder
            from ledger.screens.find_page import FindPage

            # What is read once is found again without reading it.
            self._finder = self._finder or Finder()
            self.push_screen(FindPage(self._finder), self._go_to)

    def _go_to(self, found: Found | None) -> None:
        if found is not None:
            from ledger.screens.palette import go_to

            go_to(self, found)

    async def action_quit(self) -> None:
        """Quit, after asking where something is typed in a form."""
        if isinstance(self.screen, Leaving):
            return
        if any(isinstance(screen, Form) and screen.is_changed for screen in self.screen_stack):
            self.push_screen(Leaving(), self._quit)
        else:
            self.exit()

    def _quit(self, sure: bool | None) -> None:
        if sure:
            self.exit()

    def _after_form(self, said: str | None) -> None:
        if said:
            self.tell(said)
        self.repaint_rooms()
