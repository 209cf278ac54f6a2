"""Answers in the books: kept, never changed, and read back; and the list as these books have it."""

from __future__ import annotations

from datetime import date
from typing import cast

from checklists.catalogue import shipped_catalogue
from checklists.item import Catalogue
from checklists.own_list import Places, merged, new_items, places
from checklists.own_records import add_seen, read_changes, read_seen
from checklists.progress import KeptAnswer, Standing, State, hidden_standings, standings
from ledger.books.books import Books, Row
from ledger.books.transaction import Writing


def read_catalogue_of(books: Books) -> Catalogue:
    """The list as these books have it: the one that comes with the program, with what she added and changed."""
    return merged(shipped_catalogue(), read_changes(books))


def read_places(books: Books) -> Places:
    """The ids of the items of each stage in their order, those that she hid too."""
    return places(shipped_catalogue(), read_changes(books))


def read_standings(books: Books) -> tuple[Standing, ...]:
    """Where every item stands at the end of today."""
    return standings(read_catalogue_of(books), read_answers(books), books.today, read_new_items(books))


def read_hidden(books: Books) -> tuple[Standing, ...]:
    """Where the items stand that she put away."""
    return hidden_standings(read_catalogue_of(books), read_answers(books), books.today)


def read_new_items(books: Books) -> frozenset[str]:
    """The ids of the items that came with a newer list and that she has not seen yet."""
    touched = {each.item for each in read_answers(books)} | {each.item for each in read_changes(books)}
    return new_items(shipped_catalogue(), read_seen(books), touched)


def note_seen(books: Books, write: Writing) -> None:
    """Keep that she has seen every item that the list has today."""
    add_seen(books, write, (item.id for item in shipped_catalogue()))


def note_first_look(books: Books, write: Writing) -> None:
    """The first time that she does something with the list, what is on it is what she has seen: none of it is new."""
    if read_seen(books) is None:
        note_seen(books, write)


def read_answers(books: Books, item: str | None = None) -> tuple[KeptAnswer, ...]:
    """The answers up to today, to one item or to all, oldest first."""
    rows = books.rows(
        "select * from answer where on_date <= ?1 and (?2 is null or item = ?2) order by on_date, id",
        (books.today.isoformat(), item),
    )
    return tuple(map(_answer_from_row, rows))


def add_answer(
    books: Books,
    write: Writing,
    item: str,
    state: State,
    *,
    value: str | None = None,
    asked: str | None = None,
    reference: str | None = None,
    note: str | None = None,
    expires: date | None = None,
    document: str | None = None,
) -> int:
    """Keep an answer given today; its number. document: the digest of a document that is attached."""
    note_first_look(books, write)
    return write.add(
        "answer",
        item=item,
        state=state,
        value=value,
        asked=asked,
        reference=reference,
        note=note,
        on_date=books.today.isoformat(),
        expires=expires.isoformat() if expires else None,
        document=document,
    )


def _answer_from_row(row: Row) -> KeptAnswer:
    return KeptAnswer(
        id=row["id"],
        item=row["item"],
        state=cast("State", row["state"]),
        value=row["value"],
        asked=row["asked"],
        reference=row["reference"],
        note=row["note"],
        on=date.fromisoformat(row["on_date"]),
        expires=date.fromisoformat(row["expires"]) if row["expires"] else None,
        document=row["document"],
    )
