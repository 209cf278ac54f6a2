"""Reading a statement: all of it or nothing, each line once, matched with what the books have."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import read_statement
from ledger.actions.read_statement import ReadRequest
from ledger.bank.statements import remembered_map
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.places import DOCUMENTS
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, NotUnderstood, Refused
from tests.actions.bank_desk import DAY, kept, line_of, read_bytes, read_ofx, read_rows, states
from tests.bank.files import csv, ofx, ofx_line
from tests.workshop import begin, on_day, reversed_entry, spent, transferred

COFFEE = ("2026-01-13,Coffee,-4.50",) * 2


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """500.00 in the bank; on the 13th two equal receipts of 4.50, on the 20th 300.00 put in. Entries 1 to 4."""
    books = begin(tmp_path / "books", opening_cents=500_00)
    for _ in range(2):
        spent(on_day(books, date(2026, 1, 13)), "4.50", "thread", "checking")
    transferred(on_day(books, date(2026, 1, 20)), "put-in", "300.00", "household checking", "checking")
    yield on_day(books, DAY)
    books.close()


def rows_in(books: Books, table: str) -> int:
    return int(books.value(f"select count(*) from {table}"))


def test_what_the_books_have_is_matched_and_the_rest_is_new(books: Books) -> None:
    done = read_rows(books, *COFFEE, "2026-01-20,From home,300.00", "2026-01-30,Charge,-8.00")
    assert [(each.state, each.line.entries) for each in done.lines] == [
        ("matched", (2,)),
        ("matched", (3,)),
        ("matched", (4,)),
        ("new", ()),
    ]
    assert prove(books).ok


def test_reading_a_file_twice_adds_nothing(books: Books) -> None:
    content = csv(*COFFEE, "2026-01-20,From home,300.00")
    read_bytes(books, content)
    before = {table: rows_in(books, table) for table in ("statement", "statement_line", "line_match", "record")}
    again = read_bytes(books, content)
    assert (again.kept.id, again.kept.already, again.lines) == (0, 3, ())
    assert before == {table: rows_in(books, table) for table in before}


def test_two_equal_coffees_on_one_day_stay_two_and_a_longer_file_adds_only_its_own(books: Books) -> None:
    assert len(read_rows(books, *COFFEE).lines) == 2
    longer = read_rows(books, *COFFEE, COFFEE[0], "2026-01-14,Tea,-3.00")
    assert (longer.kept.already, [each.line.text for each in longer.lines]) == (2, ["Coffee", "Tea"])


def test_the_bytes_of_the_file_are_kept_unless_she_says_otherwise(books: Books) -> None:
    content = csv(*COFFEE)
    read_bytes(books, content)
    digest = hashlib.sha256(content).hexdigest()
    assert (books.folder / DOCUMENTS / digest).read_bytes() == content
    other = csv("2026-01-14,Tea,-3.00")
    read_bytes(books, other, keeps_file=False)
    assert not (books.folder / DOCUMENTS / hashlib.sha256(other).hexdigest()).exists()
    assert prove(books).ok


def test_a_month_in_ofx_and_again_in_csv_is_shown_as_there_twice(books: Books) -> None:
    read_ofx(books, ("13", "-4.50", "Coffee"), ("13", "-4.50", "Coffee"), ("30", "-8.00", "Charge"))
    again = read_rows(books, *COFFEE, "2026-01-30,Charge,-8.00", "2026-01-31,Tea,-3.00")
    assert [(each.state, each.line.repeats) for each in again.lines] == [
        ("doubtful", 1),
        ("doubtful", 2),
        ("doubtful", 3),
        ("new", None),
    ]


def test_one_bank_name_for_two_lines_keeps_both_and_a_new_name_for_an_old_line_shows(books: Books) -> None:
    def named(name: str, words: str = "Coffee") -> str:
        return ofx_line("20260113", "-4.50", words, name)

    first = read_bytes(books, ofx([named("F1"), named("F1", "Tea")]), name="a.ofx")
    assert [each.line.text for each in first.lines] == ["Coffee", "Tea"]
    second = read_bytes(books, ofx([named("F9")]), name="b.ofx")
    assert [(each.state, each.line.repeats) for each in second.lines] == [("doubtful", 1)]


def test_a_map_is_asked_once_and_remembered_for_the_account(books: Books) -> None:
    rows = csv("01/02/2026,A,-4.00", headings="When,What,How much")
    with pytest.raises(NotUnderstood) as refused:
        read_bytes(books, rows)
    assert refused.value.field == "map"
    csv_map = kept(books, b'date="When"\ntext="What"\namount="How much"', "map.toml")
    with pytest.raises(NotUnderstood) as open_order:
        read_bytes(books, rows, map_file=csv_map)
    assert open_order.value.field == "dates"
    read_bytes(books, rows, map_file=csv_map, dates="mdy")
    remembered = remembered_map(books, read_accounts(books)["checking"])
    assert remembered is not None
    assert remembered.dates == "mdy"
    read_bytes(books, csv("01/03/2026,B,-5.00", headings="When,What,How much"))
    assert rows_in(books, "statement_map") == 1
    with pytest.raises(NotUnderstood):
        read_bytes(books, rows, "tax savings")


def test_a_remembered_map_yields_to_the_headings_of_a_file_with_other_columns(books: Books) -> None:
    named = kept(books, b'date="When"\ntext="What"\namount="How much"\ndates="mdy"\ndelimiter=";"', "map.toml")
    read_bytes(books, b"When;What;How much\n01/02/2026;A;-4.00\n", map_file=named)
    done = read_bytes(books, csv("2026-01-14,Tea,-3.00"))
    assert [(each.line.text, each.line.cents) for each in done.lines] == [("Tea", -3_00)]
    with pytest.raises(NotPossible) as refused:
        read_bytes(books, csv("2026-01-15,Tea,-2.00"), map_file=named)
    assert refused.value.field == "map", "a map that is given is kept to"


def test_a_preview_writes_nothing(books: Books) -> None:
    before = rows_in(books, "record")
    looked = read_statement.preview(books, ReadRequest(kept(books, csv(*COFFEE)), "checking"))
    assert (looked.preview.rows, looked.preview.out_cents, looked.fresh) == (2, 9_00, 2)
    assert rows_in(books, "record") == before


@pytest.mark.parametrize(
    "content",
    [
        csv(*COFFEE, "2026-01-14,Tea"),
        csv(*COFFEE, '2026-01-14,"Tea,-3.00'),
        csv(*COFFEE, "2026-02-01,Tea,-3.00"),
        csv(*COFFEE)[:-9] + b"\0",
        ofx([ofx_line("20260113", "-4.50", "Coffee", "1")])[:-40],
        ofx([ofx_line("20260113", "-4.50", "Coffee", "1")], currency="CAD"),
        ofx([ofx_line("20260113", "NaN", "Coffee", "1")]),
        b"",
    ],
)
def test_a_file_with_one_thing_wrong_leaves_nothing_behind(books: Books, content: bytes) -> None:
    before = sorted(path.name for path in books.folder.rglob("*")), rows_in(books, "record")
    with pytest.raises(Refused):
        read_bytes(books, content)
    assert (sorted(path.name for path in books.folder.rglob("*")), rows_in(books, "record")) == before


def test_a_reading_that_is_stopped_leaves_nothing_behind(books: Books) -> None:
    class Stopped(Exception):
        pass

    def stop(done: int, total: int) -> None:
        assert (done, total) == (200, 450)
        raise Stopped

    rows = [f"2026-01-14,Tea {number},-3.00" for number in range(450)]
    before = rows_in(books, "record")
    with pytest.raises(Stopped):
        read_statement.perform(books, ReadRequest(kept(books, csv(*rows)), "checking"), stop)
    assert (rows_in(books, "record"), rows_in(books, "statement_line")) == (before, 0)
    assert list((books.folder / DOCUMENTS).iterdir()) == []


def test_fifty_megabytes_are_refused_before_they_are_read(books: Books) -> None:
    path = kept(books, b"", "large.ofx")
    with path.open("r+b") as file:
        file.truncate(50 * 1024 * 1024)
    with pytest.raises(NotPossible, match="larger than 20 MB"):
        read_statement.perform(books, ReadRequest(path, "checking"))


def test_a_file_that_is_not_there_and_accounts_without_statements_are_refused(books: Books) -> None:
    path = kept(books, csv(*COFFEE))
    for account, kind in (("cash box", NotPossible), ("thread", NotPossible), ("chekcing", NotFound)):
        with pytest.raises(kind) as refused:
            read_statement.perform(books, ReadRequest(path, account))
        assert refused.value.field == "account"
    with pytest.raises(NotFound):
        read_statement.perform(books, ReadRequest(books.folder / "none.csv", "checking"))


def test_the_account_number_is_kept_by_its_last_four_signs_and_another_is_refused(books: Books) -> None:
    read_bytes(books, ofx([ofx_line("20260113", "-4.50", "Coffee", "1")], number="987654321-4417"), keeps_file=False)
    assert books.value("select number_ending from statement") == "4417"
    assert b"987654321" not in (books.folder / "books.sqlite3").read_bytes()
    other = ofx([ofx_line("20260114", "-3.00", "Tea", "2")], number="0009999")
    with pytest.raises(NotPossible, match="ends in 9999"):
        read_bytes(books, other, name="other.ofx")
    assert len(read_bytes(books, other, name="other.ofx", number="9999").lines) == 1


def test_a_balance_that_does_not_follow_from_the_last_one_is_told(books: Books) -> None:
    first = ofx([ofx_line("20260113", "-4.50", "Coffee", "1")], ending="95.50", ends_on="20260115")
    assert read_bytes(books, first).looked.gap is None
    fits = ofx([ofx_line("20260120", "300.00", "Home", "2")], ending="395.50", ends_on="20260121")
    assert read_bytes(books, fits, name="b.ofx").looked.gap is None
    missing = ofx([ofx_line("20260130", "-8.00", "Charge", "4")], ending="380.00", ends_on="20260131")
    gap = read_bytes(books, missing, name="c.ofx").looked.gap
    assert gap is not None
    assert "a line is missing" in gap


def test_an_entry_made_after_the_reading_is_found_by_looking_again(books: Books) -> None:
    read_rows(books, "2026-01-30,MILL OUTLET,-12.00")
    entry = spent(books, "12.00", "batting", "checking")
    standing = line_of(books, 1)
    assert (standing.state, [each[0].entry for each in standing.candidates]) == ("doubtful", [entry])
    assert read_statement.look_again(books) == 1
    assert line_of(books, 1).line.entries == (entry,)


def test_a_line_whose_entry_is_reversed_is_open_again_and_the_pair_is_no_candidate(books: Books) -> None:
    read_rows(books, *COFFEE)
    reversed_entry(books, 3)
    assert states(books) == ["matched", "new"]


def test_the_mirror_of_a_correction_is_no_candidate_for_what_came_in(books: Books) -> None:
    reversed_entry(books, 3)
    done = read_rows(books, "2026-01-31,Refund,4.50")
    assert [(each.state, each.candidates) for each in done.lines] == [("new", ())]


def test_a_line_before_the_books_began_is_kept_and_never_matched(books: Books) -> None:
    done = read_rows(books, "2026-01-04,Old,-4.50", "2026-01-13,Coffee,-4.50")
    assert [each.state for each in done.lines] == ["before", "doubtful"]
