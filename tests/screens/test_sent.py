"""What is sent to a terminal, byte by byte: colours that it has, signs that it has, and all switched off in the end."""

from __future__ import annotations

import os
import re
import sys
import time
from collections.abc import Mapping

import pytest

from ledger.books.books import Books
from tests.screens.small_books import TODAY
from tests.structure.tree import CHECKOUT

pexpect = pytest.importorskip("pexpect", reason="there is no terminal of this kind here")
DAY = TODAY.isoformat()
# «Select graphic rendition» of ISO 6429, and those of its codes that are colours.
STYLED = re.compile(rb"\x1b\[([0-9;:]*)m")
COLOUR = re.compile(rb"\x1b\[(?:[0-9;:]*[;:])?(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])(?:[;:][0-9;:]*)?m")
OWN = {*range(30, 38), *range(40, 48), *range(90, 98), *range(100, 108)}
NO_COLOUR = {0, 1, 3, 4, 7, 9, 22, 23, 24, 27, 29, 39, 49}
SWITCHED_OFF = (b"\x1b[?2004l", b"\x1b[?1000l", b"\x1b[?1003l", b"\x1b[?1049l", b"\x1b[?25h", b"\x1b[?7h")
ESCAPE = "\x1b"
# What to wait for, and the keys to send then: through every room and some forms. Typed letters come one by one.
TOUR = (
    (b"Quit", "1"),
    (b"in the house", "2"),
    (b"household checking", "3"),
    (b"months", "4"),
    (b"To move|to move|draw", "5"),
    (b"cash method", "6"),
    (b"settled", ESCAPE),
    (b"Quit", "s"),
    (b"Whole receipt", ESCAPE),
    (b"Quit", "?"),
    (b"Ctrl\\+Q", ESCAPE),
    (b"Quit", "p"),
    (b"Ada Brook", ESCAPE),
    (b"Quit", "/"),
    (b"Guide", ESCAPE),
    (b"Quit", "\x11"),
)


def sent_in(books: Books, environment: Mapping[str, str], tour: tuple[tuple[bytes, str], ...] = TOUR) -> bytes:
    """All that the program sends in a terminal of 80 by 24, from its start to its end."""
    surroundings = {**os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor", **environment}
    command = ["-m", "ledger.cli", "--books", str(books.folder), "--on", DAY]
    child = pexpect.spawn(sys.executable, command, env=surroundings, cwd=str(CHECKOUT), dimensions=(24, 80), timeout=15)
    sent = bytearray()
    for words, key in tour:
        child.expect(words)
        sent += child.before + child.after
        child.send(key)
        if key == ESCAPE:
            time.sleep(0.3)  # what follows at once would be one key with it
    child.expect(pexpect.EOF)
    sent += child.before
    child.close()
    assert child.exitstatus == 0
    return bytes(sent)


@pytest.mark.slow
@pytest.mark.parametrize(("no_color", "coloured"), [("1", False), ("", True)])
def test_no_code_for_a_colour_is_sent_where_none_is_wanted(books: Books, no_color: str, coloured: bool) -> None:
    short = ((b"Quit", "1"), (b"pieces in the house", "2"), (b"household checking", "\x11"))
    sent = sent_in(books, {"NO_COLOR": no_color}, short)
    assert bool(COLOUR.search(sent)) == coloured
    end = sent[-400:]
    assert [each for each in SWITCHED_OFF if each not in end] == []


@pytest.mark.slow
def test_in_the_terminals_own_colours_no_other_code_is_sent(books: Books) -> None:
    codes = [found[1] for found in STYLED.finditer(sent_in(books, {"TWOPURSE_THEME": "terminal"}))]
    used = {int(each or 0) for code in codes for each in code.split(b";")}
    assert used <= OWN | NO_COLOUR
    assert used & OWN, "and some is"


@pytest.mark.slow
def test_where_the_terminal_has_ascii_alone_nothing_else_is_sent(books: Books) -> None:
    sent = sent_in(books, {"LC_ALL": "", "LANG": "C", "LC_CTYPE": ""})
    assert max(sent) < 128
    assert b"+-" in sent


@pytest.mark.slow
def test_letters_are_sent_and_read_in_the_terminals_own_codec(books: Books) -> None:
    tour = ((b"Quit", "s"), (b"Whole receipt", b"Jos\xe9 "), (b"\xe9", ESCAPE), (b"leave", "y"), (b"Quit", "\x11"))
    sent = sent_in(books, {"LC_ALL": "en_US.ISO-8859-1"}, tour)
    assert "é".encode() not in sent


def test_what_is_a_code_for_a_colour() -> None:
    for code in (b"\x1b[31m", b"\x1b[1;38;2;1;2;3m", b"\x1b[48;5;7m", b"\x1b[97m"):
        assert COLOUR.search(code)
    for code in (b"\x1b[0m", b"\x1b[1m", b"\x1b[7m", b"\x1b[39;49m"[:0], b"\x1b[2J", b"\x1b[4m"):
        assert not COLOUR.search(code)
