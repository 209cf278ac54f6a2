"""In a real terminal: keys in one burst, a resize, two windows on one folder, and everything left as it was."""

from __future__ import annotations

import os
import re
import shlex
import sys
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.entries import read_page
from ledger.books.places import BOOKS_FILE
from tests.screens.small_books import READY, SECOND_READY, TODAY
from tests.screens.terminal import TMUX, terminal
from tests.structure.tree import CHECKOUT
from tests.workshop import balance_of, reopened

needs_tmux = pytest.mark.skipif(TMUX is None, reason="tmux is not installed")
DAY = TODAY.isoformat()
# Colours of letters and grounds among the codes of ISO 6429, «select graphic rendition».
COLOUR = re.compile(rb"\x1b\[(?:[0-9;:]*[;:])?(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])(?:[;:][0-9;:]*)?m")


@needs_tmux
def test_a_burst_of_keys_books_a_pickup_and_the_terminal_is_left_as_it_was(books: Books, tmp_path: Path) -> None:
    with terminal(tmp_path) as window:
        settings, state = window.line_settings(), window.state()
        window.command("clear; echo before")
        before = window.wait_for_prompt()
        window.open_rooms("--books", str(books.folder), "--on", DAY)
        window.wait_for("Lantern Quilting · Home", "2 ready for pickup")
        assert window.state()["alternate_on"] == "1"
        window.keys("p", "Enter", "c", "Enter")
        window.wait_for("Booked. The receipt", "Receipt for job 1")
        assert read_page(books, 1)[0].job == READY
        window.keys("Escape")
        window.wait_for("1 ready for pickup")
        window.resize(200, 60)
        window.wait_for("Before income tax and any pay for your time.")
        window.resize(80, 24)
        window.keys("q")
        after = window.wait_for_prompt()
        assert window.state() == state
        assert before.startswith("before\n")
        assert after.startswith("before\n"), "what stood there before is back"
        assert window.line_settings() == settings


@needs_tmux
@pytest.mark.slow
def test_two_windows_on_one_folder_see_each_other_and_no_entry_is_lost(books: Books, tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "other").mkdir()
    with terminal(tmp_path / "one") as one, terminal(tmp_path / "other") as other:
        for window in (one, other):
            window.open_rooms("--books", str(books.folder), "--on", DAY)
        for window in (one, other):
            window.wait_for("2 ready for pickup")
        one.keys("p", "Enter", "c", "Enter")
        one.wait_for("Booked. The receipt")
        other.wait_for("1 ready for pickup")
        other.keys("p", "Enter", "k", "Enter")
        other.wait_for("Booked. The receipt")
        one.keys("Escape")
        one.wait_for("0 ready for pickup")
        assert [entry.job for entry in read_page(books, 2)] == [SECOND_READY, READY]


@needs_tmux
@pytest.mark.slow
def test_from_nothing_to_a_first_pickup_as_the_readme_says(tmp_path: Path) -> None:
    """Six questions, a price, the job, the pickup, without leaving the rooms once."""
    folder = tmp_path / "books"
    at = ("--books", str(folder), "--on", DAY)
    with terminal(tmp_path) as window:
        window.open_rooms(*at)
        window.wait_for("6 Owned as")
        for answer in ("Lantern", "", "18500", "", "", "1"):
            window.type(answer)
            window.keys("Enter")
        window.wait_for("Lantern · Home", "No piece is here.")
        window.keys("1", "m")
        window.wait_for("Measured by")
        for typed in ("edge-to-edge", "area", "0.02", "work"):
            window.type(typed)
            window.keys("Enter")
        window.keys("C-s")
        window.wait_for("edge-to-edge: 0.02 by area, work")
        window.keys("n")
        window.wait_for("New job", "edge-to-edge")
        for typed in ("Ada Brook", "Log cabin", "56", "72", "400", "x"):
            window.type(typed)
            window.keys("Enter")
        window.wait_for("80.64")
        window.keys("C-s")
        window.wait_for("1 piece in the house")
        window.keys("p", "Enter", "c", "Enter")
        window.wait_for("Booked. The receipt", "Receipt for job 1")
        window.keys("Escape", "C-q")
        window.wait_for_prompt()
    books = reopened(folder, TODAY)
    assert balance_of(books, "cash box") == 80_64
    books.close()


@needs_tmux
@pytest.mark.slow
def test_a_defect_is_a_sentence_after_the_rooms_and_the_terminal_is_whole(books: Books, tmp_path: Path) -> None:
    code = (
        "import sys, ledger.screens.app as rooms; from ledger.cli import main; "
        "rooms.form_of = lambda *_: 1 / 0; sys.exit(main(sys.argv[1:]))"
    )
    with terminal(tmp_path) as window:
        state = window.state()
        window.command(shlex.join([sys.executable, "-c", code, "--books", str(books.folder), "--on", DAY]))
        window.wait_for("2 ready for pickup")
        window.keys("s")
        window.wait_for("This is a defect of the program (ZeroDivisionError")
        window.command("echo left with $?")
        screen = window.wait_for("\nleft with 3")
        assert "Traceback" not in screen
        assert "Ada Brook" not in screen
        assert window.state() == state


@needs_tmux
@pytest.mark.slow
def test_books_that_cannot_be_opened_are_a_sentence_and_no_rooms(tmp_path: Path) -> None:
    folder = tmp_path / "books"
    folder.mkdir()
    (folder / BOOKS_FILE).write_bytes(b"junk" * 100)
    with terminal(tmp_path) as window:
        window.open_rooms("--books", str(folder), "--on", DAY)
        window.wait_for("is no books file")
        window.command("echo left with $?")
        window.wait_for("\nleft with 1")


@pytest.mark.slow
@pytest.mark.parametrize(("no_color", "coloured"), [("1", False), ("", True)])
def test_no_code_for_a_colour_is_sent_where_none_is_wanted(books: Books, no_color: str, coloured: bool) -> None:
    pexpect = pytest.importorskip("pexpect")
    environment = {**os.environ, "NO_COLOR": no_color, "TERM": "xterm-256color", "COLORTERM": "truecolor"}
    command = ["-m", "ledger.cli", "--books", str(books.folder), "--on", DAY]
    child = pexpect.spawn(sys.executable, command, env=environment, cwd=str(CHECKOUT), dimensions=(24, 80), timeout=60)
    sent = bytearray()
    for words, key in ((b"Quit", "1"), (b"pieces in the house", "2"), (b"household checking", "\x11")):
        child.expect(words)
        sent += child.before
        child.send(key)
    child.expect(pexpect.EOF)
    sent += child.before
    child.close()
    assert child.exitstatus == 0
    assert bool(COLOUR.search(bytes(sent))) == coloured


def test_what_is_a_code_for_a_colour() -> None:
    for code in (b"\x1b[31m", b"\x1b[1;38;2;1;2;3m", b"\x1b[48;5;7m", b"\x1b[97m"):
        assert COLOUR.search(code)
    for code in (b"\x1b[0m", b"\x1b[1m", b"\x1b[7m", b"\x1b[39;49m"[:0], b"\x1b[2J", b"\x1b[4m"):
        assert not COLOUR.search(code)
