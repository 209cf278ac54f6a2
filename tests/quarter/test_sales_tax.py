"""The sales tax of a period: every charge by its treatment, what was taken for whom, and at which rate."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.quarter.questions import find_questions
from ledger.quarter.sales_tax import read_sales_tax
from tests.workshop import (
    add_customer,
    add_rate,
    add_to_price_list,
    answer,
    balance_of,
    begin,
    begin_taxed,
    job_for,
    on_day,
    pay,
    picked_up,
    reversed_entry,
)

START, END = date(2026, 1, 1), date(2026, 3, 31)
FEBRUARY, APRIL = date(2026, 2, 10), date(2026, 4, 2)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


def sell(books: Books, amount: str, day: date = FEBRUARY, paid: str = "cash") -> int:
    there = on_day(books, day)
    sealed = picked_up(there, job_for(there, amount), paid).entry
    assert sealed is not None
    return sealed.number


def taken(books: Books, start: date = START, end: date = END) -> list[tuple[str, str, int, int]]:
    found = read_sales_tax(books, start, end).by_jurisdiction
    return [(each.jurisdiction, f"{each.percent:.2f}", each.base_cents, each.tax_cents) for each in found]


def test_what_was_taken_for_each_is_what_its_account_holds(books: Books) -> None:
    sell(books, "185.44")
    sell(books, "99.99")
    assert taken(books) == [("Kansas state", "4.30", 285_43, 12_27), ("Riley county", "1.00", 285_43, 2_86)]
    assert read_sales_tax(books, START, END).collected_cents == 15_13
    assert balance_of(books, "sales tax payable", END) == -15_13


def test_a_rate_that_changes_within_the_period_makes_two_rows(books: Books) -> None:
    add_rate(books, "Riley county", "1.25", date(2026, 3, 1))
    sell(books, "100.00")
    sell(books, "200.00", date(2026, 3, 1))
    assert taken(books) == [
        ("Kansas state", "4.30", 300_00, 12_90),
        ("Riley county", "1.00", 100_00, 1_00),
        ("Riley county", "1.25", 200_00, 2_50),
    ]


def test_every_charge_is_taxed_untaxed_exempt_or_unanswered(tmp_path: Path) -> None:
    books = begin(tmp_path / "books")
    add_rate(books, "Kansas state", "4.3")
    answer(books, "goods", True)
    answer(books, "work", False)
    add_customer(books, "Guild of Saint Anne", "religious", "KS-771")
    for name, amount, class_name in (
        ("Batting", "40", "goods"),
        ("Quilting", "100", "work"),
        ("Parcel", "9", "delivery"),
    ):
        add_to_price_list(books, name, "flat", amount, class_name)
    lines = ["Batting", "Quilting", "Parcel"]
    picked_up(books, job_for(books, lines=lines), "cash")
    picked_up(books, job_for(books, lines=lines, customer="Guild of Saint Anne"), "cash")
    found = read_sales_tax(books, START, END)
    assert (found.gross_cents, found.taxable_cents, found.not_taxed_cents) == (298_00, 40_00, 200_00)
    assert (found.exempt_cents, found.unanswered_cents) == (49_00, 9_00)
    assert (found.collected_cents, found.unanswered) == (1_72, ("delivery",))
    assert any("«delivery»" in each for each in find_questions(books, START, END))
    books.close()


def test_a_sale_undone_in_its_period_leaves_nothing_and_one_undone_later_is_taken_off_later(books: Books) -> None:
    reversed_entry(on_day(books, FEBRUARY), sell(books, "50.00"))
    late = sell(books, "100.00", paid="owed")
    reversed_entry(on_day(books, APRIL), late)
    assert taken(books) == [("Kansas state", "4.30", 100_00, 4_30), ("Riley county", "1.00", 100_00, 1_00)]
    second = taken(books, date(2026, 4, 1), date(2026, 6, 30))
    assert second == [("Kansas state", "4.30", -100_00, -4_30), ("Riley county", "1.00", -100_00, -1_00)]


def test_the_tax_belongs_to_the_period_of_the_sale_paid_or_not(books: Books) -> None:
    job = job_for(on_day(books, FEBRUARY), "100.00")
    picked_up(on_day(books, FEBRUARY), job, "owed")
    pay(on_day(books, APRIL), job, "105.30")
    assert read_sales_tax(books, START, END).collected_cents == 5_30
    assert read_sales_tax(books, date(2026, 4, 1), date(2026, 6, 30)).collected_cents == 0


def test_a_period_without_sales_is_all_zero(books: Books) -> None:
    found = read_sales_tax(books, START, END)
    assert (found.gross_cents, found.collected_cents, found.by_jurisdiction, found.unanswered) == (0, 0, (), ())


class TestQuestions:
    def test_what_customers_owe_at_the_end_is_asked_about(self, books: Books) -> None:
        picked_up(on_day(books, FEBRUARY), job_for(on_day(books, FEBRUARY), "100.00"), "owed")
        assert find_questions(books, START, END) == ("Customers still owe 105.30.",)
        assert find_questions(books, START, date(2026, 1, 31)) == ()

    def test_a_machine_from_before_the_books_and_a_reversal_raise_none(self, tmp_path: Path) -> None:
        books = begin_taxed(tmp_path / "machine", machine_price_cents=500_00, machine_date=date(2025, 6, 1))
        reversed_entry(on_day(books, APRIL), sell(books, "50.00", paid="owed"))
        assert find_questions(books, START, END) == ("Customers still owe 52.65.",)
        assert find_questions(books, date(2026, 4, 1), date(2026, 6, 30)) == ()
        books.close()
