"""A list as a file: plain amounts, ISO days, no formula among the words, and never over another file."""

from __future__ import annotations

import csv
from datetime import date
from decimal import Decimal
from io import StringIO
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.kept_lists import free_list_file, keep_list
from ledger.errors import BooksNotUsable, NotPossible
from ledger.lists.csv_list import csv_of
from ledger.lists.listing import Column, Line, ShownAs
from tests.screens.hostile import STRINGS
from tests.workshop import USD, begin

COLUMNS = (Column("What", 9), Column("Amount", 9, "amount"), Column("Day", 9, "due"), Column("Miles", 0, "number"))


@pytest.fixture
def books(tmp_path: Path) -> Books:
    return begin(tmp_path / "books")


def cells(content: bytes) -> list[list[str]]:
    return list(csv.reader(StringIO(content.decode("utf-8"), newline="")))


@pytest.mark.parametrize("words", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "-", "=HYPERLINK(1)"])
def test_words_that_read_as_a_formula_are_guarded_and_numbers_are_not(words: str) -> None:
    found = cells(csv_of(["A", "B"], ["text", "amount"], [[words, -50_00]], USD))
    assert found[1][0].startswith("'")
    assert found[1][1] == "-50.00"


def test_no_text_whatever_it_is_begins_like_a_formula_or_breaks_a_row() -> None:
    found = cells(csv_of(["A"], ["text"], [[each] for each in STRINGS], USD))
    assert len(found) == len(STRINGS) + 1
    assert all(len(row) == 1 and not row[0].startswith(("=", "+", "-", "@")) for row in found)


def test_a_list_is_saved_with_its_unpainted_columns_under_a_name_that_is_free(books: Books) -> None:
    lines = [Line(1, (ShownAs('Ada, "the" one', "x"), -1_204_10, date(2026, 3, 9), Decimal("2.50")))]
    lines += [Line(2, (None, None, ShownAs(None, "as it comes"), None))]
    first = keep_list(books, free_list_file(books, "trips"), COLUMNS, lines)
    assert first == books.folder / "lists" / "trips-2026-01-05.csv"
    assert first.read_bytes().decode("utf-8") == (
        'What,Amount,Day,Miles\r\n"Ada, ""the"" one",-1204.10,2026-03-09,2.5\r\n,,,\r\n'
    )
    second = keep_list(books, free_list_file(books, "trips"), COLUMNS, [])
    assert second.name == "trips-2026-01-05-2.csv"
    assert len(first.read_bytes()) > len(second.read_bytes())


def test_no_file_is_written_over_and_none_is_left_by_halves(books: Books, tmp_path: Path) -> None:
    there = tmp_path / "there.csv"
    there.write_text("hers")
    with pytest.raises(NotPossible, match="is there already"):
        keep_list(books, there, COLUMNS, [])
    assert there.read_text() == "hers"
    with pytest.raises(BooksNotUsable, match="cannot be written to"):
        keep_list(books, tmp_path / "nowhere" / "list.csv", COLUMNS, [])
    with pytest.raises(BooksNotUsable, match="cannot be written to"):
        keep_list(books, there / "list.csv", COLUMNS, [])
    with pytest.raises(BooksNotUsable, match="too long"):
        keep_list(books, tmp_path / f"{'x' * 249}.csv", COLUMNS, [])
    assert sorted(each.name for each in tmp_path.iterdir()) == ["books", "there.csv"]
