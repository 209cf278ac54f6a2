"""The letterhead on a page: name and lines at the left, the picture in its box at the right, the seam below both."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotPossible, NotUnderstood
from ledger.paper.fonts import ShippedLetters
from ledger.paper.head_setting import fitted
from ledger.paper.letterhead import Letterhead, on_letterhead, on_small_letterhead, read_lines
from ledger.paper.locales import A4, LETTER
from ledger.paper.marks import Pixels, Stroke, Words
from ledger.paper.pages import set_pages
from ledger.paper.pdf import sheet_pdf
from ledger.paper.plain import sheet_text
from ledger.paper.sheet import PICTURE_BOX, SMALL_PICTURE_BOX, LetterPicture, Notes, Sheet
from tests.paper.test_pdf import LIVELY, names_in, reader_of, text_of
from tests.paper.test_picture_file import read

LINES = ("14 Alder Lane, Riley", "785 555 0142", "Žižkov, Ελένη", "Permit 4 <b>x</b>")
LETTERS = ShippedLetters()
SIDES = st.integers(8, 700)


def sheet_of(*head: str) -> Sheet:
    return Sheet(head or ("Lantern Quilting",), "about", (Notes(("What follows.",)),))


def marks_of(sheet: Sheet) -> tuple[Pixels | None, list[Words], float]:
    """The picture, the words above the seam, and how far down the seam is."""
    (page,) = set_pages(sheet, LETTER, LETTERS)
    seam = next(mark.down for mark in page if isinstance(mark, Stroke) and mark.is_stitched)
    words = [mark for mark in page if isinstance(mark, Words) and mark.down < seam]
    return next((mark for mark in page if isinstance(mark, Pixels)), None), words, seam


@given(SIDES, SIDES, st.sampled_from([PICTURE_BOX, SMALL_PICTURE_BOX]))
def test_a_picture_is_fitted_into_its_box_in_its_proportions_and_never_blown_up(
    width: int, height: int, box: tuple[float, float]
) -> None:
    wide, high = fitted(LetterPicture(b"", width, height), box)
    assert wide <= box[0] + 0.001
    assert high <= box[1] + 0.001
    assert wide / high == pytest.approx(width / height)
    assert width / wide * 72 >= 109.9, "pixels to the inch"
    assert wide > box[0] - 0.001 or high > box[1] - 0.001 or width / wide * 72 < 110.1, "as large as it may be"


@pytest.mark.parametrize("name", ["wide.png", "tall.png", "tiny.png", "clear.png"])
@pytest.mark.parametrize("workshop", ["Lantern", "A workshop whose name takes more than one line of a page", "W" * 70])
def test_nothing_of_the_head_overlaps(name: str, workshop: str) -> None:
    sheet = on_letterhead(sheet_of(workshop), Letterhead(LINES, read(name)))
    picture, words, seam = marks_of(sheet)
    assert picture is not None
    assert picture.x + picture.width == pytest.approx(LETTER.width - sheet.margin)
    assert sheet.margin <= picture.down
    assert picture.down + picture.height <= seam
    for each in words:
        assert each.x + LETTERS.width_of(each.text, each.face, each.size) <= picture.x, each.text


def test_the_lines_stand_between_the_name_and_what_stood_there() -> None:
    headed = on_letterhead(sheet_of("Lantern", "For the accountant"), Letterhead(LINES))
    assert headed.letterhead == ("Lantern", *LINES, "For the accountant")
    assert sheet_text(headed).splitlines()[:5] == ["Lantern", *LINES]
    assert text_of(sheet_pdf(headed, LETTER)).startswith(f"Lantern {' '.join(LINES)} For the accountant")


def test_a_picture_is_an_image_of_the_file_and_does_nothing_else() -> None:
    without, with_one = (
        sheet_pdf(on_letterhead(sheet_of(), Letterhead(LINES, picture)), A4) for picture in (None, read("clear.png"))
    )
    assert names_in(with_one) & LIVELY == {"/XObject", "/Image"}
    (image,) = reader_of(with_one).pages[0].images
    assert image.image is not None
    assert image.image.size == (60, 60)
    assert list(reader_of(without).pages[0].images) == []


def test_a_small_letterhead_takes_no_more_room_than_the_name_alone() -> None:
    plain = sheet_of("Lantern", "To ask: bank")
    small = on_small_letterhead(plain, Letterhead(LINES, read("tall.png")))
    assert marks_of(small)[0] is not None
    assert marks_of(small)[2] == marks_of(plain)[2]
    assert [each.text for each in marks_of(small)[1]] == ["Lantern", "To ask: bank"]


def test_the_same_letterhead_gives_the_same_bytes_in_another_process_and_folder(tmp_path: Path) -> None:
    script = (
        "import sys; from tests.paper.test_letterhead import in_full; from ledger.paper.pdf import sheet_pdf; "
        "from ledger.paper.locales import LETTER; sys.stdout.buffer.write(sheet_pdf(in_full(), LETTER))"
    )
    checkout = Path(__file__).parents[2]
    environment = {**os.environ, "PYTHONPATH": str(checkout), "TZ": "Pacific/Auckland", "PYTHONHASHSEED": "7"}
    elsewhere = subprocess.run([sys.executable, "-c", script], cwd=tmp_path, env=environment, capture_output=True)
    assert elsewhere.returncode == 0, elsewhere.stderr
    assert elsewhere.stdout == sheet_pdf(in_full(), LETTER)
    other = replace(in_full(), picture=read("tall.png"))
    assert elsewhere.stdout != sheet_pdf(other, LETTER)


def in_full() -> Sheet:
    return on_letterhead(sheet_of(), Letterhead(LINES, read("wide.png")))


def test_lines_are_cleaned_and_empty_ones_left_out() -> None:
    assert read_lines(["", " 14 Alder Lane ", "  ", "e\N{COMBINING ACUTE ACCENT}"]) == ("14 Alder Lane", "é")
    assert read_lines([]) == ()


def test_a_fifth_line_and_a_long_one_are_refused() -> None:
    with pytest.raises(NotPossible, match="room for 4 lines"):
        read_lines(["a", "b", "c", "d", "e"])
    with pytest.raises(NotUnderstood, match="91 characters"):
        read_lines(["x" * 91])
