"""Text from outside is made safe: what a terminal would obey, or nobody could see, leaves one mark and nothing else."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotUnderstood
from ledger.text import REMOVED, clean, read_text, shown

ESC, CSI, BEL = "\x1b", "\x9b", "\x07"

# What the terminal obeys, what turns the reading order, and what cannot be seen.
HOSTILE = {
    "escape sequence": f"{ESC}[31mred{ESC}[0m",
    "window title": f"{ESC}]0;gone{BEL}",
    "clipboard": f"{ESC}]52;c;cm0gLXJm{ESC}\\",
    "C1 control": f"{CSI}2J",
    "null": "a\x00b",
    "backspace": "100\x08\x08\x089",
    "carriage return": "total 100\rtotal 900",
    "delete": "a\x7fb",
    "vertical tab": "a\x0bb",
    "next line": "a\x85b",
    "right to left override": "invoice\u202egpj.exe",
    "isolate": "a\u2066b\u2069c",
    "right to left mark": "a\u200fb",
    "Arabic letter mark": "a\u061cb",
    "zero width space": "ro\u200bot",
    "zero width non-joiner": "a\u200cb",
    "word joiner": "a\u2060b",
    "byte order mark": "\ufeffa",
    "soft hyphen": "a\u00adb",
    "tag characters": "flag\U000e0067\U000e0062\U000e007f",
    "line separator": "a\u2028b",
    "paragraph separator": "a\u2029b",
    "lone surrogate": "a\ud800b",
    "private use": "a\ue000b",
    "private plane": "a\U000f0000b",
    "unassigned": "a\u0378b",
    "not a character": "a\uffffb",
    "Hangul filler": "a\u3164b",
    "half-width filler": "a\uffa0b",
    "grapheme joiner": "a\u034fb",
    "variation selector after a letter": "a\ufe0fb",
    "selector that carries bytes": "a\U000e0130\U000e0131b",
    "Mongolian selector": "a\u180bb",
    "Khmer inherent vowel": "a\u17b4b",
    "joiner between letters": "a\u200db",
    "joiner after a circumflex": "^\u200d^",
    "joiner between plus signs": "+\u200d+",
}

KEPT = [
    "Ada Holm",
    "Zoë Müller, 14½ × 20 in",
    "Łukasz Żółć",
    "田中 花子",
    "محمد",
    "\N{WOMAN}\u200d\N{PERSONAL COMPUTER}",
    "\N{RAINBOW}",
    "\N{WAVING WHITE FLAG}\ufe0f\u200d\N{RAINBOW}",
    "\N{WOMAN}\U0001f3fd\u200d\N{ARTIST PALETTE}",
    "\N{HEAVY BLACK HEART}\ufe0f",
    "\N{HEAVY BLACK HEART}\ufe0f\u200d\N{FIRE}",
    "1\ufe0f\u20e3",
    "\N{SLIGHTLY SMILING FACE}\u200d\N{LEFT RIGHT ARROW}\ufe0f",
    "café",
]


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_what_is_hostile_is_marked_and_gone(text: str) -> None:
    kept = clean(text)
    assert REMOVED in kept
    assert [character for character in kept if is_hostile(character)] == []
    assert not {"\u200d", "\ufe0f", "\u3164", "\u034f"}.intersection(kept)


@pytest.mark.parametrize("text", KEPT)
def test_what_people_write_stays_as_it_is(text: str) -> None:
    assert clean(text) == unicodedata.normalize("NFC", text)


def test_a_run_of_removed_characters_is_one_mark() -> None:
    assert clean(f"a{ESC}{ESC}{CSI}\u202eb\u200bc") == f"a{REMOVED}b{REMOVED}c"


def test_tabs_and_line_breaks_become_spaces_and_lines_stay_where_they_are_wanted() -> None:
    assert clean("a\tb\nc\r\nd") == "a b c d"
    assert clean("a\tb\nc\r\nd", keep_lines=True) == "a b\nc\nd"
    assert clean("a\rb\u2028c", keep_lines=True) == f"a{REMOVED}b{REMOVED}c"


def test_letters_are_composed() -> None:
    assert clean("cafe\u0301") == "café"


@given(st.text())
def test_whatever_comes_in_nothing_hostile_comes_out(text: str) -> None:
    kept = clean(text)
    assert [character for character in kept if is_hostile(character) and character != "\u200d"] == []
    assert unicodedata.is_normalized("NFC", kept)
    assert len(kept) <= 3 * len(text)


@given(
    st.text(
        alphabet=st.sampled_from("a^`\N{RAINBOW}\N{WOMAN}\U0001f3fd\ufe0f\ufe0e\u200d\u200b\x1b\ufffd1\u20e3e\u0301")
    )
)
def test_cleaning_twice_is_cleaning_once(text: str) -> None:
    assert clean(clean(text)) == clean(text)
    assert clean(clean(text, keep_lines=True), keep_lines=True) == clean(text, keep_lines=True)


@given(st.text())
def test_what_is_shown_fits_one_line(text: str) -> None:
    assert len(shown(text).splitlines()) <= 1


@pytest.mark.parametrize("text", ["", "   ", "\t\n", "\x1b", "\u200b\u200b", f"{REMOVED} {REMOVED}", "\u202e \x00"])
def test_text_in_which_nothing_can_be_read_is_refused(text: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_text(text, "why")
    assert refused.value.field == "why"


def test_text_is_kept_trimmed_and_cut_at_no_length_but_refused_beyond_it() -> None:
    assert read_text("  for the show  ") == "for the show"
    assert read_text("x" * 500) == "x" * 500
    with pytest.raises(NotUnderstood, match="501"):
        read_text("x" * 501)


def is_hostile(character: str) -> bool:
    """A second opinion from the character's category alone."""
    return unicodedata.category(character) in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
