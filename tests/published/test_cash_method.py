"""The cash method on deposits, balances, returned checks, debts given up, barter and certificates.

How sure: S seen in the source's own text (a stored copy), 2 seen in a text about it. The amounts are ours. The program
counts; what goes on a return the accountant decides.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from tests.actions.endings import book_income, called_off, came_back, cash_income, gift_sold, given_up, gone, sold
from tests.workshop import balance_of, begin_taxed, deposit, job_for, on_day, pay, picked_up, spent

pytestmark = pytest.mark.published

DECEMBER, JANUARY = date(2026, 12, 20), date(2027, 1, 11)
THIS_YEAR, NEXT_YEAR = (date(2026, 1, 5), date(2026, 12, 31)), (date(2027, 1, 1), date(2027, 12, 31))


@pytest.fixture
def december(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield on_day(opened, DECEMBER)
    opened.close()


@pytest.fixture
def january(december: Books) -> Books:
    return on_day(december, JANUARY)


def income_by_year(books: Books) -> tuple[int, int]:
    return cash_income(books, *THIS_YEAR), cash_income(books, *NEXT_YEAR)


def test_a_payment_counts_in_the_year_in_which_it_is_received(december: Books, january: Books) -> None:
    """S: IRS Publication 538 (December 2012), introduction: income is reported in the year in which it is received."""
    job = sold(december, "100.00", "owed")
    pay(january, job, "105.30")
    assert income_by_year(january) == (0, 100_00)
    assert book_income(january, *THIS_YEAR) == 100_00


def test_an_advance_payment_counts_when_it_comes_in(december: Books, january: Books) -> None:
    """S: IRS information letter CONEX-118394-06: on the cash method payments in advance are income when received."""
    job = job_for(december, "100.00")
    deposit(december, job, "50.00")
    picked_up(january, job, "cash")
    assert income_by_year(january) == (50_00, 50_00)
    assert book_income(january, *NEXT_YEAR) == 100_00


def test_a_check_counts_on_the_day_on_which_it_is_received(december: Books, january: Books) -> None:
    """2: IRS Publication 538, "Cash Method", constructive receipt: a check may not be held back to put income off."""
    sold(december, "100.00", "check")
    assert income_by_year(january) == (100_00, 0)


def test_a_check_that_bounces_was_no_income(december: Books, january: Books) -> None:
    """2: texts on the cash method: a check that is not honoured is no income; its replacement is, when it is received.

    Within the year the two cancel; where it bounces in the next year, that year bears it, and the accountant is asked.
    """
    within, over = (sold(december, "100.00", "check") for _ in range(2))
    came_back(december, within, fee="12.00")
    assert income_by_year(january) == (100_00, 0)
    came_back(january, over, fee="12.00")
    pay(january, within, "105.30", "cash")
    assert income_by_year(january) == (100_00, 0)
    assert balance_of(january, "bank charges") == 24_00
    assert balance_of(january, "sales tax payable") == -10_60


def test_a_balance_that_is_never_paid_is_no_deduction(december: Books, january: Books) -> None:
    """S: IRS Publication 334 (2001), "Bad Debts", cash method: what was never received nor included is not deducted."""
    job = sold(december, "100.00", "cash", amount="52.65")
    given_up(january, job)
    assert income_by_year(january) == (50_00, 0)
    assert balance_of(january, "balances written off") == 50_00


def test_goods_taken_for_work_count_at_their_value(december: Books, january: Books) -> None:
    """S: IRS Publication 525, "Bartering" (in Publication 17, chapter 12): fair market value, when received."""
    gone(december, job_for(december, "60.00"), barter=("backing", "63.18"))
    assert income_by_year(january) == (60_00, 0)
    assert balance_of(january, "backing") == 63_18


def test_work_given_away_is_no_income_and_its_materials_are_an_expense(december: Books, january: Books) -> None:
    """S: IRS Publication 526, "Contributions You Can't Deduct", no. 4: the value of one's time or services."""
    spent(december, "30.00", "batting", "checking")
    done = gone(december, job_for(december, "85.00"), percent="100")
    assert income_by_year(january) == (0, 0)
    assert balance_of(january, "batting") == 30_00
    assert any("Publication 526" in each for each in done.settlement.warnings)


def test_a_deposit_that_is_kept_counted_when_it_came_in(december: Books, january: Books) -> None:
    """S: as for payments in advance."""
    job = job_for(december, "100.00")
    deposit(december, job, "50.00")
    called_off(january, job, "kept")
    assert income_by_year(january) == (50_00, 0)


def test_a_gift_certificate_counts_when_it_is_sold(december: Books, january: Books) -> None:
    """S: as for payments in advance. The tax of the sale comes out of it when it is used."""
    code = gift_sold(december, "105.30")
    gone(january, job_for(january, "100.00"), gifts=(code,))
    assert income_by_year(january) == (105_30, -5_30)
