"""The packet ties together on its face: pages, workbook and lists say the same, and twice give the same bytes."""

from __future__ import annotations

import csv
import hashlib
import json
import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from io import BytesIO, StringIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from ledger.actions.build_packet import PacketRequest, perform
from ledger.books.books import Books
from ledger.money import plain_amount
from ledger.periods import parse_period
from ledger.quarter.packet import FACE, read_packet
from ledger.quarter.packet_folder import packet_files
from ledger.quarter.span import PacketChoice
from ledger.results.period import read_statement
from tests.quarter.recalculation import formulas_of, read_back, worked_out
from tests.workshop_example import open_example

QUARTER = "2026-Q1"
APRIL = date(2026, 4, 9)


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Books]:
    opened = open_example(tmp_path_factory.mktemp("packet") / "books", APRIL)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def place(books: Books, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return perform(books, PacketRequest(parse_period(QUARTER), tmp_path_factory.mktemp("out")))


def rows_of(place: Path, name: str) -> list[dict[str, str]]:
    text = (place / "csv" / f"{name}.csv").read_bytes().decode()
    return list(csv.DictReader(StringIO(text, newline="")))


def test_the_folder_is_named_by_workshop_and_quarter_and_holds_what_a_packet_holds(place: Path) -> None:
    assert place.name == "ninth-wren-quilting-2026-Q1"
    assert {each.name for each in place.iterdir()} == {"packet.pdf", "packet.xlsx", "csv", "manifest.json"} | (
        {"documents"} if (place / "documents").exists() else set()
    )


def test_the_manifest_has_the_digest_of_every_other_file_and_the_head_of_the_books(books: Books, place: Path) -> None:
    told = json.loads((place / "manifest.json").read_text(encoding="utf-8"))
    files = {
        each.relative_to(place).as_posix(): hashlib.sha256(each.read_bytes()).hexdigest()
        for each in place.rglob("*")
        if each.is_file() and each.name != "manifest.json"
    }
    assert {each["name"]: each["sha256"] for each in told["files"]} == files
    digest = books.value("select digest from seal order by number desc limit 1")
    assert told["head"].split()[1] == digest[:12]
    assert (told["built_on"], told["face"]) == ("2026-04-09", FACE)


def test_the_same_books_on_the_same_day_give_the_same_bytes(books: Books, place: Path) -> None:
    again = packet_files(books, read_packet(books, parse_period(QUARTER), PacketChoice()))
    there = {each.relative_to(place).as_posix(): each.read_bytes() for each in place.rglob("*") if each.is_file()}
    assert again == there


def test_a_packet_that_is_there_already_is_kept_and_the_next_one_stands_beside_it(books: Books, tmp_path: Path) -> None:
    request = PacketRequest(parse_period(QUARTER), tmp_path)
    first = perform(books, request)
    (first / "note.txt").write_text("hers", encoding="utf-8")
    second = perform(books, request)
    assert second.name == f"{first.name}-2"
    assert (first / "note.txt").read_text(encoding="utf-8") == "hers"
    assert {each.name for each in tmp_path.iterdir()} == {first.name, second.name}


def test_building_one_writes_nothing_to_the_books(books: Books, tmp_path: Path) -> None:
    before = books.value("select (select count(*) from seal) + (select count(*) from record)")
    perform(books, PacketRequest(parse_period(QUARTER), tmp_path))
    assert books.value("select (select count(*) from seal) + (select count(*) from record)") == before


class TestWorkbook:
    def test_every_formula_worked_out_again_gives_the_value_that_was_kept_beside_it(self, place: Path) -> None:
        book, kept = read_back((place / "packet.xlsx").read_bytes())
        formulas = formulas_of(book)
        assert len(formulas) > 20
        for (sheet, cell), formula in formulas.items():
            value = kept[sheet][cell].value
            assert Decimal(str(value)) == worked_out(book, sheet, cell), (sheet, cell, formula)

    def test_its_totals_are_those_of_the_books(self, books: Books, place: Path) -> None:
        book, _ = read_back((place / "packet.xlsx").read_bytes())
        found = read_statement(books, date(2026, 1, 1), date(2026, 3, 31))
        told = [worked_out(book, "totals", cell) for cell in ("B4", "B5", "B6")]
        expected = (found.income_cents(), found.expenses_cents, found.net_cents())
        assert told == [Decimal(plain_amount(each, books.currency)) for each in expected]

    def test_it_was_made_on_no_day_so_that_it_is_the_same_every_day(self, place: Path) -> None:
        book, _ = read_back((place / "packet.xlsx").read_bytes())
        assert book.properties.created.isoformat() == "2000-01-01T00:00:00"


class TestPages:
    def test_the_pages_say_the_totals_of_the_workbook_and_the_face(self, place: Path) -> None:
        pages = "\n".join(page.extract_text() for page in PdfReader(BytesIO((place / "packet.pdf").read_bytes())).pages)
        book, _ = read_back((place / "packet.xlsx").read_bytes())
        for cell in ("B4", "B6", "B7"):
            assert f"${worked_out(book, 'totals', cell):,.2f}" in pages
        assert FACE in pages
        assert re.search(r"(\d+) of \1 checks passed", pages)

    def test_what_is_left_out_of_the_pages_is_said_on_them(self, place: Path) -> None:
        pages = "\n".join(page.extract_text() for page in PdfReader(BytesIO((place / "packet.pdf").read_bytes())).pages)
        assert "What stayed in the house" in pages
        assert "The names of customers" in pages


class TestLists:
    def test_the_entries_of_the_list_add_to_zero_entry_by_entry(self, place: Path) -> None:
        sums: dict[str, Decimal] = {}
        for row in rows_of(place, "entries"):
            sums[row["Entry"]] = sums.get(row["Entry"], Decimal(0)) + Decimal(row["Debit positive"])
        assert sums
        assert set(sums.values()) == {Decimal(0)}

    def test_the_expenses_of_the_list_are_those_of_the_books(self, books: Books, place: Path) -> None:
        told = sum(Decimal(row["Total"]) for row in rows_of(place, "expenses"))
        found = read_statement(books, date(2026, 1, 1), date(2026, 3, 31))
        assert told == Decimal(plain_amount(found.expenses_cents, books.currency))

    def test_debits_equal_credits_in_the_trial_balance(self, place: Path) -> None:
        rows = rows_of(place, "trial-balance")
        debits, credits = (sum(Decimal(row[side] or 0) for row in rows) for side in ("Debit", "Credit"))
        assert debits == credits > 0

    def test_assets_equal_what_stands_against_them_at_both_ends(self, place: Path) -> None:
        rows = {row["Account"]: row for row in rows_of(place, "balance-sheet")}
        for end in ("Before", "At the end"):
            assert rows["assets together"][end] == rows["liabilities and equity together"][end]


class TestNames:
    def test_customers_are_numbers_unless_she_says_names(self, books: Books) -> None:
        names = {row["name"] for row in books.rows(_CUSTOMERS)}
        by_number = files_text(books, PacketChoice())
        found = {
            each for each in names if each in by_number["csv/entries.csv"] + by_number["csv/owed-by-customers.csv"]
        }
        assert found == set()
        by_name = files_text(books, PacketChoice(with_names=True))
        assert any(each in by_name["csv/entries.csv"] for each in names)

    def test_no_posting_of_the_household_leaves_the_house(self, books: Books) -> None:
        accounts = {row["name"] for row in books.rows("select name from account where purse = 'personal'")}
        entries = files_text(books, PacketChoice(with_names=True))["csv/entries.csv"]
        assert [each for each in accounts if f",{each}," in entries] == []


_CUSTOMERS = (
    "select (select name from party_detail where party = customer.party order by id desc limit 1) as name from customer"
)


def files_text(books: Books, choice: PacketChoice) -> dict[str, str]:
    """The lists of a packet as text."""
    files = packet_files(books, read_packet(books, parse_period(QUARTER), choice))
    return {name: content.decode() for name, content in files.items() if name.endswith(".csv")}
