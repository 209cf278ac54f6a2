"""Packets that are out of the ordinary: empty, before the books, still running, hostile names, a disk that says no."""

from __future__ import annotations

import contextlib
import csv
from datetime import date
from io import BytesIO, StringIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from ledger.actions import give_up, question, spend
from ledger.actions.attach import AttachRequest
from ledger.actions.attach import perform as attach
from ledger.actions.build_packet import PacketRequest, perform
from ledger.books.books import Books
from ledger.books.closing import close_period, reopen_period
from ledger.errors import BooksNotUsable, NotUnderstood
from ledger.periods import parse_period
from ledger.quarter.late import read_late
from ledger.quarter.packet import Packet, read_packet
from ledger.quarter.packet_folder import folder_name, packet_files
from ledger.quarter.span import PacketChoice
from ledger.quarter.table import PacketTable
from tests.quarter.recalculation import formulas_of, read_back
from tests.workshop import begin, begin_taxed, job_for, on_day, picked_up, spent

HOSTILE = (
    *('=HYPERLINK("x")', "+1+1", "-2+3", "@SUM(A1)", "<b>bold</b>", "[@click=app.quit]x[/]", "../../etc"),
    *("https://nowhere.invalid", "a\u202eb", "C:\\temp\\x"),
)


@pytest.fixture
def books(tmp_path: Path) -> Books:
    return begin_taxed(tmp_path / "books", opening_cents=500_00)


def packet_of(books: Books, period: str, **choice: bool) -> Packet:
    return read_packet(books, parse_period(period), PacketChoice(**choice))


def table_of(packet: Packet, name: str) -> PacketTable:
    return next(each for each in packet.tables if each.name == name)


def pages_of(books: Books, packet: Packet) -> list[str]:
    content = packet_files(books, packet)["packet.pdf"]
    return [page.extract_text() for page in PdfReader(BytesIO(content)).pages]


def test_a_quarter_without_entries_has_an_honest_packet(books: Books) -> None:
    packet = packet_of(on_day(books, date(2027, 4, 2)), "2027-Q1")
    assert (packet.summary.income_cents, packet.summary.expenses_cents) == (0, 0)
    assert all(each.ok for each in packet.checks)
    assert "Nothing to list" in "\n".join(pages_of(books, packet))
    book, _ = read_back(packet_files(books, packet)["packet.xlsx"])
    assert len(book.sheetnames) == len(packet.tables) + 1


def test_a_quarter_before_the_books_began_is_as_empty(books: Books) -> None:
    packet = packet_of(books, "2020-Q3")
    assert (packet.summary.income_cents, packet.summary.net_cents) == (0, 0)
    assert table_of(packet, "entries").rows == ()


@pytest.mark.parametrize("year", [2020, 2031])
def test_a_year_whose_form_is_not_kept_has_a_packet_that_says_so_and_names_no_line(books: Books, year: int) -> None:
    packet = packet_of(on_day(books, date(2031, 7, 1)), f"{year}-Q1")
    assert "form lines" not in {each.name for each in packet.tables}
    assert any(f"Add the one for {year} to ledger/figures/schedule_c.toml" in each for each in packet.questions)


def test_a_quarter_that_runs_says_so_on_every_page(books: Books) -> None:
    spent(on_day(books, date(2026, 1, 20)), "20.00", "thread", "checking")
    packet = packet_of(on_day(books, date(2026, 1, 25)), "2026-Q1")
    assert packet.span.so_far
    assert all("so far" in page for page in pages_of(books, packet))


@pytest.mark.parametrize("text", HOSTILE)
def test_names_that_look_like_formulas_links_markup_or_paths_are_text(books: Books, text: str) -> None:
    opened = on_day(books, date(2026, 2, 3))
    question.add(opened, question.QuestionRequest(text))
    with contextlib.suppress(NotUnderstood):  # not all of it can be a name
        picked_up(opened, job_for(opened, "80.00", customer=text), "cash")
        spend.perform(opened, spend.SpendRequest(20_00, "thread", "checking", text))
    later = on_day(books, date(2026, 4, 2))
    files = packet_files(later, packet_of(later, "2026-Q1", with_names=True))
    book, _ = read_back(files["packet.xlsx"])
    formulas = set(formulas_of(book).values())
    assert all(each.startswith(("=SUM(", "='", "=B4-B5", "=0")) for each in formulas)
    assert not any(cell.hyperlink for sheet in book for row in sheet.iter_rows() for cell in row)
    lists = [files[f"csv/{name}.csv"].decode() for name in ("entries", "questions")]
    cells = [cell for each in lists for row in csv.reader(StringIO(each, newline="")) for cell in row]
    assert not any(cell.startswith(("=", "+", "@")) for cell in cells)
    assert set(files) == {name for name in files if ".." not in name and not name.startswith("/")}


