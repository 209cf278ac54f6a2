"""A pickup and its two files stand together or not at all; the commands say where the files are."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from ledger.books.books import Books
from ledger.cli import main
from ledger.errors import Refused
from ledger.jobs.records import read_job
from tests.workshop import begin_taxed, deposit, entries_of, job_for, picked_up


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    job_for(opened, "40.00")
    yield opened
    opened.close()


class Typed:
    """Commands typed on one day about one folder."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self.capsys = folder, capsys

    def __call__(self, *words: str, code: int = 0) -> Any:
        assert main([*words, "--books", str(self.folder), "--on", "2026-01-09", "--json"]) == code
        return json.loads(self.capsys.readouterr().out)


@pytest.fixture
def typed(books: Books, capsys: pytest.CaptureFixture[str]) -> Typed:
    return Typed(books.folder, capsys)


def test_a_pickup_leaves_two_files_for_its_owner_alone(books: Books) -> None:
    done = picked_up(books, 1, "cash")
    folder = books.folder / "receipts"
    assert sorted(each.name for each in folder.iterdir()) == ["receipt-job-1-entry-1.pdf", "receipt-job-1-entry-1.txt"]
    assert (done.pdf.parent, done.receipt.parent) == (folder, folder)
    if os.name != "nt":
        assert {each.stat().st_mode & 0o777 for each in folder.iterdir()} == {0o600}


@pytest.mark.parametrize("way", ["a file where the folder should be", "a disk that takes no file"])
def test_a_receipt_that_cannot_be_written_books_nothing(
    way: str, books: Books, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = books.folder / "receipts"
    if way == "a disk that takes no file":
        monkeypatch.setattr("ledger.books.transaction.write_durably", fail_at_the_second_file())
    else:
        folder.rmdir()
        folder.write_text("in the way", encoding="utf-8")
    with pytest.raises(Refused, match="so nothing was written"):
        picked_up(books, 1, "cash")
    assert entries_of(books) == ()
    assert read_job(books, 1).status == "in-hand"
    assert not folder.is_dir() or list(folder.iterdir()) == []


def test_a_defect_while_printing_books_nothing(books: Books, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> bytes:
        raise ZeroDivisionError

    monkeypatch.setattr("ledger.jobs.printing.sheet_pdf", broken)
    with pytest.raises(ZeroDivisionError):
        picked_up(books, 1, "cash")
    assert entries_of(books) == ()
    assert list((books.folder / "receipts").iterdir()) == []


def test_the_pickup_command_says_where_both_files_are(typed: Typed) -> None:
    receipt = typed("pickup", "1", "--paid", "cash")["receipt"]
    assert Path(receipt["pdf"]).read_bytes().startswith(b"%PDF-")
    assert Path(receipt["text"]).read_text(encoding="utf-8").startswith("Lantern Quilting\n")


def test_the_receipt_command_prints_it_again_beside_the_first(typed: Typed) -> None:
    first = typed("pickup", "1", "--paid", "cash")
    before = Path(first["receipt"]["pdf"]).read_bytes(), Path(first["receipt"]["text"]).read_bytes()
    for each in first["receipt"].values():
        Path(each).unlink()
    again = typed("receipt", "1")
    assert again == {"job": 1, "entry": 1, **first["receipt"]}
    assert (Path(again["pdf"]).read_bytes(), Path(again["text"]).read_bytes()) == before


def test_the_receipt_command_prints_into_another_folder(typed: Typed, tmp_path: Path) -> None:
    typed("pickup", "1", "--paid", "cash")
    folder = tmp_path / "for the post" / "today"
    again = typed("receipt", "1", "--to", str(folder))
    assert sorted(folder.iterdir()) == [Path(again["pdf"]), Path(again["text"])]


def test_a_work_given_away_has_a_receipt_of_no_entry(typed: Typed) -> None:
    first = typed("pickup", "1", "--discount", "40.00")
    again = typed("receipt", "1")
    assert (first["entry"], again["entry"]) == (None, None)
    assert Path(again["pdf"]).name == "receipt-job-1.pdf"


def test_a_person_reads_the_receipt_and_where_it_is(books: Books, capsys: pytest.CaptureFixture[str]) -> None:
    done = picked_up(books, 1, "cash")
    assert main(["receipt", "1", "--books", str(books.folder), "--on", "2026-01-09"]) == 0
    out = capsys.readouterr().out
    assert out == f"{done.receipt.read_text(encoding='utf-8')}\nFor paper: {done.pdf}\nAs text: {done.receipt}\n"


@pytest.mark.parametrize(
    ("words", "field"), [(("receipt", "1"), "job"), (("receipt", "7"), "job"), (("quote", "7"), "job")]
)
def test_what_cannot_be_printed_is_refused(words: tuple[str, ...], field: str, typed: Typed) -> None:
    assert typed(*words, code=1)["refused"]["field"] == field


@pytest.mark.parametrize("command", ["receipt", "quote"])
def test_a_folder_that_takes_no_file_is_refused_and_gets_none(command: str, typed: Typed, tmp_path: Path) -> None:
    if command == "receipt":
        typed("pickup", "1", "--paid", "cash")
    in_the_way = tmp_path / "in the way"
    in_the_way.write_text("a file", encoding="utf-8")
    assert typed(command, "1", "--to", str(in_the_way), code=1)["refused"]["field"] == "to"
    assert typed(command, "1", "--to", "", code=1)["refused"]["field"] == "to"
    assert in_the_way.read_text(encoding="utf-8") == "a file"


@pytest.mark.parametrize("command", ["receipt", "quote"])
def test_printing_writes_nothing_into_the_books(command: str, books: Books, typed: Typed) -> None:
    deposit(books, 1, "10.00")
    if command == "receipt":
        typed("pickup", "1", "--paid", "cash")
    before = (books.folder / "books.sqlite3").read_bytes()
    typed(command, "1")
    assert (books.folder / "books.sqlite3").read_bytes() == before


def fail_at_the_second_file() -> Any:
    """Stands for the disk: the first file is written, the second is not."""
    from ledger.books import places

    written: list[Path] = []

    def write(path: Path, content: bytes) -> None:
        if written:
            raise OSError(28, "No space left on device")
        written.append(path)
        places.write_durably(path, content)

    return write
