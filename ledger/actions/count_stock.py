"""Keep what she counted of her stock, at cost. Nothing is posted."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.books.entries import check_date
from ledger.results.stock import keep_count


@dataclass(frozen=True)
class StockRequest:
    """cents: what all of it cost."""

    cents: int


def perform(books: Books, request: StockRequest) -> None:
    """Raises NotPossible where the books may not be written to, and on a day of a closed period."""
    check_date(books, books.today)
    with books.writing() as write:
        keep_count(books, write, request.cents, books.today)
