"""Keep what her accountant chose for the figures of the return, from the beginning of a tax year on."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.periods import year_holding
from ledger.results.method import ReturnMethod, keep_cost_of_goods, keep_home_method, keep_tax_laid_on, read_method


@dataclass(frozen=True)
class MethodRequest:
    """What is not said stays as it is. home: simplified, booked or figure; figure: an amount, as it was typed."""

    asked: str
    home: str | None = None
    figure: str | None = None
    cost_of_goods: bool | None = None
    tax_laid_on: str | None = None


def perform(books: Books, request: MethodRequest) -> ReturnMethod:
    """What holds then, for the tax year of today and later ones. Raises NotUnderstood."""
    if (request.home, request.figure, request.cost_of_goods, request.tax_laid_on) == (None, None, None, None):
        raise NotUnderstood(
            "Nothing was chosen.", "Say what your accountant chose: the home, cost of goods, or the sales tax.", "home"
        )
    since = year_holding(books.today).start
    with books.writing() as write:
        if request.home is not None or request.figure is not None:
            keep_home_method(books, write, request.home or "", request.figure, request.asked, since)
        if request.cost_of_goods is not None:
            keep_cost_of_goods(books, write, request.cost_of_goods, request.asked, since)
        if request.tax_laid_on is not None:
            keep_tax_laid_on(books, write, request.tax_laid_on, request.asked, since)
    return read_method(books, books.today)
