"""Income by month on the cash method: worked by hand, and in any quarter as much as the quarter's own total."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.periods import Period, parse_period, quarter_holding
from ledger.results.by_category_record import read_expenses_by_category
from ledger.results.by_month import IncomeByMonth, MonthIncome, cash_income, income_by_month, whole_months
from ledger.results.by_month_record import read_income_by_month
from ledger.results.period import read_statement
from tests.workshop import begin_taxed, clock_of, deposit, job_for, on_day, pay, picked_up, spent
from tests.workshop_example import EXAMPLE_DAY, open_example

BEGUN = date(2024, 11, 1)
MARCH, APRIL = date(2026, 3, 20), date(2026, 4, 8)


@pytest.fixture(scope="module")
def example(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Books]:
    opened = open_example(tmp_path_factory.mktemp("by_month") / "books")
    yield opened
    opened.close()


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=1_000_00)
    yield opened
    opened.close()


def months(found: IncomeByMonth) -> dict[str, int | None]:
    return {each.first_day.isoformat()[:7]: each.cents for each in found.months}


def test_a_month_is_what_the_books_have_with_what_more_is_held_less_what_more_is_owed() -> None:
    # Income of 300, 20 given back; a deposit of 50 came in, a certificate of 15 was used; 40 more are owed.
    moved = {1: -300_00, 2: 20_00, 9: 777_00}
    assert cash_income(moved, [1, 2], 50_00 - 15_00, 40_00) == 275_00


def test_a_deposit_counts_in_its_month_and_a_balance_in_the_month_in_which_it_is_paid(books: Books) -> None:
    """Work of 185.44 with tax of 9.83: 50.00 in February; of the 145.27 paid in April 135.44 is the charge."""
    job = job_for(books, "185.44")
    deposit(on_day(books, date(2026, 2, 10)), job, "50.00")
    picked_up(on_day(books, MARCH), job, "owed")
    pay(on_day(books, APRIL), job, "145.27")
    found = read_income_by_month(on_day(books, date(2026, 5, 2)), parse_period("2026"))
    assert [each.cents for each in found.months[:6]] == [0, 50_00, 0, 135_44, 0, None]
    assert found.total_cents == 185_44
    assert found.running == found.months[4]
    assert found.best is not None
    assert found.best.first_day == date(2026, 4, 1)


@settings(max_examples=40)
@given(st.dates(BEGUN, EXAMPLE_DAY), st.dates(BEGUN, EXAMPLE_DAY))
def test_the_months_of_a_quarter_add_up_to_its_income_and_its_categories_to_its_expenses(
    example: Books, one: date, other: date
) -> None:
    today, quarter = max(one, other), quarter_holding(min(one, other))
    books = replace(example, clock=clock_of(today))
    whole = read_statement(books, quarter.start, min(quarter.end, today))
    assert read_income_by_month(books, quarter).total_cents == whole.income_cents()
    assert read_expenses_by_category(books, quarter).total_cents == whole.expenses_cents
    assert sum(
        each.year_before_cents or 0 for each in read_income_by_month(books, year_later(quarter.label)).months
    ) == (whole.income_cents())


def year_later(label: str) -> Period:
    return parse_period(f"{int(label[:4]) + 1}{label[4:]}")


def test_a_month_before_the_books_began_and_one_to_come_have_no_figure() -> None:
    found = income_by_month(
        {date(2025, 3, 1): 10_00, date(2026, 2, 1): -5_00},
        parse_period("2026-01..2026-04"),
        begun_on=date(2025, 2, 14),
        on=date(2026, 3, 31),
    )
    assert found.months == (
        MonthIncome(date(2026, 1, 1), 0, None),
        MonthIncome(date(2026, 2, 1), -5_00, 0),
        MonthIncome(date(2026, 3, 1), 0, 10_00, is_running=True),
        MonthIncome(date(2026, 4, 1), None, 0),
    )
    assert found.before_books_cents == 0
    assert (found.total_cents, found.year_before_cents, found.has_year_before) == (-5_00, 10_00, True)


def test_empty_books_have_nothing_to_show(books: Books) -> None:
    found = read_income_by_month(books, parse_period("2026"))
    assert found.is_empty
    assert found.best is None


def test_an_expense_is_no_income_and_whole_months_are_read(books: Books) -> None:
    spent(on_day(books, MARCH), "12.00", "thread", "checking")
    assert whole_months(parse_period("2026-02-20..2026-03-05")).label == "2026-02..2026-03"
    found = read_income_by_month(on_day(books, MARCH), parse_period("2026-02-20..2026-03-05"))
    assert months(found) == {"2026-02": 0, "2026-03": 0}


def test_more_than_ten_years_are_refused() -> None:
    assert whole_months(parse_period("2017-01..2026-12")).label == "2017-01..2026-12"
    with pytest.raises(NotPossible, match="more than ten years"):
        whole_months(parse_period("2017-01..2027-01"))
