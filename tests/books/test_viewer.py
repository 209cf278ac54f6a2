"""A document is handed to the system's viewer as a copy whose ending fits its content, and by no shell."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from ledger.actions import attach
from ledger.books import viewer
from ledger.books.books import Books
from ledger.books.documents import Document, odd_name, read_documents
from ledger.books.viewer import show_document, viewer_words
from ledger.errors import BooksDamaged, BooksNotUsable, NotFound, NotPossible
from tests.workshop import begin, spent

PDF = b"%PDF-1.7 a receipt"


class Started:
    """Stands for the system: keeps what it was told to start."""

    def __init__(self) -> None:
        self.words: list[Sequence[str]] = []

    def __call__(self, words: Sequence[str]) -> None:
        self.words.append(words)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books", opening_cents=1_000_00)
    yield opened
    opened.close()


@pytest.fixture(autouse=True)
def has_viewer(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(viewer, "viewer_words", lambda *_: ("open",))
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))


def kept(books: Books, tmp_path: Path, content: bytes, name: str = "$(reboot); scan.pdf") -> Document:
    file = tmp_path / name
    file.write_bytes(content)
    entry = spent(books, "10.00", "thread", "checking")
    attach.perform(books, attach.AttachRequest(file, entry=entry))
    return read_documents(books, entry=entry)[0]


@pytest.mark.parametrize(
    ("content", "ending"),
    [(PDF, ".pdf"), (b"\xff\xd8\xff\xe0 photo", ".jpg"), (b"#!/bin/sh\nreboot\n", ".txt"), (b"<script>", ".txt")],
)
def test_the_copy_has_the_ending_of_its_content_and_nothing_of_its_old_name(
    books: Books, tmp_path: Path, content: bytes, ending: str
) -> None:
    started = Started()
    copy = show_document(books, kept(books, tmp_path, content), started)
    assert started.words == [("open", str(copy))]
    assert copy.read_bytes() == content
    assert copy.suffix == ending
    assert "reboot" not in copy.name
    if sys.platform != "win32":
        assert (copy.stat().st_mode & 0o077, copy.parent.stat().st_mode & 0o077) == (0, 0)


@pytest.mark.parametrize("content", [b"MZ\x90\x00\x03\xff", b"\x7fELF\x02\xfe", b"PK\x03\x04 a zip"])
def test_what_could_be_a_program_is_not_opened_and_its_place_is_told(
    books: Books, tmp_path: Path, content: bytes
) -> None:
    started, document = Started(), kept(books, tmp_path, content, "photo.jpg")
    with pytest.raises(NotPossible, match="only pictures, PDF and text") as refused:
        show_document(books, document, started)
    assert document.digest in refused.value.do
    assert started.words == []


def test_a_document_that_is_gone_or_was_changed_is_not_opened(books: Books, tmp_path: Path) -> None:
    document = kept(books, tmp_path, PDF)
    file = books.folder / "documents" / document.digest
    file.chmod(0o600)
    file.write_bytes(b"%PDF-1.7 another")
    with pytest.raises(BooksDamaged, match="not the one that was kept"):
        show_document(books, document, Started())
    file.unlink()
    with pytest.raises(NotFound, match="not in the books folder"):
        show_document(books, document, Started())


def test_a_viewer_that_does_not_start_is_a_sentence(books: Books, tmp_path: Path) -> None:
    def fails(words: Sequence[str]) -> None:
        raise PermissionError(13, "Permission denied")

    with pytest.raises(BooksNotUsable, match="cannot be shown: Permission denied"):
        show_document(books, kept(books, tmp_path, PDF), fails)


def test_each_system_has_its_opener_and_one_without_a_screen_has_none() -> None:
    def found(name: str) -> str | None:
        return f"/usr/bin/{name}"

    assert viewer_words("darwin", {}, found) == ("open",)
    assert viewer_words("win32", {}, found) == ("start",)
    for screen in ("DISPLAY", "WAYLAND_DISPLAY"):
        assert viewer_words("linux", {screen: ":0"}, found) == ("/usr/bin/xdg-open",)
    for environment, find in (({}, found), ({"DISPLAY": ""}, found), ({"DISPLAY": ":0"}, lambda _: None)):
        assert viewer_words("linux", environment, find) is None


def test_where_there_is_no_viewer_the_place_of_the_document_is_told(
    books: Books, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(viewer, "viewer_words", lambda *_: None)
    document = kept(books, tmp_path, PDF)
    with pytest.raises(NotPossible, match="no viewer") as refused:
        show_document(books, document, Started())
    assert str(books.folder / "documents" / document.digest) in refused.value.do


@pytest.mark.skipif(sys.platform == "win32", reason="Windows opens files by itself")
def test_the_words_reach_the_program_one_by_one_and_no_shell_reads_them(tmp_path: Path) -> None:
    """The file's name would make a second file, were it read by a shell."""
    written, trap = tmp_path / "words", tmp_path / "made by a shell"
    script = f"import sys; open({str(written)!r}, 'w').write(repr(sys.argv[1:]))"
    name = f"$(touch '{trap}')"
    viewer._run((sys.executable, "-c", script, name))
    viewer._STARTED[-1].wait(timeout=60)
    assert written.read_text() == repr([name])
    assert not trap.exists()


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("scan.pdf", b"hello", "named as a PDF, and by its content it is text"),
        ("photo.JPG", PDF, "named as a JPEG picture, and by its content it is a PDF"),
        ("photo.heic", b"\x00\xff", "named as an HEIC picture"),
        ("scan.pdf", PDF, None),
        ("photo.jpeg", b"\xff\xd8\xff", None),
        ("letter", PDF, None),
        ("letter.doc", PDF, None),
    ],
)
def test_a_name_that_says_another_thing_than_the_content_is_told(name: str, content: bytes, said: str | None) -> None:
    odd = odd_name(name, content)
    assert odd is None if said is None else odd is not None and said in odd
