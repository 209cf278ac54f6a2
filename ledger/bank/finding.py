"""What can be found by typing of statements: their lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from ledger.books.books import Books
from ledger.books.finding import Found, Searched, places_for


def _lines(books: Books, numbers: Sequence[int]) -> Iterable[tuple[int, Found]]:
    for row in books.rows(
        "select statement_line.*, account.name from statement_line join account on account.id = account "
        f"where statement_line.id in ({places_for(numbers)}) and date <= ?",
        (*numbers, books.today.isoformat()),
    ):
        words = f"{row['text']} {row['memo']}".strip()
        day, number = date.fromisoformat(row["date"]), row["id"]
        yield number, Found("bank line", number, words, day, row["cents"], "", "statements", number)


BANK_LINES = Searched(
    "bank line",
    "select max(id) from statement_line",
    "select id || char(31) || replace(text || ' ' || memo || ' ' || check_number, char(10), ' ') || ' ' || date || "
    "char(30) || abs(cents) || char(30) from statement_line where id > ? and id <= ? order by id desc",
    _lines,
)
