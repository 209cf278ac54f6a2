"""A receipt as PDF says what the text says, and whatever was typed in stays text."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from ledger.jobs.printing import printed_receipt
from ledger.jobs.receipts import Receipt
from ledger.jobs.sales import read_receipt
from ledger.paper.plain import WIDTH
from ledger.paper.wrapping import terminal_columns
from ledger.text import REMOVED
from tests.jobs.receipts_of_one_day import PICKUPS, in_several_ways_with_everything_on_it
from tests.paper.test_pdf import LIVELY, MARKUP, names_in, text_of
from tests.workshop import FIRST_DAY, begin_taxed, job_for, picked_up

HOSTILE = (
    *MARKUP,
    "\x1b[31mred\x1b[0m",
    "\x1b]8;;https://example.com\x07here\x1b]8;;\x07",
    "Ada \N{RIGHT-TO-LEFT OVERRIDE}koorB",
    "Ada\N{ZERO WIDTH SPACE}Brook\N{TAG LATIN SMALL LETTER A}",
    "Ada\nBrook\tof\rLane\0",
    "[@click=app.quit]x[/] [bold red]",
    "=HYPERLINK(1)",
    "\N{SPOOL OF THREAD}" * 40,
    "\N{WOMAN}\N{ZERO WIDTH JOINER}\N{ARTIST PALETTE} Ada",
    "Z\N{COMBINING ACUTE ACCENT}" * 60,
    "quilt" * 100,
    "\ud800 \ue000 \uffff",
    "שרה כהן",
    "山田 花子",
)


@pytest.fixture(scope="module")
def receipt(tmp_path_factory: pytest.TempPathFactory) -> Receipt:
    """A receipt with nearly everything on it."""
    books, _ = in_several_ways_with_everything_on_it(tmp_path_factory.mktemp("paper") / "books")
    read = read_receipt(books, 1)
    settings = books.settings
    books.close()
    return replace(read, workshop=settings.name)


@pytest.mark.parametrize("name", PICKUPS)
def test_the_pdf_says_what_the_text_says(name: str, tmp_path: Path) -> None:
    books, done = PICKUPS[name](tmp_path / "books")
    books.close()
    written = done.receipt.read_text(encoding="utf-8").replace("-" * WIDTH, " ")
    read = text_of(done.pdf.read_bytes()).replace("¥", "￥")
    drawn = "".join(each for each in written if not "\u3000" < each < "\ua000")
    assert [word for word in drawn.split() if word not in read] == []


@pytest.mark.parametrize(
    ("locale", "points"), [("en_US", (612, 792)), ("de_DE", (595.28, 841.89)), ("en_CA", (612, 792))]
)
def test_the_paper_is_what_the_place_prints_on(locale: str, points: tuple[float, float], tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books", locale=locale)
    done = picked_up(books, job_for(books, "40.00"), "cash")
    books.close()
    box = PdfReader(done.pdf).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(points, abs=0.01)


def test_a_receipt_printed_twice_is_the_same_bytes(receipt: Receipt, tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    one, other = (printed_receipt(receipt, books.settings) for _ in range(2))
    books.close()
    assert one == other


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_in_every_place_stays_text(text: str, receipt: Receipt, tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    settings = replace(books.settings, name=text)
    books.close()
    lines = tuple(replace(line, name=text, unit=text) for line in receipt.work.lines)
    taxes = tuple(replace(each, jurisdiction=text) for each in receipt.work.taxes)
    told = replace(
        receipt,
        workshop=text,
        piece=replace(receipt.piece, customer=text, what=text),
        work=replace(receipt.work, lines=lines, taxes=taxes),
        payments=tuple(replace(each, reference=text) for each in receipt.payments),
    )
    printed = printed_receipt(told, settings)
    assert names_in(printed.pdf) & LIVELY == set()
    read = text_of(printed.pdf)
    for amount in ("$360.00", "-$25.00", "$17.76", "$362.76", "$62.76"):
        assert amount in read
        assert amount in printed.text
    shown = printed.text.replace("\n", "").replace("\N{ZERO WIDTH JOINER}", "")
    assert {unicodedata.category(each) for each in shown}.isdisjoint({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
    assert max(map(terminal_columns, printed.text.splitlines())) <= WIDTH


def test_what_the_letters_lack_is_a_mark_on_paper_and_itself_in_the_text(tmp_path: Path) -> None:
    books, done = PICKUPS["in_yen"](tmp_path / "books")
    books.close()
    assert "山田 花子" in done.receipt.read_text(encoding="utf-8")
    assert f"{REMOVED} {REMOVED}" in text_of(done.pdf.read_bytes())


def test_a_job_of_a_hundred_lines_goes_over_pages_with_every_line_once(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books", FIRST_DAY)
    from tests.workshop import add_to_price_list

    for number in range(100):
        add_to_price_list(books, f"Patch {number:03}", "flat", "1.00")
    job = job_for(books, lines=[f"Patch {number:03}" for number in range(100)])
    done = picked_up(books, job, "cash")
    books.close()
    pages = PdfReader(done.pdf).pages
    assert len(pages) > 2
    read = text_of(done.pdf.read_bytes())
    assert all(read.count(f"Patch {number:03}") == 1 for number in range(100))
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in page.extract_text()
    assert "$105.30" in pages[-1].extract_text()
