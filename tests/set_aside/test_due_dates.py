"""The year's strip: every date in the next twelve months, what it takes, and the one that is next."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import file_tax, own_tax_choices, pay_estimated, pay_tax
from ledger.books.books import Books
from ledger.periods import parse_period
from ledger.set_aside.owed import is_there
from tests import workshop as w
from tests.set_aside.checks import check_set_aside

DAY = date(2026, 2, 10)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """Quarterly returns due on the 25th, a percentage of 10, and 10,000 earned with tax of 530.00."""
    opened = w.on_day(w.begin_taxed(tmp_path / "books", opening_cents=1_000_00), DAY)
    w.choose_filing(w.on_day(opened, w.FIRST_DAY), "quarterly", 25)
    own_tax_choices.say_income_tax(opened, own_tax_choices.IncomeTaxRequest(Decimal(10), "Ann"))
    w.picked_up(opened, w.job_for(opened, "10000.00"), "check")
    yield opened
    opened.close()


def strip(books: Books, kind: str | None = None) -> list[tuple[str, str, int | None]]:
    dues = check_set_aside(books).dues
    return [(each.day.isoformat(), each.what, each.cents) for each in dues if kind in (None, each.kind)]


def test_the_strip_has_every_date_of_the_year_in_order(books: Books) -> None:
    # Self-employment tax 1,412.955 and 1,000 of income tax; 90 % of 2,412.96 is 2,171.66.
    assert strip(books) == [
        ("2026-04-15", "Estimated tax 2026, 1 of 4", 542_92),
        ("2026-04-27", "Sales tax, 2026-Q1", 530_00),
        ("2026-06-15", "Estimated tax 2026, 2 of 4", 542_92),
        ("2026-07-27", "Sales tax, 2026-Q2", None),
        ("2026-09-15", "Estimated tax 2026, 3 of 4", 542_91),
        ("2026-10-26", "Sales tax, 2026-Q3", None),
        ("2027-01-15", "Estimated tax 2026, 4 of 4", 542_91),
        ("2027-01-25", "Sales tax, 2026-Q4", None),
    ]


def test_her_own_tax_on_the_strip_adds_up_to_what_is_owed_of_it(books: Books) -> None:
    later = w.on_day(books, date(2026, 5, 1))  # within a year of the return
    own = [cents or 0 for kind in ("estimated tax", "income tax return") for _, _, cents in strip(later, kind)]
    assert sum(own) == 2_412_96
    assert strip(later, "income tax return") == [("2027-04-15", "Income tax return 2026", 241_30)]


def test_what_earlier_dates_wanted_stands_with_the_next_one(books: Books) -> None:
    pay_estimated.perform(books, pay_estimated.EstimatedTaxRequest(500_00, "checking"))
    later = w.on_day(books, date(2026, 6, 16))
    assert strip(later, "estimated tax")[0] == (
        "2026-09-15",
        "Estimated tax 2026, 3 of 4",
        542_92 * 2 - 500_00 + 542_91,
    )


def test_a_return_without_sales_is_due_all_the_same(books: Books) -> None:
    """Filed and paid for the first quarter, the second without a sale is the next one due, for nothing."""
    own_tax_choices.say_income_tax(books, own_tax_choices.IncomeTaxRequest(Decimal(0), "Ann"))
    pay_estimated.perform(books, pay_estimated.EstimatedTaxRequest(2_000_00, "checking"))
    later = w.on_day(books, date(2026, 7, 1))
    file_tax.perform(later, file_tax.FileRequest(parse_period("2026-Q1")))
    pay_tax.perform(later, pay_tax.PayRequest(parse_period("2026-Q1")))
    due = check_set_aside(later).next_due
    assert due is not None
    assert (due.what, due.day, due.cents) == ("Sales tax, 2026-Q2", date(2026, 7, 27), 0)


def test_a_return_is_late_until_it_is_paid_and_then_gone(books: Books) -> None:
    later = w.on_day(books, date(2026, 4, 28))
    assert [(each.what, each.cents) for each in check_set_aside(later).late] == [("Sales tax, 2026-Q1", 530_00)]
    file_tax.perform(later, file_tax.FileRequest(parse_period("2026-Q1")))
    late = check_set_aside(later).late
    assert [(each.cents, each.note) for each in late] == [(530_00, "filed, not paid")]
    pay_tax.perform(later, pay_tax.PayRequest(parse_period("2026-Q1")))
    found = check_set_aside(later)
    assert (found.late, found.owed.sales_tax) == ((), 0)


def test_a_last_years_return_that_is_not_settled_is_late_after_its_day(books: Books) -> None:
    after = w.on_day(books, date(2027, 4, 16))
    late = [each for each in check_set_aside(after).late if each.kind == "income tax return"]
    assert [(each.what, each.cents) for each in late] == [("Income tax return 2026", 2_412_96)]
    own_tax_choices.settle_year(after, own_tax_choices.SettledRequest(2026))
    assert [each.kind for each in check_set_aside(after).late if each.kind == "income tax return"] == []


def test_before_she_said_how_often_she_files_no_return_is_on_the_strip(tmp_path: Path) -> None:
    books = w.on_day(w.begin_taxed(tmp_path / "bare"), DAY)
    w.picked_up(books, w.job_for(books, "100.00"), "check")
    assert strip(books, "sales tax") == []
    assert any("ask your state's revenue office how often you file" in note for note in check_set_aside(books).notes)


def test_the_next_one_says_whether_its_money_is_held_or_at_least_there(books: Books) -> None:
    found = check_set_aside(books)
    assert found.next_due is not None
    assert (found.next_due.what, found.next_due.cents) == ("Estimated tax 2026, 1 of 4", 542_92)
    assert is_there(found, 542_92) == "is there"
    w.transferred(books, "move", "542.92", "checking", "tax savings")
    assert is_there(check_set_aside(books), 542_92) == "is held"
    w.transferred(books, "draw", "10900.00", "checking")  # 87.08 is left in checking
    assert is_there(check_set_aside(books), 630_01) == "is short"
