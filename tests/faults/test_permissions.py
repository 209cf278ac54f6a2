"""Where the system lets nobody read or write, each command says so, and nothing has changed."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from ledger.books.places import SUBFOLDERS, books_file
from tests.books import sample
from tests.books.calling import twopurse
from tests.books.folders import tree
from tests.faults.unprivileged import as_nobody, open_to_all

__all__ = ["open_to_all"]

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(os.name != "posix", reason="Windows knows permissions of another kind"),
    pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning"),
]
TODAY = sample.TODAY.isoformat()
SPEND = ("spend", "3.00", "--category", "thread", "--from", "checking", "--who", "Shop")
ACTS = {"chart": ("chart",), "prove": ("prove",), "spend": SPEND, "backup": ("backup",)}
CANNOT_READ = "cannot be read. Check who owns the folder and may read it."
CANNOT_WRITE = "cannot be written to, so nothing was written. Check who owns the folder"


def file_not_readable(folder: Path) -> None:
    books_file(folder).chmod(0)


def folder_not_readable(folder: Path) -> None:
    folder.chmod(0)


def nothing_writable(folder: Path) -> None:
    for path in folder.rglob("*"):
        path.chmod(0o555 if path.is_dir() else 0o444)
    folder.chmod(0o555)


def only_the_file_writable(folder: Path) -> None:
    nothing_writable(folder)
    books_file(folder).chmod(0o666)


# What each command is refused with, None where it is done.
CASES: dict[str, tuple[Callable[[Path], None], dict[str, str | None]]] = {
    "a file that cannot be read": (file_not_readable, dict.fromkeys(ACTS, CANNOT_READ)),
    "a folder that cannot be read": (folder_not_readable, dict.fromkeys(ACTS, CANNOT_READ)),
    "a folder that is read-only": (
        nothing_writable,
        {"chart": None, "prove": None, "spend": CANNOT_WRITE, "backup": CANNOT_WRITE},
    ),
    "a read-only folder around a file that is not": (
        only_the_file_writable,
        {"chart": None, "prove": None, "spend": CANNOT_WRITE, "backup": CANNOT_WRITE},
    ),
}


@pytest.fixture
def folder(sample_folder: Path, open_to_all: Path) -> Path:
    """The sample where anyone may go; every command was called once, so that all it needs is imported."""
    for words in ACTS.values():
        assert twopurse(sample_folder, TODAY, *words).code == 0
    copied = Path(shutil.copytree(sample_folder, open_to_all / "books"))
    for path in [copied, *copied.rglob("*")]:
        path.chmod(0o755 if path.is_dir() else 0o644)
    return copied


@pytest.mark.parametrize("name", CASES)
def test_what_the_system_does_not_let_is_a_sentence(name: str, folder: Path) -> None:
    before = tree(folder)
    prepare, sentences = CASES[name]
    prepare(folder)
    answers = as_nobody(lambda: {each: answer(folder, *words) for each, words in ACTS.items()})
    for each, sentence in sentences.items():
        code, said = answers[each]
        assert (code, sentence is None or sentence in said) == (0 if sentence is None else 1, True), (each, said)
    reopen(folder)
    assert tree(folder) == before


def test_books_do_not_begin_where_nobody_may_write(open_to_all: Path, tmp_path: Path) -> None:
    assert answer(tmp_path / "warm", "new", "--name", "A")[0] == 0
    assert answer(tmp_path / "warm", "new", "--name", "A")[0] == 1
    (open_to_all / "closed").mkdir(mode=0)
    (open_to_all / "read").mkdir()
    (open_to_all / "read").chmod(0o555)
    for place in ("closed", "closed/books", "read", "read/books"):
        code, said = as_nobody(lambda place=place: answer(open_to_all / place, "new", "--name", "A"))
        assert code == 1, (place, said)
        assert CANNOT_WRITE in said or "cannot be read. Check who owns it and the folders above it" in said, (
            place,
            said,
        )
    assert {path.name for path in open_to_all.rglob("*")} == {"closed", "read"}


def test_read_only_books_are_backed_up_elsewhere(folder: Path, open_to_all: Path, tmp_path: Path) -> None:
    (open_to_all / "stick").mkdir()
    (open_to_all / "stick").chmod(0o777)
    nothing_writable(folder)
    target = open_to_all / "stick" / "backup.zip"
    code, said = as_nobody(lambda: answer(folder, "backup", str(target)))
    assert code == 0, said
    assert [each.name for each in target.parent.iterdir()] == ["backup.zip"]
    assert twopurse(tmp_path / "other", TODAY, "restore", str(target)).code == 0


def test_a_backup_that_cannot_be_read_is_a_sentence_about_it(made_backup: Path, open_to_all: Path) -> None:
    file = Path(shutil.copy(made_backup, open_to_all / "backup.zip"))
    file.chmod(0)
    (open_to_all / "place").mkdir()
    (open_to_all / "place").chmod(0o777)
    assert twopurse(open_to_all / "none", TODAY, "restore", str(open_to_all / "none.zip")).code == 1
    code, said = as_nobody(lambda: answer(open_to_all / "place" / "books", "restore", str(file)))
    assert (code, "cannot be read. Check its name and who owns it." in said) == (1, True), said
    assert list((open_to_all / "place").iterdir()) == []


def test_a_backup_is_not_restored_where_nobody_may_write(folder: Path, made_backup: Path, open_to_all: Path) -> None:
    before = tree(folder)
    file = Path(shutil.copy(made_backup, open_to_all / "backup.zip"))
    file.chmod(0o644)
    assert twopurse(folder.with_name("warm"), TODAY, "restore", str(file)).code == 0
    nothing_writable(folder)
    code, said = as_nobody(lambda: answer(folder, "restore", str(file)))
    assert (code, CANNOT_WRITE in said) == (1, True), said
    reopen(folder)
    assert tree(folder) == before


@pytest.mark.slow
@pytest.mark.parametrize("name", SUBFOLDERS)
def test_a_folder_within_that_cannot_be_written_keeps_only_what_needs_it(name: str, folder: Path) -> None:
    for path in [folder, books_file(folder), *(folder / each for each in SUBFOLDERS)]:
        path.chmod(0o777)
    (folder / name).chmod(0o555)
    scan = folder.parent / "scan.png"
    scan.write_bytes(b"a scan")
    scan.chmod(0o644)
    words = {
        "documents": (*SPEND, "--document", str(scan)),
        "backups": ("backup",),
        "receipts": ("pickup", "4", "--paid", "cash"),
    }
    warm = Path(shutil.copytree(folder, folder.with_name("warm")))
    for each in words.values():
        reopen(warm)
        assert twopurse(warm, TODAY, *each).code == 0
    entries = as_nobody(lambda: answer(folder, *SPEND))
    assert entries[0] == 0, entries
    for each, asked in words.items():
        before = tree(folder)
        code, said = as_nobody(lambda asked=asked: answer(folder, *asked))
        if each == name:
            assert (code, CANNOT_WRITE in said) == (1, True), said
            assert tree(folder) == before
        else:
            assert code == 0, said


def answer(folder: Path, *words: str) -> tuple[int, str]:
    answered = twopurse(folder, TODAY, *words)
    return answered.code, answered.said


def reopen(folder: Path) -> None:
    folder.chmod(0o755)
    for path in folder.rglob("*"):
        path.chmod(0o755 if path.is_dir() else 0o644)
