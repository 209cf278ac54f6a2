"""A disk that fills up at any point of an act: a sentence, nothing written, and the next act goes through."""

from __future__ import annotations

import errno
import json
import os
import shutil
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from ledger.actions import transfer
from ledger.actions.transfer import TransferRequest
from ledger.books.opening import open_books
from ledger.books.places import DOCUMENTS, books_file
from ledger.books.prove import prove
from ledger.errors import BooksNotUsable
from tests.books import sample
from tests.books.calling import twopurse
from tests.books.folders import tree
from tests.books.plain_sql import content_of

pytestmark = [pytest.mark.faults]
forks = [
    pytest.mark.slow,
    pytest.mark.skipif(not hasattr(os, "fork"), reason="this system limits no file by RLIMIT_FSIZE"),
    pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning"),
]
TODAY = sample.TODAY.isoformat()
SPEND = ("spend", "3.00", "--category", "thread", "--from", "checking", "--who", "A shop of a new name")
FULL = "The disk is full, so nothing was written. Make room on it and try again."


def with_room_for(bytes_a_file: int, folder: Path, *words: str) -> tuple[int, str]:
    """A command in a child whose files may not grow beyond a size: its exit code and what it said."""
    import resource

    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        said: Any = [99, ""]
        try:
            resource.setrlimit(resource.RLIMIT_FSIZE, (bytes_a_file, bytes_a_file))
            answered = twopurse(folder, TODAY, *words)
            said = [answered.code, answered.said]
        finally:
            os.write(theirs, json.dumps(said).encode())
            os._exit(0)
    os.close(theirs)
    with open(ours, "rb") as pipe:
        code, said = json.loads(pipe.read())
    os.waitpid(child, 0)
    return code, said


def needs_fork(test: Any) -> Any:
    for mark in forks:
        test = mark(test)
    return test


@needs_fork
def test_the_limit_bites(tmp_path: Path) -> None:
    """Otherwise the tests below would show nothing."""
    import resource

    child = os.fork()
    if child == 0:
        code = 1
        try:
            resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
            with (tmp_path / "file").open("wb", buffering=0) as file:
                while True:
                    file.write(b"x" * 1024)
        except OSError as error:
            code = 0 if error.errno == errno.EFBIG else 2
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == 0
    assert (tmp_path / "file").stat().st_size == 4096


@needs_fork
def test_a_disk_that_is_full_at_any_step_of_an_act_keeps_all_of_it_out(sample_folder: Path, tmp_path: Path) -> None:
    """With room for nothing, then for two pages more each time, until the act goes through.

    The limit holds for pages that stand in the file already too, so that even rolling back may have to wait for room:
    the journal then stays, and the next opening rolls back.
    """
    scan = tmp_path / "scan.png"
    scan.write_bytes(os.urandom(30_000))
    words = (*SPEND, "--document", str(scan))
    twopurse(Path(shutil.copytree(sample_folder, tmp_path / "warm")), TODAY, *words)
    before, documents, refusals = content_of(books_file(sample_folder)), tree(sample_folder / DOCUMENTS), 0
    most = books_file(sample_folder).stat().st_size + 100 * 4096
    for room in [0, 512, *range(4096, most, 2 * 4096)]:
        code, said = with_room_for(room, sample_folder, *words)
        if code == 0:
            break
        refusals += 1
        assert (code, said) == (1, FULL), room
        assert content_of(books_file(sample_folder)) == before, room
        assert tree(sample_folder / DOCUMENTS) == documents, room
    assert code == 0
    assert refusals > 20
    with closing(open_books(sample_folder, sample.clock_on(sample.TODAY))) as books:
        assert prove(books).findings == ()
        assert prove(books).entries == 16


@needs_fork
@pytest.mark.parametrize("room", [0, 4096, 20_000, 60_000, 200_000, 300_000])
def test_a_disk_that_is_full_lets_no_books_begin_and_no_half_ones_stay(room: int, tmp_path: Path) -> None:
    sample.begin(tmp_path / "warm")
    code, said = with_room_for(room, tmp_path / "books", "new", "--name", "A")
    assert (code, said) == (1, FULL)
    assert list((tmp_path / "books").iterdir()) == []
    sample.begin(tmp_path / "books")


@needs_fork
@pytest.mark.parametrize("room", [512, 4096, 60_000, 250_000])
@pytest.mark.parametrize("where", ["its own folder", "another folder"])
def test_a_disk_that_is_full_leaves_no_half_backup(room: int, where: str, sample_folder: Path, tmp_path: Path) -> None:
    (tmp_path / "stick").mkdir()
    words = ("backup",) if where == "its own folder" else ("backup", str(tmp_path / "stick" / "backup.zip"))
    assert twopurse(Path(shutil.copytree(sample_folder, tmp_path / "warm")), TODAY, "backup").code == 0
    before = tree(sample_folder)
    code, said = with_room_for(room, sample_folder, *words)
    assert (code, said) == (1, FULL)
    assert tree(sample_folder) == before
    assert list((tmp_path / "stick").iterdir()) == []
    assert twopurse(sample_folder, TODAY, *words).code == 0


@needs_fork
@pytest.mark.parametrize("room", [0, 4096, 60_000, 250_000])
def test_a_disk_that_is_full_leaves_the_books_that_a_backup_was_to_replace(
    room: int, begun_folder: Path, made_backup: Path, tmp_path: Path
) -> None:
    assert twopurse(tmp_path / "warm", TODAY, "restore", str(made_backup)).code == 0
    before = tree(begun_folder.parent)
    code, said = with_room_for(room, begun_folder, "restore", str(made_backup))
    assert (code, said) == (1, FULL)
    assert tree(begun_folder.parent) == before
    assert twopurse(begun_folder, TODAY, "restore", str(made_backup)).code == 0


def test_a_file_that_may_not_grow_keeps_every_entry_that_was_acknowledged(begun_folder: Path) -> None:
    """The database's own limit of pages, on the connection itself: entries until it is full, and then on."""
    request = TransferRequest("move", 100, "checking", "cash box", why="w" * 400)
    with closing(open_books(begun_folder, sample.clock_on(sample.TODAY))) as books:
        pages = books.value("pragma page_count")
        assert books.value(f"pragma max_page_count = {pages}") == pages
        sealed = []
        refusal = None
        while refusal is None and len(sealed) < 500:
            before = content_of(books_file(begun_folder))
            try:
                sealed.append(transfer.perform(books, request))
            except BooksNotUsable as found:
                refusal = found
        assert str(refusal) == FULL, "the limit did not bite"
        assert sealed, "there was no room from the first"
        assert content_of(books_file(begun_folder)) == before
        assert [row["digest"] for row in books.rows("select digest from seal where number > 2")] == [
            each.digest for each in sealed
        ]
        books.value("pragma max_page_count = 1000000")
        assert transfer.perform(books, request).number == len(sealed) + 3
        assert prove(books).findings == ()