def test_a_customer_is_a_number_in_what_was_typed_too(books: Books) -> None:
    """A reason, a question and a late find name her: whole names, in capitals or not, become her number."""
    opened = on_day(books, date(2026, 2, 3))
    job = job_for(opened, "80.00", customer="Ada Brook")
    picked_up(opened, job, "owed")
    give_up.perform(on_day(books, date(2026, 3, 2)), give_up.GiveUpRequest(job.id, "ADA BROOK moved, not Adabrook"))
    question.add(on_day(books, date(2026, 3, 3)), question.QuestionRequest("Is Ada Brook a wholesaler?"))
    later = on_day(books, date(2026, 4, 2))
    files = packet_files(later, packet_of(later, "2026-Q1"))
    texts = [files[f"csv/{name}.csv"].decode() for name in ("entries", "questions")]
    pages = "\n".join(pages_of(later, packet_of(later, "2026-Q1")))
    assert not any("ada brook" in each.casefold() for each in (*texts, pages))
    assert "C-001 moved, not Adabrook" in texts[0]
    assert "Is C-001 a wholesaler?" in texts[1]
    assert "Is C-001 a wholesaler?" in pages
    assert "Is Ada Brook a wholesaler?" in packet_of(later, "2026-Q1", with_names=True).questions


def test_a_workshop_named_like_a_path_gets_a_folder_with_a_plain_name(tmp_path: Path) -> None:
    odd = begin(tmp_path / "odd", name="../..\\C: Ünïcode 木 <x>")
    assert folder_name(packet_of(odd, "2026-Q1")) == "c-n-code-x-2026-Q1"
    nameless = begin(tmp_path / "nameless", name="木")
    assert folder_name(packet_of(nameless, "2026-01..2026-02")) == "workshop-2026-01-to-2026-02"


def test_a_target_that_is_a_file_is_refused_and_nothing_is_left(books: Books, tmp_path: Path) -> None:
    target = tmp_path / "target"
    target.write_text("mine", encoding="utf-8")
    with pytest.raises(BooksNotUsable) as refused:
        perform(books, PacketRequest(parse_period("2026-Q1"), target))
    assert refused.value.field == "packet"
    assert target.read_text(encoding="utf-8") == "mine"
    assert {each.name for each in tmp_path.iterdir()} == {"books", "target"}


def test_what_a_killed_run_left_behind_is_cleared_away(books: Books, tmp_path: Path) -> None:
    parent = tmp_path / "out"
    waiting = parent / f".{folder_name(packet_of(books, '2026-Q1'))}.part"
    (waiting / "csv").mkdir(parents=True)
    (waiting / "csv" / "old.csv").write_text("half", encoding="utf-8")
    place = perform(books, PacketRequest(parse_period("2026-Q1"), parent))
    assert [each.name for each in parent.iterdir()] == [place.name]
    assert not (place / "csv" / "old.csv").exists()


def test_documents_come_under_names_of_the_packets_own_and_can_stay_in_the_house(books: Books, tmp_path: Path) -> None:
    opened = on_day(books, date(2026, 2, 3))
    entry = spent(opened, "120.00", "thread", "checking")
    scan = tmp_path / "=cmd receipt.jpg"
    scan.write_bytes(b"\xff\xd8\xff and a picture")
    attach(opened, AttachRequest(scan, entry=entry))
    later = on_day(books, date(2026, 4, 2))
    files = packet_files(later, packet_of(later, "2026-Q1"))
    assert [name for name in files if name.startswith("documents/")] == [f"documents/entry-{entry:05d}-1.jpg"]
    kept_back = packet_of(later, "2026-Q1", with_documents=False)
    assert not any(name.startswith("documents/") for name in packet_files(later, kept_back))
    assert "1 documents, which are named with their digests." in kept_back.withheld
    assert table_of(kept_back, "documents").rows[0][1] == "withheld"


def test_a_document_that_is_gone_fails_its_check_and_never_hides(books: Books, tmp_path: Path) -> None:
    opened = on_day(books, date(2026, 2, 3))
    entry = spent(opened, "120.00", "thread", "checking")
    scan = tmp_path / "receipt.txt"
    scan.write_text("thread", encoding="utf-8")
    attach(opened, AttachRequest(scan, entry=entry))
    for document in (books.folder / "documents").iterdir():
        document.unlink()
    packet = packet_of(on_day(books, date(2026, 4, 2)), "2026-Q1")
    failed = [each for each in packet.checks if not each.ok]
    assert [(each.name, each.fault) for each in failed] == [
        ("documents are what their digests say", f"of entries {entry}")
    ]
    assert f"of entries {entry}" in "\n".join(pages_of(books, packet))


def test_what_turns_up_after_the_packet_stands_in_the_next_one(books: Books) -> None:
    """A receipt of March that comes in April is entered in April; one entered after reopening is told as changed."""
    spent(on_day(books, date(2026, 3, 10)), "20.00", "thread", "checking")
    april = on_day(books, date(2026, 4, 8))
    close_period(april, date(2026, 1, 1), date(2026, 3, 31))
    assert read_late(april, date(2026, 1, 1), date(2026, 3, 31)) == ()
    reopen_period(april, date(2026, 1, 1), "a receipt of March turned up")
    entry = spent(on_day(books, date(2026, 3, 12)), "7.50", "batting", "checking")
    found = table_of(packet_of(on_day(books, date(2026, 4, 20)), "2026-Q1"), "late finds")
    assert [row[0] for row in found.rows] == [entry]
    assert found.rows[0][3] == "entered after the packet of 2026-04-08"
