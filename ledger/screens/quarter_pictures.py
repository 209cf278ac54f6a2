"""The pictures of a quarter: income by month of its year, and expenses by category, each as a picture or a table."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content

from ledger.books.books import Books
from ledger.periods import Period, year_holding
from ledger.results.by_category_record import read_expenses_by_category
from ledger.results.by_month_record import read_income_by_month
from ledger.screens.expenses_picture import ExpensesLines
from ledger.screens.income_picture import IncomeLines
from ledger.screens.showing import Showing, plain_text

# So many lines the columns keep where the bars stand under them.
_LEAST_COLUMNS = 15


class QuarterPictures:
    """Read where they are shown, and not before."""

    def __init__(self, books: Books, showing: Showing, period: Period, as_table: bool) -> None:
        self.books = books
        self.showing = showing
        self.period = period
        self.as_table = as_table

    def of(self, view: str, width: int, height: int) -> Iterator[Content]:
        """One of them, by the name of its view."""
        return self.income(width, height) if view == "income" else self.expenses(width)

    def both(self, width: int, height: int) -> list[Content]:
        """Both, one under the other."""
        bars = list(self._of_category(self.period, self.period.label, width))
        columns = self.income(width, max(_LEAST_COLUMNS, height - 1 - len(bars)))
        return [*columns, Content(""), *bars]

    def income(self, width: int, height: int) -> Iterator[Content]:
        """The year of the quarter beside the year before."""
        found = read_income_by_month(self.books, year_holding(self.period.start))
        lines = IncomeLines(self.showing, found, self.period)
        return map(plain_text, lines.table(width)) if self.as_table else lines.picture(width, height)

    def expenses(self, width: int) -> Iterator[Content]:
        """The quarter, and under it the year up to its end."""
        yield from self._of_category(self.period, self.period.label, width)
        year = year_holding(self.period.start)
        if self.period.start > year.start:
            yield Content("")
            until = Period(year.start, self.period.end, year.label)
            yield from self._of_category(until, f"{year.label}, up to the end of {self.period.label}", width)

    def _of_category(self, period: Period, label: str, width: int) -> Iterator[Content]:
        lines = ExpensesLines(self.showing, read_expenses_by_category(self.books, period), label)
        return map(plain_text, lines.table(width)) if self.as_table else lines.picture(width)
