"""The PDF file: what can be read back from it, that it is always the same, and that nothing in it leads anywhere."""

from __future__ import annotations

import os
import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from ledger.paper.locales import A4, LETTER, PaperSize
from ledger.paper.pdf import sheet_pdf
from tests.paper.test_plain import sheet_of

# What a PDF can do beyond showing text.
LIVELY = {
    *(
        "/Annots",
        "/Annot",
        "/URI",
        "/A",
        "/AA",
        "/OpenAction",
        "/JavaScript",
        "/JS",
        "/Launch",
        "/GoToR",
        "/SubmitForm",
    ),
    *("/EmbeddedFile", "/EmbeddedFiles", "/AcroForm", "/XObject", "/Image", "/Form"),
}
# A picture of one black dot, as PNG.
PICTURE = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c636000000002000148afa4710000000049454e44ae426082"
)
MARKUP = (
    '<img src="/etc/passwd"/>',
    '<a href="https://example.com">x</a>',
    "<b>Ada</b> &amp; <para>",
    "</para><link href='file:///etc/hosts'>",
    "<onDraw name='x' label='y'/>",
    "]] > {{ x }} ${x} %s {0}",
    ")) Tj /F1 12 Tf (( \\",
    "%PDF-1.4\nendstream endobj",
    "http://example.com mailto:ada@example.com",
)


def reader_of(pdf: bytes) -> PdfReader:
    return PdfReader(BytesIO(pdf), strict=True)


def text_of(pdf: bytes) -> str:
    """The words of all pages, with single spaces between."""
    return " ".join(" ".join(page.extract_text() for page in reader_of(pdf).pages).split())


@pytest.mark.parametrize(("paper", "points"), [(LETTER, (612, 792)), (A4, (595.28, 841.89))])
def test_a_page_has_the_size_of_its_paper(paper: PaperSize, points: tuple[float, float]) -> None:
    (page,) = reader_of(sheet_pdf(sheet_of("Log cabin"), paper)).pages
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(points, abs=0.01)


def test_every_text_can_be_read_back() -> None:
    text = text_of(sheet_pdf(sheet_of("Žižkov, Ελένη"), LETTER))
    for wanted in ("Žižkov, Ελένη", "Mar 18, 2026", "4 at 3.00", "$12.00", "Thank you.", "0123456789ab", "Page 1 of 1"):
        assert wanted in text


def test_a_file_names_the_workshop_and_the_sheet_and_no_day() -> None:
    about = reader_of(sheet_pdf(sheet_of("Alder Lane"), LETTER)).metadata
    assert about is not None
    assert (about.title, about.author, about.creator, about.producer) == (
        "Alder Lane",
        "Alder Lane",
        "Twopurse",
        "Twopurse",
    )
    assert str(about.creation_date).startswith("2000-01-01")


def test_the_letters_are_in_the_file() -> None:
    (page,) = reader_of(sheet_pdf(sheet_of("Log cabin"), LETTER)).pages
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    assert sorted(font["/BaseFont"].partition("+")[2] for font in fonts) == [
        "DejaVuSans",
        "DejaVuSans-Bold",
        "DejaVuSansMono",
    ]
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)


def test_the_same_sheet_is_the_same_bytes() -> None:
    assert sheet_pdf(sheet_of("Log cabin"), LETTER) == sheet_pdf(sheet_of("Log cabin"), LETTER)


def test_the_bytes_do_not_depend_on_what_was_printed_before_nor_on_settings_of_the_machine(tmp_path: Path) -> None:
    (tmp_path / "reportlab_settings.py").write_text(
        "invariant = 0\npageCompression = 0\nrl_exec = 1\n", encoding="utf-8"
    )
    (tmp_path / ".reportlab_settings").write_text("invariant = 0\npageCompression = 0\n", encoding="utf-8")
    code = (
        "import sys; from tests.paper.test_plain import sheet_of; from ledger.paper.pdf import sheet_pdf; "
        "from ledger.paper.locales import LETTER; sys.stdout.buffer.write(sheet_pdf(sheet_of('Log cabin'), LETTER))"
    )
    there = {"PYTHONPATH": str(tmp_path), "HOME": str(tmp_path), "RL_invariant": "0", "RL_pageCompression": "0"}
    elsewhere = subprocess.run(
        [sys.executable, "-c", code],
        cwd=Path(__file__).parents[2],
        env={**os.environ, **there, "TZ": "Asia/Tokyo", "PYTHONHASHSEED": "7"},
        capture_output=True,
        check=True,
    )
    sheet_pdf(sheet_of("Something else, with other letters: ŁŻ"), A4)
    assert elsewhere.stdout == sheet_pdf(sheet_of("Log cabin"), LETTER)


@pytest.mark.parametrize("markup", MARKUP)
def test_markup_is_printed_and_not_obeyed(markup: str) -> None:
    pdf = sheet_pdf(sheet_of(markup), LETTER)
    assert markup.replace("\n", " ").split()[0] in text_of(pdf)
    assert names_in(pdf) & LIVELY == set()


@pytest.mark.parametrize(
    "text",
    ["\x1b]8;;https://example.com\x07x", "a\u202eb\u2066c", "\U000e0041\u200b", "\ud800", "\0", "漢字\U0001f9f5", ""],
)
def test_what_cannot_be_shown_is_a_mark(text: str) -> None:
    read = text_of(sheet_pdf(sheet_of(text), LETTER))
    assert "Thank you." in read
    assert not any(each in read for each in "\x1b\u202e\u2066\u200b\0")


def test_a_link_and_a_picture_would_be_seen() -> None:
    from reportlab.lib.utils import ImageReader
    from reportlab.pdfgen.canvas import Canvas

    file = BytesIO()
    canvas = Canvas(file)
    canvas.linkURL("https://example.com", (0, 0, 10, 10))
    canvas.drawImage(ImageReader(BytesIO(PICTURE)), 0, 0)
    canvas.showPage()
    canvas.save()
    assert {"/Annots", "/URI", "/XObject", "/Image"} <= names_in(file.getvalue())


def names_in(pdf: bytes) -> set[str]:
    """Every key of every object in a file, and what the objects call themselves."""
    reader = reader_of(pdf)
    names: set[str] = set()
    waiting: list[object] = [
        reader.get_object(number) for numbers in reader.xref.values() for number in numbers if number
    ]
    while waiting:
        each = waiting.pop()
        if isinstance(each, dict):
            names |= set(each)
            names |= {str(each.raw_get(key)) for key in ("/Type", "/Subtype", "/S") if key in each}
            waiting += [each.raw_get(key) for key in each]
        elif isinstance(each, list):
            waiting += each
    return names
