"""One transaction: rows, documents and receipts stand together or not at all, whatever ends it."""

from __future__ import annotations

import hashlib
import os
import sqlite3
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.documents import DOCUMENT_LIMIT_BYTES, attach, read_document
from ledger.books.places import DOCUMENTS, RECEIPTS, books_file
from ledger.books.prove import prove
from ledger.books.transaction import Writing, transaction
from ledger.errors import BooksNotUsable, NotFound, NotPossible
from tests.books.plain_sql import content_of

CONTENT = b"a scan"
DIGEST = hashlib.sha256(CONTENT).hexdigest()


class StoppedAfter(sqlite3.Connection):
    """A connection on which Ctrl+C arrives as a statement comes back."""

    statement = ""

    def execute(self, sql: str, *values: object) -> sqlite3.Cursor:  # type: ignore[override]
        found = super().execute(sql, *values)  # type: ignore[arg-type]
        if sql == self.statement:
            raise KeyboardInterrupt
        return found


def stopped_after(books: Books, statement: str) -> Books:
    connection = sqlite3.connect(books_file(books.folder), isolation_level=None, factory=StoppedAfter)
    connection.row_factory = sqlite3.Row
    connection.statement = statement
    return replace(books, connection=connection)


def receipt_of(books: Books) -> Path:
    return books.folder / RECEIPTS / "receipt.txt"


def keep(books: Books, write: Writing) -> None:
    attach(books, write, CONTENT, "scan.png", entry=1)
    write.add_file(receipt_of(books), b"thank you")


def keep_and_fail(books: Books, error: BaseException) -> None:
    with books.writing() as write:
        keep(books, write)
        raise error


def traces(books: Books) -> list[str]:
    """What the act could leave in the folder."""
    folders = [books.folder / DOCUMENTS, books.folder / RECEIPTS]
    names = {each.name for folder in folders for each in folder.iterdir()}
    return sorted(name for name in names if DIGEST in name or "receipt.txt" in name)


def test_rows_document_and_receipt_are_there_after_the_commit(books: Books) -> None:
    with books.writing() as write:
        keep(books, write)
        assert traces(books) == [f".{receipt_of(books).name}.part", DIGEST]
    assert traces(books) == [DIGEST, "receipt.txt"]
    assert (books.folder / DOCUMENTS / DIGEST).read_bytes() == CONTENT
    assert receipt_of(books).read_bytes() == b"thank you"
    assert prove(books).ok


@pytest.mark.parametrize("error", [NotPossible("No.", "Never mind."), KeyboardInterrupt(), ZeroDivisionError()])
def test_nothing_is_there_after_an_error(error: BaseException, books: Books) -> None:
    before = content_of(books_file(books.folder))
    with pytest.raises(type(error)):
        keep_and_fail(books, error)
    assert traces(books) == []
    assert content_of(books_file(books.folder)) == before
    with books.writing() as write:
        keep(books, write)
    assert prove(books).ok


def test_ctrl_c_as_the_commit_comes_back_takes_nothing_away(books: Books) -> None:
    stopped = stopped_after(books, "commit")
    with pytest.raises(KeyboardInterrupt), stopped.writing() as write:
        keep(stopped, write)
    stopped.connection.close()
    assert traces(books) == [DIGEST, "receipt.txt"]
    assert books.value("select count(*) from attachment where digest = ?", (DIGEST,)) == 1
    assert prove(books).ok


def test_ctrl_c_before_the_commit_takes_everything_away(books: Books) -> None:
    stopped = stopped_after(books, "select * from attachment where id = ?")
    with pytest.raises(KeyboardInterrupt), stopped.writing() as write:
        keep(stopped, write)
    stopped.connection.close()
    assert traces(books) == []
    assert prove(books).ok


def test_a_document_that_lies_there_is_left_where_the_act_fails(books: Books) -> None:
    with books.writing() as write:
        attach(books, write, CONTENT, "scan.png", entry=1)
    with pytest.raises(NotPossible):
        keep_and_fail(books, NotPossible("No.", "Never mind."))
    assert traces(books) == [DIGEST]
    assert prove(books).ok


