"""What came late: entries that belong to an earlier period, and what changed after a packet was handed over."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.money import plain_amount


@dataclass(frozen=True)
class Late:
    """An entry and why it is late. cents: the debit side of its workshop postings."""

    entry: int
    day: date
    text: str
    cents: int
    why: str


@dataclass(frozen=True)
class HandedOver:
    """The last closing that covered a period: on which day, and the last entry that stood in its packet."""

    day: date
    entry: int


def last_handed_over(books: Books, end: date) -> HandedOver | None:
    """A packet is handed over by closing its period; the last one that reached a day, by the end of today."""
    row = books.row(
        "select at, head from closing where reopened = 0 and through >= ? and at <= ? order by id desc limit 1",
        (end.isoformat(), books.today.isoformat()),
    )
    return None if row is None else HandedOver(date.fromisoformat(row["at"]), int(row["head"].split()[0]))


def read_late(books: Books, start: date, end: date) -> tuple[Late, ...]:
    """Late entries of the days from start to end, both included, by number."""
    handed = last_handed_over(books, end)
    after = handed.entry if handed else None
    rows = books.rows(
        "select number, date, text, belongs_on, (select coalesce(sum(cents), 0) from posting "
        "where posting.entry = entry.number and purse = 'business' and cents > 0) as cents from entry "
        "where date between ?1 and ?2 and ((belongs_on < ?1 and reverses is null and kind <> 'opening') "
        "or (?3 is not null and number > ?3)) "
        "order by number",
        (start.isoformat(), end.isoformat(), after),
    )
    found = []
    for row in rows:
        is_new = after is not None and row["number"] > after
        why = f"belongs to {row['belongs_on']}, before this period"
        if is_new and handed is not None:
            why = f"entered after the packet of {handed.day}"
        found.append(Late(row["number"], date.fromisoformat(row["date"]), row["text"], row["cents"], why))
    return tuple(found)


def late_question(late: Late, books: Books) -> str:
    """The line about it in the list of what is open."""
    return f"Entry {late.entry}, {plain_amount(late.cents, books.currency)}, {late.why}: {late.text}"
