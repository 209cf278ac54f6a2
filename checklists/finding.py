"""What can be found by typing of the set-up list: its items, by their titles, offices and questions."""

from __future__ import annotations

from collections.abc import Iterator

from checklists.records import read_standings
from ledger.books.books import Books
from ledger.books.finding import Found


def items_to_find(books: Books) -> Iterator[tuple[Found, str]]:
    """Each item that is on the list today, and what is said of it beside its title."""
    for each in read_standings(books):
        if each.item is not None:
            about = " ".join((each.item.ask, each.item.why, *each.item.questions))
            aside = f"{each.state}, until" if each.due is not None else each.state
            yield Found("item", each.id, each.item.title, each.due, aside=aside, room="set_up", at=each.id), about
