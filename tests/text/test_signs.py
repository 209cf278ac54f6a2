"""Signs: what a terminal can show by what is said of it, and ASCII in place of what it cannot."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from ledger.signs import ASCII, UTF_8, draws, in_ascii, speak, terminal_encoding
from tests.structure.tree import files_in, text_of

OUR_SIGNS = sorted(
    {
        sign
        for file in files_in("ledger")
        if file.suffix in (".py", ".tcss")
        for sign in text_of(file)
        if ord(sign) > 127
    }
)


@pytest.mark.parametrize(
    ("environment", "encoding"),
    [
        ({}, UTF_8),
        ({"LANG": "en_US.UTF-8"}, UTF_8),
        ({"LANG": "de_DE.ISO-8859-15@euro"}, "iso8859-15"),
        ({"LANG": "C"}, ASCII),
        ({"LC_ALL": "POSIX", "LANG": "en_US.UTF-8"}, ASCII),
        ({"LC_CTYPE": "en_US.UTF-8", "LANG": "C"}, UTF_8),
        # The interpreter sets the letters so by itself where the language is C.
        ({"LC_CTYPE": "C.UTF-8", "LANG": "C"}, ASCII),
        ({"LANG": "C.UTF-8"}, UTF_8),
        ({"LANG": "en_US.UTF-8", "PYTHONIOENCODING": "ascii:strict"}, ASCII),
        ({"LANG": "xx_XX.no-such-codec"}, UTF_8),
    ],
)
def test_the_codec_is_the_one_that_is_named(environment: dict[str, str], encoding: str) -> None:
    assert terminal_encoding(environment, "linux") == encoding


def test_windows_writes_utf_8_whatever_the_language() -> None:
    assert terminal_encoding({"LANG": "C"}, "win32") == UTF_8


@pytest.mark.parametrize(
    ("environment", "encoding", "drawn"),
    [
        ({"TERM": "xterm-256color"}, UTF_8, True),
        ({"TERM": "linux"}, UTF_8, False),
        ({"TERM": "vt220"}, UTF_8, False),
        ({"TERM": "dumb", "TWOPURSE_ASCII": "0"}, UTF_8, True),
        ({"TERM": "xterm-256color", "TWOPURSE_ASCII": "1"}, UTF_8, False),
        ({"TERM": "xterm-256color"}, ASCII, False),
        # No wish draws what cannot be written.
        ({"TERM": "xterm-256color", "TWOPURSE_ASCII": "0"}, ASCII, False),
    ],
)
def test_frames_are_drawn_where_the_terminal_can_or_as_she_says(
    environment: dict[str, str], encoding: str, drawn: bool
) -> None:
    assert draws(environment, encoding) == drawn


@pytest.mark.parametrize("sign", OUR_SIGNS)
def test_every_sign_of_the_program_has_ascii_of_its_width(sign: str) -> None:
    instead = in_ascii(sign, ASCII)
    assert instead.isascii()
    assert len(instead) == cell_len(sign)
    assert instead != "?" or sign.isalpha(), "only a letter is left out"


def test_what_means_something_else_looks_different() -> None:
    assert len(set(in_ascii("●◐○", ASCII))) == 3, "states"
    assert len(set(in_ascii("█─░▒•", ASCII))) == 5, "the parts of the curve"
    assert in_ascii("╔═║", ASCII) != in_ascii("╭─│", ASCII), "what has the focus"
    assert len(set(in_ascii("←→", ASCII))) == 2


def test_a_letter_stays_where_the_codec_has_it_and_is_a_question_mark_where_not() -> None:
    assert in_ascii("José · Łódź", "iso8859-1") == "José · ?ód?"
    assert in_ascii("José · Łódź", ASCII) == "Jos? - ??d?"
    assert in_ascii("José ● ready", UTF_8) == "José * ready"
    assert in_ascii("日本", ASCII) == "????"


@given(st.text())
def test_any_text_becomes_ascii(text: str) -> None:
    assert in_ascii(text, ASCII).isascii()
    assert in_ascii(in_ascii(text, ASCII), ASCII) == in_ascii(text, ASCII)


@pytest.mark.parametrize(("encoding", "written"), [(ASCII, b'"Jos?" ~'), ("latin-1", b"\xabJos\xe9\xbb ~")])
def test_a_stream_takes_any_sign(encoding: str, written: bytes) -> None:
    kept = io.BytesIO()
    stream = io.TextIOWrapper(kept, encoding="ascii")
    speak(stream, encoding)
    stream.write("«José» …")
    stream.flush()
    assert kept.getvalue() == written
