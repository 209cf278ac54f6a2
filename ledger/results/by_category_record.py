"""Read the expenses of a period by category."""

from __future__ import annotations

from ledger.books.before_books import read_year_before
from ledger.books.books import Books
from ledger.periods import Period, year_holding
from ledger.results.by_category import ExpensesByCategory, expenses_by_category
from ledger.results.lines import schedule_c_lines
from ledger.results.period import read_statement


def read_expenses_by_category(books: Books, period: Period) -> ExpensesByCategory:
    """The categories of the days of a period, as far as the books go today."""
    end, year = period.last_day_by(books.today), year_holding(books.settings.begun_on)
    found = read_statement(books, period.start, end).expenses
    before = read_year_before(books, year.start.year).expenses_cents if period.holds(year.start) else 0
    return expenses_by_category(found, schedule_c_lines([each.account for each in found], end.year), before)
