"""From how much on a receipt wants a document: her own limit, from today on."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.books.settings import choose
from ledger.money import plain_amount
from ledger.spending.without_document import DOCUMENT_LIMIT


@dataclass(frozen=True)
class DocumentLimitRequest:
    """cents: 0 wants a document with every receipt."""

    cents: int


def perform(books: Books, request: DocumentLimitRequest) -> None:
    """Keep the limit. What counts as proof, her accountant and the tax office decide."""
    with books.writing() as write:
        choose(write, DOCUMENT_LIMIT, plain_amount(request.cents, books.currency), books.today, books.today)
