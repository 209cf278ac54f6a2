"""Answers in the books: kept, never changed, and read back."""

from __future__ import annotations

from datetime import date
from typing import cast

from checklists.catalogue import shipped_catalogue
from checklists.item import Catalogue
from checklists.progress import KeptAnswer, Standing, State, standings
from ledger.books.books import Books, Row
from ledger.books.transaction import Writing


def read_catalogue_of(books: Books) -> Catalogue:
    """The list as these books have it; so far they all have the one that comes with the program."""
    return shipped_catalogue()


def read_standings(books: Books) -> tuple[Standing, ...]:
    """Where every item stands at the end of today."""
    return standings(read_catalogue_of(books), read_answers(books), books.today)


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
