"""Her own resale certificate is the answer on the set-up list, and suppliers are given it on paper."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from checklists.choices import resale_certificate
from checklists.records import read_answers
from ledger.actions import answers, own_certificate
from ledger.actions.own_certificate import BackRequest, GiveRequest, OwnRequest, read_own
from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.quarter.questions import find_questions
from tests.workshop import begin_taxed, on_day, spent

FIRST, EXPIRES, AFTER = date(2026, 1, 5), date(2026, 12, 31), date(2027, 1, 1)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=500_00)
    yield opened
    opened.close()


def record(books: Books, number: str = "R-1", expires: date | None = EXPIRES) -> None:
    own_certificate.perform(books, OwnRequest(number, "the revenue office", "Kansas", expires))


def test_what_is_recorded_here_is_the_answer_on_the_list(books: Books) -> None:
    record(books)
    (answer,) = read_answers(books, "resale_certificate")
    assert (answer.value, answer.expires, answer.asked) == ("R-1", EXPIRES, "the revenue office")
    held = resale_certificate(books, FIRST)
    assert held is not None
    assert (held.number, held.expires) == ("R-1", EXPIRES)


def test_an_answer_on_the_list_is_what_is_recorded_here(books: Books) -> None:
    record(books)
    answers.perform(books, answers.AnswerRequest("resale_certificate", "R-2", "the office"))
    own = read_own(books)
    assert (own.number, own.expires) == ("R-2", None)
    assert own.state is None, "the state was said of the number before"
    answers.perform(books, answers.AnswerRequest("resale_certificate", None, "the office", "does not apply"))
    assert read_own(books).number is None


def test_a_supplier_is_given_it_on_paper_and_is_listed_until_it_is_back(books: Books) -> None:
    record(books)
    printed, folder = own_certificate.give(books, GiveRequest("Mill & Sons"))
    text = printed.text_in(folder).read_text(encoding="utf-8")
    for said in (
        "Mill & Sons",
        "Lantern Quilting",
        "R-1",
        "Kansas",
        "Resale (G)",
        "batting and backing",
        "taxed charge",
        "Signature",
    ):
        assert said in text, said
    assert printed.pdf_in(folder).read_bytes().startswith(b"%PDF-")
    assert printed.name == "resale-certificate-mill-sons-2026-01-05"
    assert [(each.name, each.number, each.given_on) for each in read_own(books).holders] == [
        ("Mill & Sons", "R-1", FIRST)
    ]
    assert own_certificate.take_back(books, BackRequest("mill & sons")) == "Mill & Sons"
    assert read_own(books).holders == ()


def test_one_for_a_single_order_does_not_make_a_supplier_a_holder(books: Books) -> None:
    record(books)
    printed, _ = own_certificate.give(books, GiveRequest("Mill", purchase="PO 17"))
    assert "The order PO 17 alone" in printed.text
    assert read_own(books).holders == ()


def test_a_supplier_with_an_earlier_number_is_told_apart(books: Books) -> None:
    record(books)
    own_certificate.give(books, GiveRequest("Mill"))
    record(books, "R-2")
    own = read_own(books)
    assert [own.is_old(each) for each in own.holders] == [True]
    own_certificate.give(books, GiveRequest("Mill"))
    own = read_own(books)
    assert [own.is_old(each) for each in own.holders] == [False]


def test_nothing_is_given_where_none_is_recorded_or_it_ran_out(books: Books) -> None:
    with pytest.raises(NotPossible, match="No resale certificate"):
        own_certificate.give(books, GiveRequest("Mill"))
    record(books)
    with pytest.raises(NotPossible, match="ran out on 2026-12-31"):
        own_certificate.give(on_day(books, AFTER), GiveRequest("Mill"))
    with pytest.raises(NotUnderstood) as refused:
        own_certificate.give(books, GiveRequest(" "))
    assert refused.value.field == "supplier"
    assert read_own(books).holders == ()
    assert not any((books.folder / "receipts").glob("resale*"))


@pytest.mark.parametrize(
    ("request_", "error"),
    [
        (OwnRequest("R-1", "the office", expires=date(2026, 1, 4)), NotPossible),
        (OwnRequest(" ", "the office"), NotUnderstood),
        (OwnRequest("123-45-6789", "the office"), NotUnderstood),
        (OwnRequest("R-1", " "), NotUnderstood),
    ],
)
def test_what_is_no_certificate_is_refused_and_nothing_is_kept(
    books: Books, request_: OwnRequest, error: type[Exception]
) -> None:
    with pytest.raises(error):
        own_certificate.perform(books, request_)
    assert read_own(books).number is None


def test_a_shop_that_has_none_cannot_give_it_back(books: Books) -> None:
    with pytest.raises(NotFound) as refused:
        own_certificate.take_back(books, BackRequest("Mill"))
    assert refused.value.field == "supplier"


def test_the_quarter_asks_about_a_shop_that_sold_untaxed_and_has_none(books: Books) -> None:
    spent(books, "40.00", "batting", "checking", untaxed=True)
    quarter = (date(2026, 1, 1), date(2026, 3, 31))
    asked = "Stock was bought untaxed from Corner shop"
    assert any(each.startswith(asked) for each in find_questions(books, *quarter))
    record(books)
    own_certificate.give(books, GiveRequest("corner shop"))
    assert not any(each.startswith(asked) for each in find_questions(books, *quarter))
