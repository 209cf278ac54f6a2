"""What can be found in the books by typing: entries and documents. Other folders have the things of their subjects."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.entries import MOVED


@dataclass(frozen=True)
class Found:
    """One thing that was found. number: what it is called by. words: text from outside, as text. aside: words of ours.

    room: where it stands, or the page of a room; at: what is selected there, None where it is nothing in particular.
    """

    kind: str
    number: int | str
    words: str
    day: date | None = None
    cents: int | None = None
    aside: str = ""
    room: str = ""
    at: int | str | None = None


@dataclass(frozen=True)
class Searched:
    """One kind of thing, of which any number may be kept.

    newest: SQL for the highest number. lines: SQL for the lines of the numbers above one and up to another, the newest
    first, each the number, char(31) and the text. tell: some of them by their numbers, as they stand today.
    """

    kind: str
    newest: str
    lines: str
    tell: Callable[[Books, Sequence[int]], Iterable[tuple[int, Found]]]

    def newest_number(self, books: Books) -> int:
        return int(books.value(self.newest) or 0)

    def read_lines(self, books: Books, above: int, through: int) -> list[str]:
        return [row[0] for row in books.rows(self.lines, (above, through))]


def places_for(numbers: Sequence[int]) -> str:
    """Question marks for so many values."""
    return ", ".join("?" for _ in numbers)


def names_changed(books: Books) -> int:
    """A number that grows with every changed name, whose lines must then be read anew."""
    return int(books.value("select count(*) - count(distinct party) from party_detail"))


_NAME = "(select name from party_detail where party = entry.who order by id desc limit 1)"


def _entries(books: Books, numbers: Sequence[int]) -> Iterable[tuple[int, Found]]:
    for row in books.rows(
        "select entry.number, entry.date, entry.text, mirror.number as mirror, entry.reverses, "
        f"{_NAME} as who, {MOVED} as cents from entry left join entry as mirror on mirror.reverses = entry.number "
        f"where entry.number in ({places_for(numbers)}) and entry.date <= ?",
        (*numbers, books.today.isoformat()),
    ):
        words = f"{row['who']}: {row['text']}" if row["who"] else row["text"]
        day, number = date.fromisoformat(row["date"]), row["number"]
        aside = "undone" if row["mirror"] else "an undoing" if row["reverses"] else ""
        yield number, Found("entry", number, words, day, row["cents"], aside, "money", number)


def _documents(books: Books, numbers: Sequence[int]) -> Iterable[tuple[int, Found]]:
    rows = books.rows(
        f"select * from attachment where id in ({places_for(numbers)}) and at <= ?", (*numbers, books.today.isoformat())
    )
    for row in rows:
        room, at, of = _place_of(row["entry"], row["job"], row["item"])
        yield (
            row["id"],
            Found("document", row["id"], row["label"], date.fromisoformat(row["at"]), aside=of, room=room, at=at),
        )


def _place_of(entry: int | None, job: int | None, item: str | None) -> tuple[str, int | str | None, str]:
    if entry is not None:
        return "money", entry, f"of entry {entry}"
    if job is not None:
        return "bench", job, f"of job {job}"
    if item is not None:
        return "set_up", item, "of the set-up list"
    return "certificates", None, "of a customer's certificate"


ENTRIES = Searched(
    "entry",
    "select max(number) from entry",
    f"select number || char(31) || replace(text, char(10), ' ') || ' ' || coalesce({_NAME}, '') || ' ' || kind || ' ' "
    "|| date || (select char(30) || group_concat(abs(cents), char(30)) || char(30) from posting "
    "where posting.entry = entry.number) from entry where number > ? and number <= ? order by number desc",
    _entries,
)
DOCUMENTS = Searched(
    "document",
    "select max(id) from attachment",
    "select id || char(31) || replace(label, char(10), ' ') from attachment where id > ? and id <= ? order by id desc",
    _documents,
)
