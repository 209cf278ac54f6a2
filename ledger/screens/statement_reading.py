"""A long statement being read: how far it is, and a key that stops it, after which nothing of it is kept."""

from __future__ import annotations

from threading import Event
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import ProgressBar, Static

from ledger.actions import read_statement
from ledger.actions.read_statement import ReadRequest
from ledger.books.books import Books
from ledger.books.opening import open_books
from ledger.errors import Refused
from ledger.screens.forms.read_statement import told
from ledger.screens.keys import KeyLine
from ledger.screens.page import Page
from ledger.screens.room_words import in_the_rooms
from ledger.screens.showing import plain_text


class _Stopped(Exception):
    """She stopped it; the transaction is rolled back by that."""


class ReadingPage(Page[str | None]):
    """The reading goes on in a thread of its own, with books that it opens itself."""

    # It closes once the file is read, and nothing may lie over it then.
    stays: ClassVar[bool] = False
    KEYS: ClassVar[tuple[Binding, ...]] = (Binding("escape", "stop", "stop", key_display="Esc"),)
    BINDINGS: ClassVar[list[BindingType]] = [*KEYS]
    DEFAULT_CSS: ClassVar[str] = """
    ReadingPage > Vertical {
        width: 60;
    }
    """

    def __init__(self, books: Books, request: ReadRequest) -> None:
        super().__init__()
        self.books, self.request = books, request
        self._is_to_stop = Event()

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static(plain_text(f"Reading {self.request.file.name}"), markup=False)
            yield ProgressBar(total=None, show_eta=False)
            yield KeyLine(self.KEYS)

    def on_mount(self) -> None:
        self.read()

    def action_stop(self) -> None:
        self._is_to_stop.set()

    @work(thread=True, exclusive=True)
    def read(self) -> None:
        """All of it or nothing."""
        try:
            books = open_books(self.books.folder, self.books.clock)
            try:
                said = told(read_statement.perform(books, self.request, self._tell))
            finally:
                books.close()
        except _Stopped:
            said = "Stopped. Nothing of the statement was kept."
        except Refused as refused:
            said = in_the_rooms(str(refused))
        self.app.call_from_thread(self._end, said)

    def _tell(self, done: int, total: int) -> None:
        if self._is_to_stop.is_set():
            raise _Stopped
        self.app.call_from_thread(self._show, done, total)

    def _show(self, done: int, total: int) -> None:
        self.query_one(ProgressBar).update(total=total, progress=done)

    def _end(self, said: str) -> None:
        self.twopurse.tell(said)
        self.dismiss(None)
        for screen in self.app.screen_stack:
            paint = getattr(screen, "paint", None)
            if paint is not None and screen is not self:
                paint()
