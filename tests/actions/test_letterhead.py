"""The letterhead as an act: kept from a day on, on every paper of that day, and never changing what was printed."""

from __future__ import annotations

import shutil
import zipfile
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from ledger.actions import agree, own_certificate, print_set_up
from ledger.actions.letterhead import LetterheadRequest, perform, preview
from ledger.books.backup import back_up
from ledger.books.books import Books
from ledger.books.documents import read_documents
from ledger.books.letterhead import picture_digest, read_letterhead
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, NotUnderstood, Refused
from ledger.jobs.customers import customer_named
from ledger.jobs.printing import print_account, print_intake_form, print_quote, print_receipt_again
from ledger.periods import parse_period
from ledger.quarter.packet import read_packet
from ledger.quarter.packet_folder import packet_files
from ledger.quarter.span import PacketChoice
from tests.paper.test_pdf import reader_of, text_of
from tests.paper.test_picture_file import PICTURES
from tests.workshop import FIRST_DAY, balance_of, begin_taxed, job_for, on_day, picked_up, reopened

LATER = FIRST_DAY + timedelta(40)
LINES = ("14 Alder Lane, Riley", "785 555 0142")
WIDE, TALL = PICTURES / "wide.png", PICTURES / "tall.png"


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


def pictures_in(pdf: bytes) -> list[tuple[int, int]]:
    return [each.image.size for page in reader_of(pdf).pages for each in page.images if each.image is not None]


def test_it_is_kept_with_its_picture_among_the_documents_and_a_sample_is_printed(books: Books) -> None:
    kept = perform(books, LetterheadRequest(LINES, WIDE))
    assert read_letterhead(books, books.today) == kept.letterhead
    assert kept.letterhead.lines == LINES
    assert kept.letterhead.picture is not None
    (document,) = read_documents(books, digest=picture_digest(kept.letterhead.picture))
    assert (document.label, document.belongs_to) == ("wide.png", "letterhead")
    assert pictures_in(kept.pdf.read_bytes()) == [(200, 40)]
    assert kept.text.read_text(encoding="utf-8").splitlines()[:3] == ["Lantern Quilting", *LINES]
    assert prove(books).ok


def test_a_preview_says_what_it_would_be_and_keeps_nothing(books: Books) -> None:
    assert preview(books, LetterheadRequest(LINES, WIDE)) == perform(books, LetterheadRequest(LINES, WIDE)).letterhead
    before = books.value("select count(*) from record")
    assert preview(books, LetterheadRequest(("Another lane",), TALL)).lines == ("Another lane",)
    assert books.value("select count(*) from record") == before


def test_what_is_not_named_stays_and_the_same_once_more_writes_no_row(books: Books) -> None:
    perform(books, LetterheadRequest(LINES, WIDE))
    before = books.value("select count(*) from record")
    perform(books, LetterheadRequest(LINES, WIDE))
    perform(books, LetterheadRequest())
    assert books.value("select count(*) from record") == before
    assert perform(books, LetterheadRequest(("Another lane",))).letterhead.picture is not None
    dropped = perform(books, LetterheadRequest(drops_picture=True)).letterhead
    assert (dropped.lines, dropped.picture) == (("Another lane",), None)
    assert perform(books, LetterheadRequest(())).letterhead.lines == ()
    assert read_letterhead(books, books.today) == perform(books, LetterheadRequest()).letterhead


def test_a_change_holds_from_its_day_and_a_receipt_printed_again_is_the_paper_that_the_customer_has(
    books: Books,
) -> None:
    perform(books, LetterheadRequest(LINES, WIDE))
    done = picked_up(books, job_for(books, "40.00"), "check")
    first = done.pdf.read_bytes(), done.receipt.read_text(encoding="utf-8")
    later = on_day(books, LATER)
    perform(later, LetterheadRequest(("Moved to 2 Mill Road",), TALL))
    assert (done.pdf.read_bytes(), done.receipt.read_text(encoding="utf-8")) == first
    printed = print_receipt_again(later, 1)[1]
    assert (printed.pdf, printed.text) == first
    new = picked_up(later, job_for(later, "40.00"), "check")
    assert "Moved to 2 Mill Road" in new.receipt.read_text(encoding="utf-8")
    assert pictures_in(new.pdf.read_bytes()) == [(40, 200)]


