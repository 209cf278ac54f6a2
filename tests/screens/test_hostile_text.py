"""Text from outside is shown as text: through every field, in every room, whatever it tries to be."""

from __future__ import annotations

import sqlite3
from collections import deque
from collections.abc import Callable
from pathlib import Path

import pytest
from textual.widgets import Input

from ledger.actions.act import Act
from ledger.actions.answers import AnswerRequest
from ledger.actions.answers import perform as answer
from ledger.actions.registry import ACTS
from ledger.books.books import Books
from ledger.books.places import BOOKS_FILE
from ledger.screens.begin import BeginApp
from ledger.screens.forms.field import Field
from ledger.screens.forms.form import Form
from tests import workshop as w
from tests.screens.conftest import OpenBooks
from tests.screens.ended_books import BY_CHECK, begin_ended
from tests.screens.hostile import KEPT_NAMES, STRINGS, clickable_actions, links, what_a_terminal_would_obey
from tests.screens.small_books import OWING, READY, TODAY, take_in_piece
from tests.screens.window import Window, opened, shown

# The job that is selected for an act of the Bench, and the acts that are done with nothing to be typed.
JOBS = {
    **dict.fromkeys(("refund", "returned_check", "void", "retax"), BY_CHECK),
    **dict.fromkeys(("take_balance", "give_up"), OWING),
    **dict.fromkeys(("take_deposit", "call_off", "hand_back", "add_work", "send_notice", "pick_up"), READY),
}
NOTHING_TO_TYPE = {"bring_in", "make_ready", "give_back", "print_account", "print_quote", "worksheet"}
OF_THE_ROOMS = [each for each in ACTS if each.rooms and each.key and each.id not in NOTHING_TO_TYPE]


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


async def test_every_string_goes_through_a_forms_fields_as_text(books: Books) -> None:
    async with opened(books) as window:
        await window.press("s")
        await put_through(window, window.screen.check)  # type: ignore[attr-defined]
        assert window.place == "SpendForm"
        assert not window.app._exit


@pytest.mark.slow
@pytest.mark.parametrize("act", OF_THE_ROOMS, ids=lambda act: act.id)
async def test_every_string_goes_through_the_fields_of_every_act_as_text(open_copy: OpenBooks, act: Act) -> None:
    async with opened(open_copy(begin_ended)) as window:
        window.app.enter(act.rooms[-1] if act.id not in JOBS else "bench", JOBS.get(act.id))  # type: ignore[attr-defined]
        await window.settle()
        await window.press(str(act.key))
        form = window.screen
        if not isinstance(form, Form):
            assert act.id not in JOBS, window.told()
            pytest.skip(f"not in these books: {window.told()}")
        await put_through(window, form.check)
        assert window.screen is form
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
        assert window.place == "FindPage"


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
