"""From the books to the cash method: what was received counts when it was received, worked through on examples.

Work of 185.44 with tax of 9.83 (5.3 %); what is owed after a deposit of 50.00 is 135.44 of charge and 9.83 of tax.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.results.period import owed_charge, read_statement
from ledger.results.statement import CashBridge
from tests.workshop import begin_taxed, deposit, job_for, on_day, pay, picked_up, reversed_entry, spent, transferred

FEBRUARY, MARCH, MAY, AUGUST = date(2026, 2, 10), date(2026, 3, 20), date(2026, 5, 4), date(2026, 8, 3)
FIRST = (date(2026, 1, 1), date(2026, 3, 31))
SECOND = (date(2026, 4, 1), date(2026, 6, 30))
THIRD = (date(2026, 7, 1), date(2026, 9, 30))
FOURTH = (date(2026, 10, 1), date(2026, 12, 31))
YEAR = (date(2026, 1, 1), date(2026, 12, 31))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=1_000_00)
    yield opened
    quarters = [read_statement(opened, *quarter) for quarter in (FIRST, SECOND, THIRD, FOURTH)]
    for accrual in (False, True):
        year = read_statement(opened, *YEAR)
        assert year.income_cents(accrual=accrual) == sum(each.income_cents(accrual=accrual) for each in quarters)
    opened.close()


def incomes(books: Books, period: tuple[date, date]) -> tuple[int, int]:
    """Income as the books have it, and on the cash method."""
    found = read_statement(books, *period)
    return found.income_cents(accrual=True), found.income_cents()


def bridge(books: Books, period: tuple[date, date]) -> CashBridge:
    return read_statement(books, *period).bridge


def test_a_job_paid_at_its_pickup_is_the_same_on_both(books: Books) -> None:
    picked_up(on_day(books, FEBRUARY), job_for(books, "185.44"), "cash")
    assert incomes(books, FIRST) == (185_44, 185_44)
    assert bridge(books, FIRST) == CashBridge(185_44, 0, 0, 0, 0, 0, 0)


def test_a_deposit_is_income_when_it_is_taken_and_no_more_when_it_is_used(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(on_day(books, MARCH), job, "50.00")
    picked_up(on_day(books, MAY), job, "cash")
    assert bridge(books, FIRST) == CashBridge(0, 50_00, 0, 0, 0, 0, 0)
    assert bridge(books, SECOND) == CashBridge(185_44, 0, 50_00, 0, 0, 0, 0)
    assert incomes(books, FIRST) == (0, 50_00)
    assert incomes(books, SECOND) == (185_44, 135_44)
    assert incomes(books, YEAR) == (185_44, 185_44)


def test_what_is_owed_is_income_when_it_is_paid_without_the_tax_in_each_payment(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(on_day(books, FEBRUARY), job, "50.00")
    picked_up(on_day(books, MARCH), job, "owed")
    pay(on_day(books, MAY), job, "100.00")
    pay(on_day(books, AUGUST), job, "45.27")
    assert bridge(books, FIRST) == CashBridge(185_44, 50_00, 50_00, 0, 0, 0, 135_44)
    assert bridge(books, SECOND) == CashBridge(0, 0, 0, 0, 0, 135_44, 42_21)
    assert bridge(books, THIRD) == CashBridge(0, 0, 0, 0, 0, 42_21, 0)
    assert [incomes(books, quarter)[1] for quarter in (FIRST, SECOND, THIRD, FOURTH)] == [50_00, 93_23, 42_21, 0]
    assert incomes(books, YEAR) == (185_44, 185_44)


def test_a_part_paid_at_the_pickup_is_spread_as_the_rest_owed_is_made_up(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(on_day(books, FEBRUARY), job, "50.00")
    picked_up(on_day(books, MARCH), job, "check", amount="100.00")
    assert incomes(books, FIRST) == (185_44, 143_23)
    pay(on_day(books, MAY), job, "45.27")
    assert incomes(books, SECOND) == (0, 42_21)


def test_a_deposit_that_pays_the_tax_too_counts_whole_when_it_is_taken(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(on_day(books, MARCH), job, "195.27")
    picked_up(on_day(books, MAY), job)
    assert incomes(books, FIRST) == (0, 195_27)
    assert incomes(books, SECOND) == (185_44, -9_83)
    assert incomes(books, YEAR) == (185_44, 185_44)


def test_what_stays_held_of_a_deposit_stays_income(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(on_day(books, MARCH), job, "250.00")
    picked_up(on_day(books, MAY), job)
    assert incomes(books, YEAR) == (185_44, 240_17)  # 54.73 is held, and was received


def test_a_tip_and_a_discount_count_on_the_day(books: Books) -> None:
    job = job_for(books, "185.44")
    picked_up(on_day(books, MARCH), job, "card", discount="85.44", tip="10.00", fee="3.50")
    assert incomes(books, FIRST) == (110_00, 110_00)
    assert read_statement(books, *FIRST).net_cents() == 106_50


def test_a_tip_is_paid_first_where_a_part_stays_owed(books: Books) -> None:
    job = job_for(books, "185.44")
    picked_up(on_day(books, MARCH), job, "cash", tip="10.00", amount="107.64")
    # 97.64 of 195.27 is paid beside the tip: 92.7247 of the charge and 4.9153 of the tax.
    assert incomes(books, FIRST) == (195_44, 10_00 + 92_72)
    assert owed_charge(books, MARCH) == 92_72


def test_a_payment_that_was_an_error_is_income_no_more(books: Books) -> None:
    job = job_for(books, "185.44")
    picked_up(on_day(books, MARCH), job, "owed")
    payment = pay(on_day(books, MARCH), job, "195.27")
    assert incomes(books, FIRST) == (185_44, 185_44)
    reversed_entry(on_day(books, MAY), payment)
    assert incomes(books, SECOND) == (0, -185_44)
    assert incomes(books, YEAR) == (185_44, 0)


def test_a_pickup_that_was_undone_and_entered_again_uses_its_deposit_once(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(on_day(books, FEBRUARY), job, "50.00")
    wrong = picked_up(on_day(books, MARCH), job, "cash").entry
    assert wrong is not None
    reversed_entry(on_day(books, MARCH), wrong.number)
    picked_up(on_day(books, MARCH), job, "check")
    assert bridge(books, FIRST) == CashBridge(185_44, 50_00, 50_00, 0, 0, 0, 0)


def test_a_deposit_that_was_an_error_was_not_received(books: Books) -> None:
    job = job_for(books, "185.44")
    entry = deposit(on_day(books, MARCH), job, "50.00")
    reversed_entry(on_day(books, MAY), entry)
    assert bridge(books, SECOND) == CashBridge(0, -50_00, 0, 0, 0, 0, 0)
    assert bridge(books, YEAR) == CashBridge(0, 0, 0, 0, 0, 0, 0)


def test_what_is_no_income_and_no_expense_moves_neither(books: Books) -> None:
    transferred(books, "put-in", "500.00", "household checking", "checking")
    transferred(books, "draw", "300.00")
    transferred(books, "move", "100.00", "checking", "tax savings")
    spent(books, "60.00", "thread", "checking", home="20.00")
    spent(books, "20.00", "thread", "personal card", owed=True)
    transferred(books, "pay-back", None)
    found = read_statement(books, *YEAR)
    assert incomes(books, YEAR) == (0, 0)
    assert [(each.account.name, each.cents) for each in found.expenses] == [("thread", 60_00)]
    assert found.net_cents() == -60_00


def test_sales_tax_is_in_no_income(books: Books) -> None:
    picked_up(on_day(books, MARCH), job_for(books, "100.00"), "cash")
    found = read_statement(books, *FIRST)
    assert [(each.account.name, each.cents) for each in found.income if each.cents] == [("job income", 100_00)]
