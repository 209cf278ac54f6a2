"""What `/` finds in the rooms: each hit as a line, and where it leads."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from rich.cells import cell_len

from ledger.actions.find import Named, found_act
from ledger.actions.registry import ACTS, act
from ledger.books.books import Books
from ledger.books.finding import Found
from ledger.colours import SETS
from ledger.errors import NotUnderstood
from ledger.screens.doors import DOORS, Door, door
from ledger.screens.guide_finding import WHOLE_GUIDE, guide_to_find
from ledger.screens.help import first_sentence
from ledger.screens.reading import typed_amount
from ledger.screens.room_words import where
from ledger.screens.showing import Showing, padded, paired
from ledger.text import folded

if TYPE_CHECKING:
    from ledger.screens.app import TwopurseApp

_KIND_WIDTH = 12
# How a kind is called where its own name is not what she would call it, and which of them are told with a number.
_CALLED = {"act": "Do", "item": "Set-up", "bank line": "Bank line"}
_NUMBERED = ("job", "entry", "question")
# What is told with a sentence about it, which is the program's own.
_EXPLAINED = ("room", "act", "guide", "word", "colours", "told")
TOLD = Found("told", "", "Told lately", aside="What stood above the keys, the latest first.", room="told")


def of_the_rooms() -> Iterator[Named]:
    """What is there whatever the books hold: the rooms and the guide."""
    for each in DOORS:
        yield Named(_room(each), folded(each.title), said=folded(each.purpose))
    yield Named(TOLD, "told lately", "read again notices", folded(TOLD.aside))
    for colours in SETS:
        found = Found("colours", colours.name, colours.name, aside=colours.words, room="colours", at=colours.name)
        yield Named(found, f"colours {colours.name}", "colors theme contrast", folded(colours.words))
    yield from guide_to_find()


def _room(to: Door) -> Found:
    return Found("room", to.name, to.title, aside=to.purpose, room=to.name)


def all_rooms_and_acts() -> tuple[Found, ...]:
    """What stands there before anything is typed."""
    return (WHOLE_GUIDE, *map(_room, DOORS), *map(found_act, ACTS))


def typed_cents(books: Books) -> Callable[[str], int | None]:
    """How a word is read as an amount, as the forms read it."""

    def read(text: str) -> int | None:
        try:
            return typed_amount(text, books.currency, books.settings.locale, "amount")
        except NotUnderstood:
            return None

    return read


def line_for(found: Found, showing: Showing, cells: int) -> str:
    """One hit in one line: what it is, its words, and at the edge what tells it from its like."""
    number = f" {found.number}" if found.kind in _NUMBERED else ""
    kind = padded(_CALLED.get(found.kind, found.kind.capitalize()) + number, _KIND_WIDTH)
    words = f"{found.words}: {first_sentence(found.aside)}" if found.kind in _EXPLAINED else found.words
    edge = _edge(found, showing)
    # Of a long word at the edge nothing is left out, but it never takes the place of the words.
    return kind + (paired(words, edge, cells - _KIND_WIDTH) if cell_len(edge) < cells // 2 else padded(words, cells))


def _edge(found: Found, showing: Showing) -> str:
    if found.kind == "room":
        return door(found.room).digit or "Esc"
    if found.kind == "act":
        key = where(act(str(found.at)))
        return "" if key == "found with /" else key
    parts = [found.aside] if found.aside and found.kind not in _EXPLAINED else []
    parts += [showing.day(found.day)] if found.day else []
    parts += [showing.plain(found.cents)] if found.cents is not None else []
    return " ".join(parts)


def go_to(app: TwopurseApp, found: Found) -> None:
    """Where it stands, with it selected; an act is done in the room that one is in."""
    if found.room == "act":
        app.do_here(str(found.at))
    elif found.room == "guide":
        app.open_guide(str(found.at or "") or None)
    elif found.room == "guide word":
        app.open_guide("words", str(found.at))
    elif found.room == "colours":
        app.choose_colours(str(found.at))
    elif found.room == "told":
        app.show_told()
    elif found.room == "certificates":
        app.do("list_certificates")
    elif found.room in ("open items", "statements"):
        app.enter("money")
        app.call_later(_open_page, app, found)
    else:
        app.enter(found.room, found.at)


def _open_page(app: TwopurseApp, found: Found) -> None:
    """A page over Money."""
    from ledger.screens.money import MoneyRoom
    from ledger.screens.statement import StatementPage

    if found.room == "open items" and isinstance(app.screen, MoneyRoom):
        app.screen.action_open_items()
    elif isinstance(found.at, int):
        app.push_screen(StatementPage(app.books, found.at), lambda _: app.repaint_rooms())
