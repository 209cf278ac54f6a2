"""The fields of the uniform form, the reasons by letter, a single purchase, and the list by last day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from ledger.actions import keep_certificate
from ledger.actions.keep_certificate import CertificateRequest
from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.quarter.questions import find_questions
from ledger.taxes.certificate_form import REASONS, CertificateForm, read_reason
from ledger.taxes.certificates import newest_certificate, read_certificates
from tests.workshop import begin_taxed, job_for, on_day, picked_up, previewed, reversed_entry

DAY, NEXT = date(2026, 2, 1), date(2026, 2, 2)
FORM = CertificateForm(
    address="1 Mill Lane",
    single_purchase="PO 17",
    business="a school",
    signed_by="Ann Lee",
    title="treasurer",
    signed_on=date(2026, 1, 30),
)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = on_day(begin_taxed(tmp_path / "books"), DAY)
    yield opened
    opened.close()


def keep(books: Books, name: str, reason: str = "E", number: str | None = "KS-1", **more: object) -> int:
    """The party whose certificate is kept."""
    request = CertificateRequest(name, reason, number, **more)  # type: ignore[arg-type]
    return keep_certificate.perform(books, request).party.id


def tax_of(books: Books, customer: str = "Guild") -> int:
    settled = previewed(books, job_for(books, "100.00", customer=customer), "cash")
    return int(settled.slip.tax_cents)


def test_the_reasons_are_those_of_the_uniform_form() -> None:
    """SSTGB Form F0003 (revised 21 December 2021): A to M, E charitable, F religious, G resale, M educational."""
    assert "".join(REASONS) == "ABCDEFGHIJKLM"
    told = (REASONS["E"], REASONS["F"], REASONS["G"], REASONS["M"])
    assert told == ("charitable organization", "religious organization", "resale", "educational organization")


@pytest.mark.parametrize(
    ("typed", "words", "letter"),
    [
        ("e", "charitable organization", "E"),
        ("Resale", "Resale", "G"),
        ("L: a lottery prize", "a lottery prize", "L"),
        ("E: food bank", "food bank", "E"),
        ("school", "school", None),
        ("A charity", "A charity", None),
    ],
)
def test_a_reason_is_words_or_a_letter(typed: str, words: str, letter: str | None) -> None:
    reason = read_reason(typed)
    assert (reason.words, reason.letter) == (words, letter)


@pytest.mark.parametrize("typed", ["N", "z", "L", "L:", "other", " "])
def test_what_is_no_reason_is_refused(typed: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_reason(typed)
    assert refused.value.field == "exempt"


def test_every_field_of_the_form_is_kept_and_read_back(books: Books) -> None:
    party = keep(books, "Guild", "M", state="Kansas", expires=date(2027, 1, 1), form=FORM)
    kept = newest_certificate(books, party)
    assert kept is not None
    assert (kept.reason, kept.number, kept.state) == ("educational organization", "KS-1", "Kansas")
    assert kept.form == CertificateForm(**{**FORM.__dict__, "letter": "M"})
    bare = newest_certificate(books, keep(books, "Other", "school"))
    assert bare is not None
    assert bare.form is None


def test_one_signed_on_a_day_to_come_is_refused(books: Books) -> None:
    with pytest.raises(NotPossible, match="signed") as refused:
        keep(books, "Guild", form=CertificateForm(signed_on=NEXT))
    assert refused.value.field == "signed"
    assert read_certificates(books, DAY) == ()


def test_one_for_a_single_purchase_exempts_that_one_alone(books: Books) -> None:
    party = keep(books, "Guild", form=FORM)
    sale = picked_up(books, job_for(books, "100.00", customer="Guild"), "cash").entry
    assert sale is not None
    later = on_day(books, NEXT)
    assert tax_of(later) == 5_30
    kept = newest_certificate(later, party)
    assert kept is not None
    assert (kept.used_on, kept.is_valid(DAY), kept.is_valid(NEXT)) == (DAY, True, False)
    assert not any("certificate" in each for each in find_questions(later, DAY, NEXT)), "its own sale was exempt"


def test_a_purchase_that_was_undone_leaves_it_for_the_next(books: Books) -> None:
    keep(books, "Guild", form=FORM)
    sale = picked_up(books, job_for(books, "100.00", customer="Guild"), "owed").entry
    assert sale is not None
    reversed_entry(books, sale.number)
    assert tax_of(on_day(books, NEXT)) == 0


def test_one_that_is_used_up_gives_way_to_the_blanket_before_it(books: Books) -> None:
    keep(books, "Guild", number="BLANKET")
    keep(books, "Guild", number="SINGLE", form=FORM)
    picked_up(books, job_for(books, "100.00", customer="Guild"), "cash")
    later = on_day(books, NEXT)
    (held,) = read_certificates(later, NEXT)
    assert held.certificate.number == "BLANKET"
    assert tax_of(later) == 0


def test_the_list_has_what_runs_out_first_before_the_others_also_what_ran_out(books: Books) -> None:
    keep(books, "Late", expires=DAY)
    keep(books, "No end")
    keep(books, "Soon", expires=DAY + timedelta(days=30))
    keep(books, "Soon", number="KS-2", expires=DAY + timedelta(days=60))
    listed = [(each.name, each.certificate.is_valid(NEXT)) for each in read_certificates(books, NEXT)]
    assert listed == [("Late", False), ("Soon", True), ("No end", True)]
    assert read_certificates(books, DAY - timedelta(days=1)) == ()
