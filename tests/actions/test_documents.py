"""Documents with an entry, a job, an item of the list or a certificate, found again from both sides."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from ledger.actions import answers, attach, spend
from ledger.actions.document_limit import DocumentLimitRequest, perform
from ledger.books.books import Books
from ledger.books.documents import read_documents
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.quarter.spending_questions import spending_questions
from ledger.spending.without_document import document_limit_cents
from ledger.taxes.certificates import keep_certificate
from tests.actions.test_sunday_evening import receipt
from tests.screens.small_books import begin_taxed, take_in_piece

PDF = b"%PDF-1.7 a receipt"


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    assert prove(opened).ok
    opened.close()


@pytest.fixture
def scan(tmp_path: Path) -> Path:
    file = tmp_path / "scan.pdf"
    file.write_bytes(PDF)
    return file


def certified(books: Books, number: str) -> None:
    customer = books.value("select max(id) from party")
    with books.writing() as write:
        keep_certificate(books, write, customer, "charity", number, None)


def test_one_document_is_kept_with_four_things_and_is_found_from_each_and_from_itself(books: Books, scan: Path) -> None:
    entry = receipt(books, 10_00)
    job = take_in_piece(books, "Oak Guild", "Banner", 50, 60, ("Binding",))
    certified(books, "O-1")
    owners = (
        attach.Owner(entry=entry),
        attach.Owner(job=job),
        attach.Owner(item="Home-Occupation"),
        attach.Owner(certificate=" o-1 "),
    )
    for owner in owners:
        kept = attach.perform(books, attach.AttachRequest(scan, owner.entry, owner.job, owner.item, owner.certificate))
        assert kept.remark is None
        assert [each.digest for each in attach.documents_of(books, owner)] == [kept.digest]
    belong = [each.belongs_to for each in read_documents(books, digest=kept.digest[:12].upper())]
    assert belong == ["certificate 1", "item home_occupation", f"job {job}", f"entry {entry}"]
    assert len(list((books.folder / "documents").iterdir())) == 1


@pytest.mark.parametrize("digest", ["xyz", "0' or 1=1 --", "%"])
def test_what_is_no_digest_finds_nothing(books: Books, scan: Path, digest: str) -> None:
    attach.perform(books, attach.AttachRequest(scan, item="power"))
    assert read_documents(books, digest=digest) == ()


@pytest.mark.parametrize(
    "owner",
    [{"entry": 99}, {"job": 99}, {"item": "power_station"}, {"certificate": "O-2"}, {"certificate": "%"}],
)
def test_an_owner_that_is_not_there_is_refused_and_nothing_is_kept(
    books: Books, scan: Path, owner: dict[str, int]
) -> None:
    take_in_piece(books, "Oak Guild", "Banner", 50, 60, ("Binding",))
    certified(books, "O-1")
    with pytest.raises(NotFound) as refused:
        attach.perform(books, attach.AttachRequest(scan, **owner))  # type: ignore[arg-type]
    assert refused.value.field in owner
    assert list((books.folder / "documents").iterdir()) == []


def test_a_certificate_is_looked_for_where_none_was_ever_shown(books: Books, scan: Path) -> None:
    with pytest.raises(NotFound, match="No customer has shown"):
        attach.perform(books, attach.AttachRequest(scan, certificate="O-1"))


@pytest.mark.parametrize("owner", [{}, {"entry": 1, "item": "power"}])
def test_a_document_belongs_to_one_thing(books: Books, scan: Path, owner: dict[str, int]) -> None:
    with pytest.raises(NotUnderstood):
        attach.perform(books, attach.AttachRequest(scan, **owner))  # type: ignore[arg-type]


def test_a_photo_of_fifty_megabytes_is_refused_everywhere_and_nothing_is_booked(books: Books, tmp_path: Path) -> None:
    photo = tmp_path / "photo.jpg"
    with photo.open("wb") as file:
        file.write(b"\xff\xd8\xff\xe0")
        file.truncate(50 * 1024 * 1024)
    before = prove(books).entries
    with pytest.raises(NotPossible, match="larger than 20 MB"):
        attach.perform(books, attach.AttachRequest(photo, item="power"))
    with pytest.raises(NotPossible, match="larger than 20 MB"):
        receipt(books, 10_00, document=photo)
    with pytest.raises(NotPossible, match="larger than 20 MB"):
        answers.perform(books, answers.AnswerRequest("power", "yes", "Ms Volt", proof=photo))
    assert prove(books).entries == before
    assert list((books.folder / "documents").iterdir()) == []


def test_a_document_that_is_not_what_its_name_says_is_kept_and_told(books: Books, tmp_path: Path) -> None:
    file = tmp_path / "permit.pdf"
    file.write_bytes(b"no permit at all")
    said = "named as a PDF, and by its content it is text"
    kept = attach.perform(books, attach.AttachRequest(file, item="power"))
    assert kept.kind == "text"
    assert said in (kept.remark or "")
    done = answers.perform(books, answers.AnswerRequest("power", "yes", "Ms Volt", proof=file))
    assert said in done.remarks[-1]


def test_her_limit_holds_from_its_day_and_zero_wants_a_document_with_every_receipt(books: Books) -> None:
    assert document_limit_cents(books) == 75_00
    receipt(books, 30_00)
    assert list(spending_questions(books, books.today, books.today)) == []
    perform(books, DocumentLimitRequest(0))
    assert document_limit_cents(books) == 0
    assert "above 0.00" in next(spending_questions(books, books.today, books.today))
    perform(books, DocumentLimitRequest(25_00))
    assert "above 25.00" in next(spending_questions(books, books.today, books.today))


def test_her_standing_choice_is_one_of_two_words(books: Books) -> None:
    with pytest.raises(NotUnderstood):
        spend.choose_what_household_pays(books, "sometimes")
    assert spend.household_choice(books) == "contribution"
