"""Commands for her own hand on the set-up list: add, reword, move, hide, show again, and what is new."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from checklists.item import Item
from checklists.own_acts import ROUNDS, PlaceRequest, WordsRequest
from checklists.records import read_catalogue_of, read_standings
from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands import items_shown as shown
from ledger.commands.manners import Answer, Command, Session, answers

_Function = Callable[..., Any]
_WORDS = (
    click.option("--why", metavar="TEXT", help="Why it matters."),
    click.option("--ask", metavar="OFFICE", help="The kind of office or person to ask."),
    click.option("--question", "questions", metavar="TEXT", multiple=True, help="A question to put; may be repeated."),
    click.option("--keep", metavar="TEXT", help="What proof to keep."),
    click.option("--every", type=click.Choice([*ROUNDS, "never"]), help="How often an item of your own comes round."),
)
_PLACE = (
    click.option("--before", metavar="ITEM", help="Before this item."),
    click.option("--after", metavar="ITEM", help="After this item."),
    click.option("--stage", metavar="STAGE", help="At the end of this stage: 1, 2, 3 or its name."),
    click.option("--first", is_flag=True, help="At the beginning of the stage."),
)


def _with(options: tuple[Callable[[_Function], _Function], ...]) -> Callable[[_Function], _Function]:
    def add_options(function: _Function) -> _Function:
        for option in reversed(options):
            function = option(function)
        return function

    return add_options


@click.command("add", cls=Command, help=act_of_verb("setup add").help)
@click.argument("title")
@_with(_WORDS)
@_with(_PLACE)
@answers
def add(session: Session, title: str, **given: Any) -> Answer:
    from ledger.actions import own_items as act

    with session.books() as books:
        item = act.add(books, act.AddRequest(_words(title, given), _place(given)))
        return _told(books, item, f"{item.title} is on the list as {item.id}. Answer with: {shown.usage(item)}")


@click.command("reword", cls=Command, help=act_of_verb("setup reword").help)
@click.argument("item")
@click.option("--title", metavar="TEXT", help="What it is, in a few words.")
@_with(_WORDS)
@click.option("--as-listed", is_flag=True, help="Take your words back: say what the list says.")
@answers
def reword(session: Session, item: str, title: str | None, as_listed: bool, **given: Any) -> Answer:
    from ledger.actions import own_items as act

    words = _words(title, given)
    if as_listed and words != WordsRequest():
        raise click.UsageError("--as-listed stands alone.")
    with session.books() as books:
        kept = act.reword(books, act.RewordRequest(item, None if as_listed else words))
        said = "says what the list says" if as_listed else "is said in your words"
        return _told(books, kept, f"{kept.id} {said}: {kept.title}.")


@click.command("move", cls=Command, help=act_of_verb("setup move").help)
@click.argument("item")
@_with(_PLACE)
@answers
def move(session: Session, item: str, **given: Any) -> Answer:
    from ledger.actions import own_items as act

    with session.books() as books:
        moved = act.move(books, act.MoveRequest(item, _place(given)))
        stage = next(stage for stage in read_catalogue_of(books).stages if moved in (*stage.items, *stage.hidden))
        names = [each.id for each in stage.items]
        where = f", number {names.index(moved.id) + 1} of {len(names)}" if moved.id in names else ""
        return _told(books, moved, f"{moved.title}: {stage.title}{where}.")


@click.command("hide", cls=Command, help=act_of_verb("setup hide").help)
@click.argument("item")
@answers
def hide(session: Session, item: str) -> Answer:
    from ledger.actions import own_items as act

    with session.books() as books:
        hidden = act.hide(books, act.ItemRequest(item))
        return _told(
            books, hidden, f"{hidden.title} is hidden. «twopurse setup show-again {hidden.id}» brings it back."
        )


@click.command("show-again", cls=Command, help=act_of_verb("setup show-again").help)
@click.argument("item")
@answers
def show_again(session: Session, item: str) -> Answer:
    from ledger.actions import own_items as act

    with session.books() as books:
        shown_again = act.show_again(books, act.ItemRequest(item))
        return _told(books, shown_again, f"{shown_again.title} is on the list again.")


@click.command("seen", cls=Command)
@answers
def seen(session: Session) -> Answer:
    """Say that you have looked at what is new on the list."""
    from checklists.own_acts import mark_seen

    with session.books() as books:
        items = mark_seen(books)
        data = {"seen": [item.id for item in items]}
        lines = [f"Seen: {item.title} ({item.id})." for item in items] or ["Nothing on the list was new."]
        return Answer(data, lines)


def _told(books: Books, item: Item, line: str) -> Answer:
    progress = shown.progress(read_catalogue_of(books), read_standings(books))
    return Answer({"items": [shown.row(shown.read_standing(books, item.id))], "progress": progress}, [line])


def _words(title: str | None, given: dict[str, Any]) -> WordsRequest:
    return WordsRequest(
        title=title,
        why=given["why"],
        ask=given["ask"],
        questions=tuple(given["questions"]),
        keep=given["keep"],
        every=given["every"],
    )


def _place(given: dict[str, Any]) -> PlaceRequest:
    return PlaceRequest(given["before"], given["after"], given["stage"], given["first"])


COMMANDS = (add, reword, move, hide, show_again, seen)
