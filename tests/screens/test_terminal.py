"""In a real terminal: keys in one burst, a resize, two windows on one folder, and everything left as it was."""

from __future__ import annotations

import os
import re
import shlex
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.entries import read_page
from ledger.books.places import BOOKS_FILE
from tests.screens.small_books import READY, SECOND_READY, TODAY
from tests.screens.terminal import TMUX, terminal
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
def test_ctrl_z_gives_the_shell_back_as_it_was_and_fg_the_rooms_with_what_was_booked_meanwhile(
    books: Books, tmp_path: Path
) -> None:
    with terminal(tmp_path) as window:
        settings, state = window.line_settings(), window.state()
        window.open_rooms("--books", str(books.folder), "--on", DAY)
        window.wait_for("2 ready for pickup")
        window.keys("s")
        window.wait_for("Whole receipt")
        window.type("Cor")
        window.wait_for("Cor")
        window.keys("C-z")
        window.wait_for_prompt()
        assert window.state() == state
        assert window.line_settings() == settings
        window.open_rooms("pickup", str(READY), "--paid", "cash", "--books", str(books.folder), "--on", DAY)
        window.wait_for("eceipt")
        window.command("fg")
        window.wait_for("Whole receipt", "Cor")
        window.keys("Escape")
        window.wait_for("Leave without saving?")
        window.keys("y")
        window.wait_for("1 ready for pickup")
        window.keys("C-q")
        window.wait_for_prompt()
        assert window.state() == state
        assert window.line_settings() == settings


@needs_tmux
@pytest.mark.slow
@pytest.mark.parametrize("told", ["TERM", "HUP"])
def test_ended_from_outside_it_leaves_the_terminal_as_it_was(books: Books, tmp_path: Path, told: str) -> None:
    with terminal(tmp_path) as window:
        settings, state = window.line_settings(), window.state()
        window.open_rooms("--books", str(books.folder), "--on", DAY)
        window.wait_for("2 ready for pickup")
        shell = window.tmux("display-message", "-p", "#{pane_pid}").strip()
        rooms = subprocess.run(["pgrep", "-P", shell], capture_output=True, encoding="utf-8", check=True).stdout
        os.kill(int(rooms), signal.Signals[f"SIG{told}"])
        window.wait_for_prompt()
        assert window.state() == state
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
