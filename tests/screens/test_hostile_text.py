"""Text from outside is shown as text: through every field, in every room, whatever it tries to be."""

from __future__ import annotations

import sqlite3
from collections import deque
from collections.abc import Callable
from pathlib import Path

import pytest
from textual.widgets import Input

from ledger.actions.answers import AnswerRequest
from ledger.actions.answers import perform as answer
from ledger.books.books import Books
from ledger.books.places import BOOKS_FILE
from ledger.screens.begin import BeginApp
from ledger.screens.forms.field import Field
from tests import workshop as w
from tests.screens.hostile import KEPT_NAMES, STRINGS, clickable_actions, links, what_a_terminal_would_obey
from tests.screens.small_books import TODAY, take_in_piece
from tests.screens.window import Window, opened, shown

OTHER_FORMS = {
    "pickup": ("p", "enter"),
    "new job": ("n",),
    "deposit": ("1", "d"),
    "draw": ("2", "w"),
    "undo": ("2", "u"),
    "answer": ("6", "a"),
}


def has_only_text(window: Window) -> None:
    assert what_a_terminal_would_obey(window) == []
    assert links(window) == set()
    assert "app.quit" not in clickable_actions(window) or window.place == "HomeRoom"


async def put_through(window: Window, check: Callable[[], object]) -> None:
    """Every string through the fields on top in eight rounds, several in one field where there are few of them."""
    fields = list(window.screen.query(Field))
    waiting = deque(STRINGS)
    while waiting:
        for field in fields:
            together = [waiting.popleft() for _ in range(-(-len(STRINGS) // (8 * len(fields)))) if waiting]
            field.input.value = " ".join(together)
        check()
        await window.settle()
        has_only_text(window)


@pytest.mark.parametrize("form", ["spend", *(pytest.param(each, marks=pytest.mark.slow) for each in OTHER_FORMS)])
async def test_every_string_goes_through_a_forms_fields_as_text(books: Books, form: str) -> None:
    async with opened(books) as window:
        await window.press(*OTHER_FORMS.get(form, ("s",)))
        place = window.place
        await put_through(window, window.screen.check)  # type: ignore[attr-defined]
        assert window.place == place
        assert not window.app._exit


async def test_every_string_goes_through_the_six_questions_as_text(tmp_path: Path) -> None:
    app = BeginApp(tmp_path / "books", w.clock_of(TODAY), {})
    async with shown(app) as window:
        await put_through(window, app.action_begin)
        assert not (tmp_path / "books").exists()


@pytest.mark.slow
async def test_every_string_can_be_looked_for(books: Books) -> None:
    async with opened(books) as window:
        await window.press("slash")
        for text in STRINGS[-25:]:
            window.screen.query_one(Input).value = text
            await window.settle()
        assert window.place == "CommandPalette"


async def test_names_and_words_that_look_like_markup_stand_in_every_room_as_they_were_typed(books: Books) -> None:
    for number, name in enumerate(KEPT_NAMES):
        keep(books, number, name)
    async with opened(books, (110, 40)) as window:
        for digit in ("escape", *"123456"):
            await window.press(digit)
            has_only_text(window)
        await window.press("1")
        rows = [" ".join(window.table(row)) for row in range(len(window.screen.jobs))]  # type: ignore[attr-defined]
        assert [name for name in KEPT_NAMES if not any(name in row for row in rows)] == []
        for _ in range(8):
            await window.press("down")
            has_only_text(window)
        await window.press("escape", "p")
        await window.click("[@click=app.quit]")
        assert not window.app._exit
        has_only_text(window)


def keep(books: Books, number: int, name: str) -> None:
    """A job, a receipt and an answer by this name; no name of a person may hold an equals sign."""
    take_in_piece(books, f"Buyer {number}", name, 50, 60, ("Binding",), condition=name, may_collect=name)
    w.spent(books, "1.00", "thread", "checking", why=name)
    answer(books, AnswerRequest("power", name, name, reference=name, note=name))
    if "=" not in name and any(each.isalnum() for each in name):
        take_in_piece(books, name, "Star", 50, 60, ("Binding",))


@pytest.mark.slow
async def test_books_that_somebody_changed_by_hand_reach_the_terminal_as_text_too(books: Books) -> None:
    """Raw escape sequences in the file itself: the books open to look at only, and every room shows marks."""
    folder = books.folder
    books.close()
    raw = "\x1b]0;gone\x07\x1b[31m[@click=app.quit]\u202e\x9b2J"
    connection = sqlite3.connect(folder / BOOKS_FILE)
    for (trigger,) in connection.execute("select name from sqlite_schema where type = 'trigger'").fetchall():
        connection.execute(f"drop trigger {trigger}")
    for table, column in (("party_detail", "name"), ("job", "piece"), ("entry", "text"), ("account", "name")):
        connection.execute(f"update {table} set {column} = ? || {column}", (raw,))
    connection.execute("update price set name = ? || name", (raw,))
    connection.commit()
    connection.close()
    damaged = w.reopened(folder, TODAY)
    assert damaged.damage is not None
    async with opened(damaged, (110, 40)) as window:
        for keys in (
            ("1",),
            ("2",),
            ("3",),
            ("4",),
            ("5",),
            ("6",),
            ("escape", "p"),
            ("enter",),
            ("escape", "n"),
            ("escape", "s"),
        ):
            await window.press(*keys)
            has_only_text(window)
            assert not window.app._exit
