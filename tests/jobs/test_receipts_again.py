"""A receipt printed once more says what the first one said, from the books alone."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from ledger.errors import NotFound, NotPossible
from ledger.jobs.printing import print_receipt_again
from tests.jobs.receipts_of_one_day import PICKUPS
from tests.workshop import (
    FIRST_DAY,
    add_customer,
    add_rate,
    add_to_price_list,
    answer,
    begin_taxed,
    deposit,
    job_for,
    move,
    on_day,
    pay,
    picked_up,
    reversed_entry,
)

LATER = FIRST_DAY + timedelta(100)
COUNTED = ("Cash handed over", "Change")


@pytest.mark.parametrize("name", PICKUPS)
def test_it_is_the_same_text_and_the_same_pdf(name: str, tmp_path: Path) -> None:
    books, done = PICKUPS[name](tmp_path / "books")
    _, printed = print_receipt_again(on_day(books, LATER), 1)
    books.close()
    first = done.receipt.read_text(encoding="utf-8")
    assert printed.text.splitlines() == [line for line in first.splitlines() if not line.startswith(COUNTED)]
    if printed.text == first:
        assert printed.pdf == done.pdf.read_bytes()
    assert (printed.pdf_in(done.pdf.parent), printed.text_in(done.pdf.parent)) == (done.pdf, done.receipt)


def test_only_the_cash_that_went_over_the_counter_is_not_in_the_books(tmp_path: Path) -> None:
    books, done = PICKUPS["plain"](tmp_path / "books")
    _, printed = print_receipt_again(books, 1)
    books.close()
    gone = set(done.receipt.read_text(encoding="utf-8").splitlines()) - set(printed.text.splitlines())
    assert sorted(line[:10].strip() for line in gone) == ["Cash hande", "Change"]


def test_what_came_later_changes_nothing(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    add_to_price_list(books, "Edge-to-edge", "area", "0.02", includes_tax=True)
    job = job_for(books, lines=["Edge-to-edge"])
    deposit(books, job, "20.00")
    done = picked_up(books, job, "card=30.00", "owed", discount="5.00")
    later = on_day(books, LATER)
    pay(later, job, "10.00")
    add_to_price_list(later, "Edge-to-edge", "area", "0.03")
    add_rate(later, "Kansas state", "7.5", LATER)
    answer(later, "work", False, FIRST_DAY)
    add_customer(later, "Ada Holm", exempt="charity", number="KS-4711")
    _, printed = print_receipt_again(later, 1)
    books.close()
    assert printed.text == done.receipt.read_text(encoding="utf-8")
    assert printed.pdf == done.pdf.read_bytes()


def test_a_certificate_that_was_renewed_later_was_not_the_one_used(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    add_customer(books, "Ada Holm", exempt="charity", number="KS-4711")
    done = picked_up(books, job_for(books, "40.00"), discount="40.00")
    later = on_day(books, LATER)
    add_customer(later, "Ada Holm", exempt="charity", number="KS-0815")
    receipt, printed = print_receipt_again(later, 1)
    books.close()
    assert receipt.work.exemption is not None
    assert receipt.work.exemption.number == "KS-4711"
    assert printed.text == done.receipt.read_text(encoding="utf-8")


def test_a_certificate_that_has_run_out_is_not_shown(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    add_customer(books, "Ada Holm", exempt="charity", number="KS-4711", expires=FIRST_DAY)
    later = on_day(books, LATER)
    done = picked_up(later, job_for(later, "40.00"), "cash")
    books.close()
    assert done.settlement.warnings
    text = done.receipt.read_text(encoding="utf-8")
    assert ("Sales tax" in text, "KS-4711" in text) == (True, False)


def test_a_pickup_that_was_undone_and_done_again_has_its_new_receipt(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    job = job_for(books, "40.00")
    first = picked_up(books, job, "cash")
    assert first.entry is not None
    reversed_entry(books, first.entry.number)
    with pytest.raises(NotPossible, match="Job 1 is in hand, so it has no receipt"):
        print_receipt_again(books, 1)
    second = picked_up(books, job, "check", number="88")
    receipt, printed = print_receipt_again(books, 1)
    books.close()
    assert second.entry is not None
    assert receipt.sealed == second.entry
    assert printed.text == second.receipt.read_text(encoding="utf-8")
    assert first.receipt.exists()
    assert first.receipt != second.receipt


def test_a_receipt_is_of_the_day_of_the_pickup(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    job = job_for(books, "40.00")
    picked_up(on_day(books, date(2026, 2, 3)), job, "cash")
    receipt, _ = print_receipt_again(on_day(books, LATER), 1)
    with pytest.raises(NotPossible):
        print_receipt_again(on_day(books, date(2026, 2, 2)), 1)
    books.close()
    assert receipt.day == date(2026, 2, 3)


@pytest.mark.parametrize("status", ["asked", "booked", "in-hand", "ready"])
def test_a_job_that_is_not_picked_up_has_a_quote_instead(status: str, tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    job = job_for(books, "40.00", status="in-hand" if status == "ready" else status)
    if status == "ready":
        move(books, job, "ready")
    with pytest.raises(NotPossible, match=r"so it has no receipt\. Its quote is printed with «twopurse quote 1»\."):
        print_receipt_again(books, 1)
    books.close()


def test_a_job_that_there_is_not_is_not_found(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    with pytest.raises(NotFound):
        print_receipt_again(books, 1)
    books.close()
