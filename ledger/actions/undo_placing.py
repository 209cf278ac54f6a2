"""Take back what a line was taken for: the match is undone, and what placing it had booked is reversed."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.actions import reverse
from ledger.bank.matches import Line, keep_match, read_line
from ledger.books.books import Books
from ledger.errors import NotPossible


@dataclass(frozen=True)
class UndoRequest:
    line: int


@dataclass(frozen=True)
class Undone:
    """line: as it stands after. reversed_by: the entries that mirror what its placing had booked."""

    line: Line
    reversed_by: tuple[int, ...]


def perform(books: Books, request: UndoRequest) -> Undone:
    """Raises NotFound, and NotPossible where nothing is to be undone or something rests on what was booked."""
    with books.all_or_nothing() as together, together.writing() as write:
        line = read_line(together, request.line)
        if line.match is None:
            raise NotPossible(f"Line {line.id} is open.", "There is nothing to undo.", "line")
        keep_match(together, write, line.id, "undone")
        mirrors = []
        for entry in line.entries if line.books_entry else ():
            why = f"Line {line.id} of the statement was placed wrongly"
            mirrors.append(reverse.perform(together, reverse.ReverseRequest(entry, why)).number)
        return Undone(read_line(together, line.id), tuple(mirrors))
