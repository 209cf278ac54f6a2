"""Find as one types: every kind of thing that the books hold, by what somebody would type, and what is new at once."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import attach, gift, question, read_statement
from ledger.actions.find import Finder, plain_cents
from ledger.actions.registry import ACTS
from ledger.actions.search_words import SEARCH_WORDS
from ledger.books.books import Books
from ledger.books.finding import Found
from ledger.books.parties import ensure_party
from tests import workshop as w
from tests.screens.small_books import READY, TODAY, begin_small, built


@pytest.fixture
def books(tmp_path: Path) -> Books:
    folder = tmp_path / "books"
    shutil.copytree(built(begin_small), folder)
    return w.reopened(folder, TODAY)


def find(books: Books, typed: str, finder: Finder | None = None) -> tuple[Found, ...]:
    finder = finder or Finder()
    for _ in finder.read_on(books):
        pass
    return finder.find(books, typed, plain_cents(books))


def first(books: Books, typed: str) -> tuple[str, int | str, str, int | str | None]:
    """Of the best match its kind and number, and where it stands."""
    best = find(books, typed)[0]
    return best.kind, best.number, best.room, best.at


def test_everybody_and_every_job_is_found_by_any_part_of_a_name_or_a_piece(books: Books) -> None:
    assert first(books, "BROOK") == ("customer", "C-001", "bench", READY)
    assert first(books, "c-003") == ("customer", "C-003", "bench", 3), "as a packet without names calls her"
    assert first(books, "log cab") == ("job", READY, "bench", READY)
    assert first(books, "pinwheel hal") == ("job", 7, "bench", 7), "also one that is gone"
    assert first(books, "mill outl") == ("party", "P-010", "money", 8)
    assert first(books, "job 3") == ("job", 3, "bench", 3)


def test_an_entry_is_found_by_its_text_who_amount_day_and_number(books: Books) -> None:
    assert first(books, "entry 8") == ("entry", 8, "money", 8)
    assert first(books, "64.00 mill") == ("entry", 8, "money", 8)
    assert [each.number for each in find(books, "9.30")] == [7], "a part of a receipt is an amount too"
    assert [each.number for each in find(books, "2026-03-16")] == [9]
    assert "entry" in [each.kind for each in find(books, "draw")]


def test_what_passed_between_the_purses_counts_once_in_what_an_entry_moved(books: Books) -> None:
    assert [find(books, f"entry {number}")[0].cents for number in (7, 8, 9)] == [31_80, 64_00, 100_00]


def test_a_number_finds_what_has_it_first_of_all(books: Books) -> None:
    assert [(each.kind, each.number) for each in find(books, "7")[:2]] == [("job", 7), ("entry", 7)]


@pytest.mark.parametrize(
    ("typed", "act"),
    [
        ("groceries", "spend"),
        ("bounced check", "returned_check"),
        ("mileage", "log_trip"),
        ("write off", "give_up"),
        ("voucher", "sell_gift"),
        ("1099", "pay_for_work"),
        ("internet", "pay_bill"),
        ("pay myself", "draw"),
        ("reconciliation", "read_statement"),
        ("mistake", "reverse"),
        ("pick up", "pick_up"),
    ],
)
def test_an_act_is_found_by_what_it_is_about(books: Books, typed: str, act: str) -> None:
    best = find(books, typed)[0]
    assert (best.kind, best.at) == ("act", act)


def test_every_act_has_words_to_be_found_by_and_is_found_by_its_own_and_its_verb(books: Books) -> None:
    assert set(SEARCH_WORDS) == {each.id for each in ACTS}
    finder = Finder()
    next(finder.read_on(books))
    for each in ACTS:
        for typed in (each.words, each.verb, " ".join(SEARCH_WORDS[each.id].split()[:2])):
            assert each.id in [hit.at for hit in find(books, typed, finder) if hit.kind == "act"], typed


def test_certificates_items_questions_documents_and_bank_lines_are_found(books: Books, tmp_path: Path) -> None:
    _, code = gift.perform(books, gift.GiftRequest(80_00, "cash", "Zora"))
    question.add(books, question.QuestionRequest("Is the frame one asset?"))
    scan = tmp_path / "corner-shop.pdf"
    scan.write_bytes(b"%PDF-1.4 x")
    attach.perform(books, attach.AttachRequest(scan, entry=7))
    bank = tmp_path / "bank.csv"
    bank.write_text("Date,Description,Amount\n2026-03-14,THREADS UNLIMITED 0417,-18.20\n", encoding="utf-8")
    read_statement.perform(books, read_statement.ReadRequest(bank, "checking"))
    assert first(books, code.lower()) == ("gift", code, "open items", None)
    assert first(books, "frame asset") == ("question", "", "quarter", None)
    assert first(books, "question 1")[:1] == ("question",)
    assert first(books, "corner-shop.pdf") == ("document", 1, "money", 7)
    assert first(books, "threads unlim") == ("bank line", 1, "statements", 1)
    assert first(books, "zoning rules") == ("item", "home_occupation", "set_up", "home_occupation")


def test_what_is_booked_after_the_first_search_is_found_by_the_next_and_nothing_is_found_twice(books: Books) -> None:
    finder = Finder()
    assert not [each for each in find(books, "corner 5.19", finder) if each.kind == "entry"]
    number = w.spent(books, "5.19", "thread", "workshop card")
    assert [each.number for each in find(books, "corner 5.19", finder) if each.kind == "entry"] == [number]
    for _ in range(2):
        found = find(books, "owner's draw", finder)
        assert [each.number for each in found if each.kind == "entry"] == [9]


def test_a_search_left_in_the_middle_of_reading_is_taken_up_again(books: Books) -> None:
    finder = Finder()
    for _ in zip(finder.read_on(books), range(4), strict=False):
        pass
    assert [each.number for each in find(books, "owner's draw", finder) if each.kind == "entry"] == [9]


def test_a_changed_name_is_found_by_the_new_one_on_every_entry(books: Books) -> None:
    finder = Finder()
    find(books, "mill", finder)
    with books.writing() as write:
        party = ensure_party(books, write, "Mill outlet")
        details = {"name": "Weavers' barn", "name_key": "weavers' barn", "contact": None, "on_date": "2026-03-18"}
        write.add("party_detail", party=party, **details)
    assert [(each.kind, each.number) for each in find(books, "weavers", finder)] == [
        ("party", f"P-{party:03d}"),
        ("entry", 8),
    ]


def test_what_is_dated_later_than_today_is_not_there_yet(books: Books) -> None:
    earlier = w.on_day(books, date(2026, 3, 1))
    assert [each.number for each in find(earlier, "owner's draw") if each.kind == "entry"] == []
    assert [each.kind for each in find(earlier, "log cab") if each.number == READY] == ["job"]
    assert find(earlier, "log cab")[0].aside == "on the Bench"
