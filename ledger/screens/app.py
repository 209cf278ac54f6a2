"""The program in the terminal: one app over one books folder, six rooms, and forms over them."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import partial
from typing import Any

from textual.binding import Binding
from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.content import Content

from ledger.actions.registry import ACTS, act
from ledger.books.books import Books
from ledger.errors import Refused
from ledger.screens.doors import DOORS, room
from ledger.screens.forms.doors import form_of
from ledger.screens.key_order import KeysInOrder
from ledger.screens.showing import Showing, plain_text
from ledger.screens.themes import THEMES, default_theme

# Another window may have written; asking costs microseconds.
_LOOK_EVERY_SECONDS = 1.0


class TwopurseApp(KeysInOrder):
    """Opened with books that are open already, and closes nothing that it did not open."""

    CSS_PATH = "app.tcss"
    TITLE = "Twopurse"
    COMMANDS = {lambda: ActsAndRooms}
    COMMAND_PALETTE_BINDING = "ctrl+p"
    BINDINGS = [
        Binding("ctrl+q", "quit", "Quit", show=False, priority=True),
        Binding("slash", "command_palette", "Find", show=False),
    ]

    def __init__(self, books: Books) -> None:
        super().__init__(ansi_color=False)
        self.books = books
        self.showing = Showing(books.settings)
        self._seen = books.change_mark()
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = default_theme(os.environ)

    def on_mount(self) -> None:
        self.push_screen(room("home"))
        self.set_interval(_LOOK_EVERY_SECONDS, self.look_for_changes)
        if self.books.damage is not None:
            self.tell(f"These books are open to look at only: {self.books.damage}.", "error")

    def look_for_changes(self) -> None:
        """Repaint what is on the screen when another window has written."""
        mark = self.books.change_mark()
        if mark != self._seen:
            self._seen = mark
            self.repaint_rooms()

    def repaint_rooms(self) -> None:
        for screen in self.screen_stack:
            reload = getattr(screen, "reload", None)
            if reload is not None:
                reload()

    def tell(self, sentence: str, severity: str = "information") -> None:
        """A sentence at the edge of the screen. Text in it is text."""
        self.notify(str(plain_text(sentence)), severity=severity, markup=False)  # type: ignore[arg-type]

    def enter(self, name: str) -> None:
        """Go into a room from wherever one is; home is below every other."""
        while len(self.screen_stack) > 2:
            self.pop_screen()
        if name != "home":
            self.push_screen(room(name))

    def do(self, act_id: str, subject: Any = None) -> None:
        """Open the form of an act, or do it at once where nothing is left to ask. subject: what is selected."""
        try:
            form = form_of(act_id, self.books, subject)
        except Refused as refused:
            self.tell(str(refused), "warning")
            return
        if form is None:
            self.repaint_rooms()
        else:
            self.push_screen(form, self._after_form)

    def _after_form(self, said: str | None) -> None:
        if said:
            self.tell(said)
        self._seen = self.books.change_mark()
        self.repaint_rooms()


class ActsAndRooms(Provider):
    """The palette: rooms and acts, found by any part of their words."""

    async def discover(self) -> Hits:
        for words, help_text, run in self._rows():
            yield DiscoveryHit(Content(words), run, words, help_text)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for words, help_text, run in self._rows():
            score = matcher.match(words)
            if score > 0:
                yield Hit(score, Content(words), run, words, help_text)

    def _rows(self) -> list[tuple[str, str, Callable[[], None]]]:
        app = self.app
        assert isinstance(app, TwopurseApp)
        rows: list[tuple[str, str, Callable[[], None]]] = [
            (each.title, each.purpose, partial(app.enter, each.name)) for each in DOORS
        ]
        rows += [(each.words, act(each.id).help, partial(app.do, each.id)) for each in ACTS]
        return rows
