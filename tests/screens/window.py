"""A window on the rooms, as a person has it: keys and clicks in, what stands on the screen out."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen
from textual.strip import Strip
from textual.widgets import DataTable, Input

from ledger.books.books import Books
from ledger.screens.app import TwopurseApp
from ledger.screens.forms.field import Field
from ledger.screens.painted_list import PaintedList

SMALL, LARGE = (80, 24), (200, 60)


class Window:
    """An app that runs, with its pilot."""

    def __init__(self, app: App[Any], pilot: Pilot[Any]) -> None:
        self.app = app
        self.pilot = pilot

    @property
    def screen(self) -> Screen[Any]:
        return self.app.screen

    @property
    def place(self) -> str:
        """The name of the class of what is on top: a room, a form, a page."""
        return type(self.screen).__name__

    @property
    def depth(self) -> int:
        return len(self.app.screen_stack)

    async def press(self, *keys: str) -> None:
        await self.pilot.press(*keys)
        await self.settle()

    async def settle(self) -> None:
        """Until nothing is left to do, so that no test depends on how fast the machine is."""
        await self.app.workers.wait_for_complete()
        await self.pilot.pause()
        await self.pilot.pause()

    async def type(self, **values: str) -> None:
        """Put texts into the fields of the form on top, by their names; `_` for `-`."""
        for name, value in values.items():
            field = self.field(name)
            field.input.focus()
            field.input.value = value
            await self.settle()

    async def click(self, words: str) -> None:
        """Click on the first place on the screen where these words stand."""
        for row, line in enumerate(self.lines()):
            if words in line:
                await self.pilot.click(offset=(line.index(words), row))
                await self.settle()
                return
        raise AssertionError(f"«{words}» is nowhere to click on:\n{self.text()}")

    async def resize(self, width: int, height: int) -> None:
        await self.pilot.resize_terminal(width, height)
        await self.settle()

    def field(self, name: str) -> Field:
        fields = {each.asked.name.replace("-", "_"): each for each in self.screen.query(Field)}
        return fields[name]

    def values(self) -> dict[str, str]:
        return {each.asked.name: each.value for each in self.screen.query(Field)}

    def faults(self) -> dict[str, str]:
        """What is said to be wrong beside the fields."""
        shown = {
            each.asked.name: str(each.message.content) for each in self.screen.query(Field) if each.message.display
        }
        return {name: said.removeprefix("! ") for name, said in shown.items()}

    @property
    def strips(self) -> list[Strip]:
        return list(self.screen._compositor.render_strips())

    def lines(self) -> list[str]:
        return [strip.text.rstrip() for strip in self.strips]

    def without_blinking(self) -> None:
        """The cursor of every field stands still, and shows."""
        for each in self.screen.query(Input):
            each.cursor_blink = False

    def text(self) -> str:
        return "\n".join(self.lines())

    def told(self) -> list[str]:
        """The sentences at the edge of the screen, the oldest first."""
        return [each.message for each in self.app._notifications]

    def said_by(self, selector: str) -> str:
        """What a widget shows, as text."""
        return str(self.screen.query_one(selector).render())

    @property
    def list_on_top(self) -> PaintedList | DataTable[Any]:
        """The list of the room or page: one that paints what is in sight, or a table that is read whole."""
        painted = self.screen.query(PaintedList)
        return painted.first() if painted else self.screen.query_one(DataTable)

    def table(self, row: int | None = None) -> list[str]:
        """The cells of a row of the room's table, the selected one where none is named."""
        table = self.list_on_top
        return [str(cell) for cell in table.get_row_at(table.cursor_row if row is None else row)]


@asynccontextmanager
async def opened(
    books: Books, size: tuple[int, int] = SMALL, *, theme: str | None = None, **settings: Any
) -> AsyncIterator[Window]:
    """The rooms in a window, on books that are closed with it."""
    app = TwopurseApp(books, **settings)
    if theme is not None:
        app.theme = theme
    try:
        async with shown(app, size) as window:
            yield window
    finally:
        books.close()


@asynccontextmanager
async def shown(app: App[Any], size: tuple[int, int] = SMALL) -> AsyncIterator[Window]:
    """An app in a window, without anything that blinks or moves."""
    app.animation_level = "none"
    async with app.run_test(size=size, notifications=True) as pilot:
        window = Window(app, pilot)
        await window.settle()
        yield window
