"""Read income by month, out of month totals."""

from __future__ import annotations

from datetime import date

from ledger.books.balances import movements_by_month, read_accounts
from ledger.books.before_books import read_year_before
from ledger.books.books import Books
from ledger.periods import Period
from ledger.results.by_month import IncomeByMonth, cash_income, income_by_month
from ledger.results.period import held_by_month, owed_charge_by_month


def read_income_by_month(books: Books, period: Period) -> IncomeByMonth:
    """Income of the months that a period touches and of those a year before, at the end of today."""
    income = [each.id for each in read_accounts(books).of_kind("income")]
    first = date(period.start.year - 1, period.start.month, 1)
    moved = movements_by_month(books, books.today, first)
    held, owed = (read(books, first, books.today) for read in (held_by_month, owed_charge_by_month))
    cents = {
        each: cash_income(moved.get(each, {}), income, held.get(each, 0), owed.get(each, 0))
        for each in {*moved, *held, *owed}
    }
    begun_on = books.settings.begun_on
    before = read_year_before(books, begun_on.year).income_cents
    return income_by_month(cents, period, begun_on, books.today, before)
