"""The shipped letters: what they draw, what they cannot, and the licence that goes with them."""

from __future__ import annotations

import subprocess
import sys
from importlib.resources import files

import pytest

from ledger.paper.fonts import Face, ShippedLetters
from ledger.text import REMOVED

LETTERS = ShippedLetters()
FACES: tuple[Face, ...] = ("regular", "bold", "digits")


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("text", ["Zoë Müller", "Łódź, Žižkov", "Ελένη", "Олена", "₪ ₴ € £ ¥ ₹", "56 × 72 in", REMOVED])
def test_letters_of_many_languages_are_drawn_as_they_are(face: Face, text: str) -> None:
    assert LETTERS.drawable(text, face) == text


@pytest.mark.parametrize(
    ("text", "drawn"),
    [
        ("\N{SPOOL OF THREAD}", REMOVED),
        ("山田 花子", f"{REMOVED} {REMOVED}"),
        ("Ada \N{SPOOL OF THREAD}\N{SEWING NEEDLE} Brook", f"Ada {REMOVED} Brook"),
        ("\N{WOMAN}\N{ZERO WIDTH JOINER}\N{ARTIST PALETTE}", REMOVED),
        ("a\x1b[31mb", f"a{REMOVED}[31mb"),
        ("a\N{RIGHT-TO-LEFT OVERRIDE}b\nc", f"a{REMOVED}b c"),
    ],
)
def test_a_run_of_what_cannot_be_drawn_is_one_mark(text: str, drawn: str) -> None:
    assert LETTERS.drawable(text, "regular") == drawn


@pytest.mark.parametrize(("text", "drawn"), [("￥1,234", "¥1,234"), ("Ａda", "Ada"), ("№ ㎝", "№ cm")])
def test_a_plainer_form_stands_for_what_cannot_be_drawn(text: str, drawn: str) -> None:
    assert LETTERS.drawable(text, "regular") == drawn


def test_a_text_twice_the_size_is_twice_as_wide_and_digits_are_all_alike() -> None:
    assert LETTERS.width_of("Amount", "bold", 20) == pytest.approx(2 * LETTERS.width_of("Amount", "bold", 10))
    assert len({LETTERS.width_of(each, "digits", 8) for each in "0123456789abcdef"}) == 1


def test_the_licence_lies_beside_the_letters() -> None:
    folder = files("ledger.paper") / "fonts"
    licence = (folder / "LICENSE-DejaVu.txt").read_text(encoding="utf-8")
    assert {each.name for each in folder.iterdir() if each.name.endswith(".ttf")} == {
        "DejaVuSans.ttf",
        "DejaVuSans-Bold.ttf",
        "DejaVuSansMono.ttf",
    }
    assert "The above copyright and trademark notices and this permission notice shall" in licence
    assert "Copyright (c) 2003 by Bitstream, Inc." in licence
    assert "Copyright (c) 2006 by Tavmjong Bah." in licence


@pytest.mark.parametrize("module", ["ledger.paper.pdf", "ledger.jobs.printing", "ledger.actions.pick_up"])
def test_the_drawing_library_comes_only_when_something_is_drawn(module: str) -> None:
    code = f"import sys, {module}; print(sorted(set(sys.modules) & {{'reportlab', 'PIL', 'babel'}}))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert loaded.stdout.strip() == "[]"
