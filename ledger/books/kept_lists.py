"""Lists saved as files: in a folder of the books, or where she says, and never over another file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from pathlib import Path

from ledger.books.books import Books
from ledger.books.connection import refusal_for_file
from ledger.books.places import lists_folder, move_into_place, private_folder, write_durably
from ledger.errors import BooksNotUsable, NotPossible
from ledger.lists.csv_list import csv_of
from ledger.lists.listing import Column, Line, plain


def free_list_file(books: Books, name: str) -> Path:
    """A file that is not there yet, in the folder of lists: `entries-2026-03-14.csv`, then with a number behind it."""
    folder = lists_folder(books.folder)
    file, number = folder / f"{name}-{books.today}.csv", 2
    while file.exists():
        file, number = folder / f"{name}-{books.today}-{number}.csv", number + 1
    return file


def list_bytes(books: Books, columns: Sequence[Column], lines: Iterable[Line]) -> bytes:
    """Every column of the lines, also those that are not painted."""
    rows = ([plain(value) for value in line.values] for line in lines)
    return csv_of([each.label for each in columns], [each.kind for each in columns], rows, books.currency)


def keep_list(books: Books, path: Path, columns: Sequence[Column], lines: Iterable[Line], field: str = "csv") -> Path:
    """Write a list into a file. Raises BooksNotUsable, and NotPossible where a file is there."""
    if path.parent == lists_folder(books.folder):
        try:
            private_folder(path.parent)
        except OSError as error:
            refusal = refusal_for_file(error, path.parent)
            raise BooksNotUsable(refusal.what, refusal.do, field) from error
    return write_beside(path, list_bytes(books, columns, lines), field)


def write_beside(path: Path, content: bytes, field: str) -> Path:
    """One file where she wants it, whole or not at all. Raises BooksNotUsable, and NotPossible where one is there."""
    waiting = path.with_name(f".{path.name}.part")
    try:
        if path.exists():
            raise FileExistsError(path)
        write_durably(waiting, content)
        move_into_place(waiting, path)
    except OSError as error:
        # What kept the file from being written may keep it from being removed, and is what has to be told.
        with suppress(OSError):
            waiting.unlink()
        if isinstance(error, FileExistsError):
            raise NotPossible(f"{path} is there already.", "Give another name, or move it away first.", field) from None
        refusal = refusal_for_file(error, path.parent)
        raise BooksNotUsable(refusal.what, refusal.do, field) from error
    return path
