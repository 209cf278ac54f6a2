"""Her changes of the set-up list in the books, and which items she has seen: kept, never changed, and read back."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import cast

from checklists.own_list import AS_LISTED, ItemChange, What, Wording
from ledger.books.books import Books, Row
from ledger.books.transaction import Writing


def read_changes(books: Books) -> tuple[ItemChange, ...]:
    """What she added and changed up to today, in the order in which she did."""
    rows = books.rows("select * from item_change where on_date <= ? order by id", (books.today.isoformat(),))
    return tuple(map(_change_from_row, rows))


def add_change(
    books: Books,
    write: Writing,
    item: str,
    what: What,
    *,
    stage: str | None = None,
    follows: str | None = None,
    wording: Wording = AS_LISTED,
) -> int:
    """Keep a change made today; its number."""
    return write.add(
        "item_change",
        item=item,
        what=what,
        stage=stage,
        follows=follows,
        title=wording.title,
        why=wording.why,
        ask=wording.ask,
        questions="\n".join(wording.questions) if wording.questions else None,
        proof=wording.proof,
        recurs=wording.recurs,
        on_date=books.today.isoformat(),
    )


def read_seen(books: Books) -> frozenset[str] | None:
    """The ids of the shipped items that she has seen up to today, None where none were ever noted."""
    rows = books.rows("select items from list_seen where on_date <= ?", (books.today.isoformat(),))
    return frozenset(name for row in rows for name in row["items"].split()) if rows else None


def add_seen(books: Books, write: Writing, items: Iterable[str]) -> None:
    write.add("list_seen", items=" ".join(sorted(items)), on_date=books.today.isoformat())


def _change_from_row(row: Row) -> ItemChange:
    return ItemChange(
        id=row["id"],
        item=row["item"],
        what=cast("What", row["what"]),
        on=date.fromisoformat(row["on_date"]),
        stage=row["stage"],
        follows=row["follows"],
        wording=Wording(
            title=row["title"],
            why=row["why"],
            ask=row["ask"],
            questions=tuple(row["questions"].split("\n")) if row["questions"] else None,
            proof=row["proof"],
            recurs=row["recurs"],
        ),
    )