def test_every_paper_carries_it(books: Books) -> None:
    perform(books, LetterheadRequest(LINES, WIDE))
    job_for(books, "40.00")
    done = picked_up(books, job_for(books, "30.00"), "cash")
    own_certificate.perform(books, own_certificate.OwnRequest("R-1", "Office"))
    certificate, _ = own_certificate.give(books, own_certificate.GiveRequest("Mill"))
    agreed = agree.count(books, agree.CountRequest(balance_of(books, "cash box")))
    assert agreed.pdf is not None
    sheets = {
        "receipt": done.pdf.read_bytes(),
        "quote": print_quote(books, 1).pdf,
        "intake": print_intake_form(books, 1).pdf,
        "account": print_account(books, customer_named(books, "Ada Holm")).pdf,
        "certificate": certificate.pdf,
        "set-up list": print_set_up.print_list(books, print_set_up.ListRequest())[0].pdf,
        "cash count": agreed.pdf.read_bytes(),
        "packet": packet_files(books, read_packet(books, parse_period("2026-Q1"), PacketChoice()))["packet.pdf"],
    }
    for name, pdf in sheets.items():
        assert text_of(pdf).startswith(f"Lantern Quilting {' '.join(LINES)}"), name
        assert pictures_in(pdf) == [(200, 40)], name


def test_a_call_sheet_has_the_picture_small_and_no_lines(books: Books) -> None:
    perform(books, LetterheadRequest(LINES, WIDE))
    _, printed, _ = print_set_up.print_call_sheet(books, print_set_up.CallSheetRequest("state revenue office"))
    assert pictures_in(printed.pdf) == [(200, 40)]
    assert LINES[0] not in text_of(printed.pdf) + printed.text
    assert len(reader_of(printed.pdf).pages) == 1


def test_the_same_books_in_another_folder_print_the_same_bytes(books: Books, tmp_path: Path) -> None:
    perform(books, LetterheadRequest(LINES, WIDE))
    job_for(books, "40.00")
    first = print_quote(books, 1)
    shutil.copytree(books.folder, tmp_path / "elsewhere")
    elsewhere = reopened(tmp_path / "elsewhere", books.today)
    assert print_quote(elsewhere, 1) == first
    elsewhere.close()


def test_a_pickup_goes_on_without_a_picture_that_is_gone_and_prove_tells_of_it(books: Books) -> None:
    kept = perform(books, LetterheadRequest(LINES, WIDE)).letterhead
    assert kept.picture is not None
    (books.folder / "documents" / picture_digest(kept.picture)).unlink()
    done = picked_up(books, job_for(books, "40.00"), "cash")
    assert pictures_in(done.pdf.read_bytes()) == []
    assert [each.check for each in prove(books).findings] == ["documents"]


def test_a_backup_has_the_picture(books: Books, tmp_path: Path) -> None:
    kept = perform(books, LetterheadRequest(LINES, WIDE)).letterhead
    assert kept.picture is not None
    with zipfile.ZipFile(back_up(books, tmp_path / "b.zip").file) as archive:
        assert f"documents/{picture_digest(kept.picture)}" in archive.namelist()


@pytest.mark.parametrize(
    ("request_", "kind", "field"),
    [
        (LetterheadRequest(picture=Path("nowhere.png")), NotFound, "picture"),
        (LetterheadRequest(picture=PICTURES / "bad" / "jpeg_named.png"), NotPossible, "picture"),
        (LetterheadRequest(picture=PICTURES / "bad" / "gif_named.png"), NotPossible, "picture"),
        (LetterheadRequest(picture=PICTURES / "bad" / "cut_off.png"), NotPossible, "picture"),
        (LetterheadRequest(picture=WIDE, drops_picture=True), NotUnderstood, "picture"),
        (LetterheadRequest(("a", "b", "c", "d", "e")), NotPossible, "line"),
    ],
)
def test_what_is_refused_leaves_everything_as_it_was(
    request_: LetterheadRequest, kind: type[Refused], field: str, books: Books
) -> None:
    perform(books, LetterheadRequest(LINES, WIDE))
    before = books.value("select count(*) from record"), sorted((books.folder / "documents").iterdir())
    with pytest.raises(kind) as refused:
        perform(books, request_)
    assert refused.value.field == field
    assert (books.value("select count(*) from record"), sorted((books.folder / "documents").iterdir())) == before


def test_before_the_first_one_there_is_the_name_alone(books: Books) -> None:
    assert read_letterhead(books, date(2026, 1, 1)).lines == ()
    done = picked_up(books, job_for(books, "40.00"), "cash")
    assert pictures_in(done.pdf.read_bytes()) == []