@pytest.mark.parametrize("left", [b"", b"a sc", b"another"])
def test_half_a_document_that_a_kill_left_is_written_again(left: bytes, books: Books) -> None:
    (books.folder / DOCUMENTS / DIGEST).write_bytes(left)
    with books.writing() as write:
        attach(books, write, CONTENT, "scan.png", entry=1)
    assert (books.folder / DOCUMENTS / DIGEST).read_bytes() == CONTENT
    assert prove(books).ok


def test_a_document_is_never_under_its_name_before_it_is_whole(books: Books, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[list[str]] = []

    def look_at(function: Callable[[int], None]) -> Callable[[int], None]:
        def synced(handle: int) -> None:
            seen.append(traces(books))
            function(handle)

        return synced

    monkeypatch.setattr(os, "fsync", look_at(os.fsync))
    with books.writing() as write:
        attach(books, write, CONTENT, "scan.png", entry=1)
    assert seen[0] == [f".{DIGEST}.part"]
    assert traces(books) == [DIGEST]


def test_a_part_that_failed_keeps_the_whole_from_being_committed(books: Books) -> None:
    def act(within: Books, fails: bool) -> None:
        with within.writing() as write:
            attach(within, write, CONTENT + bytes([fails]), "scan.png", entry=1)
            if fails:
                raise NotPossible("No.", "Never mind.")

    def act_in_two_parts(joined: Books) -> None:
        act(joined, False)
        with pytest.raises(NotPossible):
            act(joined, True)

    before = content_of(books_file(books.folder))
    with pytest.raises(AssertionError, match="of which a part failed"), books.all_or_nothing() as joined:
        act_in_two_parts(joined)
    assert content_of(books_file(books.folder)) == before
    with books.all_or_nothing() as joined:
        act(joined, False)
        act(joined, False)
    assert books.value("select count(*) from attachment") == 3


def test_text_is_kept_in_one_form_whoever_hands_it_in(books: Books) -> None:
    with books.writing() as write:
        write.add("answer", item="cafe\N{COMBINING ACUTE ACCENT}", state="open", on_date=books.today.isoformat())
    assert books.value("select item from answer order by id desc limit 1") == "caf\N{LATIN SMALL LETTER E WITH ACUTE}"
    assert prove(books).ok


def test_a_folder_for_documents_that_is_a_file_is_a_sentence(books: Books) -> None:
    before = content_of(books_file(books.folder))
    documents = books.folder / DOCUMENTS
    for each in documents.iterdir():
        each.unlink()
    documents.rmdir()
    documents.write_bytes(b"")
    with pytest.raises(BooksNotUsable, match="cannot be written to, so nothing was written"), books.writing() as write:
        attach(books, write, CONTENT, "scan.png", entry=1)
    assert content_of(books_file(books.folder)) == before


def test_a_defect_within_a_transaction_stays_a_defect(books: Books) -> None:
    joined = transaction(books.connection, books.folder)
    with pytest.raises(sqlite3.OperationalError, match="no such table"), joined as write:
        write.connection.execute("insert into nowhere values (1)")
    assert not books.connection.in_transaction


def test_documents_to_attach_are_there_not_empty_and_not_too_large(tmp_path: Path) -> None:
    empty, large = tmp_path / "empty.png", tmp_path / "large.png"
    empty.write_bytes(b"")
    with large.open("wb") as file:
        file.truncate(DOCUMENT_LIMIT_BYTES + 1)
    with pytest.raises(NotFound, match="is no file"):
        read_document(tmp_path / "none.png")
    with pytest.raises(NotPossible, match="empty.png is empty"):
        read_document(empty)
    with pytest.raises(NotPossible, match="larger than 20 MB"):
        read_document(large)
    with large.open("wb") as file:
        file.truncate(DOCUMENT_LIMIT_BYTES)
    assert len(read_document(large)) == DOCUMENT_LIMIT_BYTES


def test_a_label_is_cleaned_cut_and_never_empty(books: Books) -> None:
    with books.writing() as write:
        for label in ("\x1b[2J.png", "w" * 300, ""):
            attach(books, write, CONTENT, label, entry=1)
    labels = [row["label"] for row in books.rows("select label from attachment order by id desc limit 3")]
    assert labels == ["document", "w" * 200, "\N{REPLACEMENT CHARACTER}[2J.png"]
