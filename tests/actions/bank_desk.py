"""Statements read and placed as a room or a command would do it, in few words."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from ledger.actions import place_line, read_statement, undo_placing
from ledger.actions.book_line import PlaceRequest, Way
from ledger.actions.read_statement import ReadRequest, ReadStatement
from ledger.bank.standing import StandingLine, read_standing
from ledger.books.books import Books
from tests.bank.files import csv, ofx, ofx_line

DAY = date(2026, 1, 31)


def read_rows(books: Books, *rows: str, account: str = "checking", headings: str = "Date,Description,Amount") -> Any:
    """A CSV of these rows, read."""
    return read_bytes(books, csv(*rows, headings=headings), account)


def read_ofx(books: Books, *lines: tuple[str, str, str], ending: str = "", account: str = "checking") -> ReadStatement:
    """An OFX file of day (of January), amount and words, each with a name of the bank's own."""
    made = [ofx_line(f"202601{day}", amount, words, f"F{n}") for n, (day, amount, words) in enumerate(lines, start=1)]
    return read_bytes(books, ofx(made, ending=ending), account, "january.ofx")


def read_bytes(
    books: Books, content: bytes, account: str = "checking", name: str = "bank.csv", **more: Any
) -> ReadStatement:
    return read_statement.perform(books, ReadRequest(kept(books, content, name), account, **more))


def kept(books: Books, content: bytes, name: str = "bank.csv") -> Path:
    """A file beside the books."""
    path = books.folder.parent / name
    path.write_bytes(content)
    return path


def placed(books: Books, line: int, way: Way, name: str = "", **more: Any) -> place_line.Placed:
    return place_line.perform(books, PlaceRequest(line, way, name, **more))


def undone(books: Books, line: int) -> undo_placing.Undone:
    return undo_placing.perform(books, undo_placing.UndoRequest(line))


def line_of(books: Books, number: int) -> StandingLine:
    return read_standing(books, ids=(number,))[0]


def states(books: Books) -> list[str]:
    return [each.state for each in read_standing(books)]
