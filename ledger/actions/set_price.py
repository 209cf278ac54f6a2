"""Put a price on the list, from a day on: jobs keep the prices they were quoted."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import date
from decimal import Decimal

from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.jobs.prices import add_price
from ledger.jobs.pricing import Measure, Price
from ledger.taxes.rules import known_class
from ledger.text import read_name


@dataclass(frozen=True)
class PriceRequest:
    """rate: the price of one of what is measured by `by`, in whole units of the currency. minimum_cents: the least that
    a line comes to. allowance: added to a length, None for the trade's own. from_date: None for today."""

    name: str
    by: Measure
    rate: Decimal
    class_name: str
    minimum_cents: int = 0
    allowance: Decimal | None = None
    kind: str | None = None
    includes_tax: bool = False
    from_date: date | None = None


def preview(books: Books, request: PriceRequest) -> str:
    """The class as the books spell it. Raises NotUnderstood for the name, NotFound for the class."""
    read_name(request.name, "name")
    if not request.class_name:
        raise NotUnderstood("The price has no class.", "Say goods, work, delivery, other or one of your own.", "class")
    return known_class(books, request.class_name)


def perform(books: Books, request: PriceRequest) -> Price:
    """The price as kept. Raises as `preview` does, and NotPossible for an allowance where no length is measured."""
    preview(books, request)
    with books.writing() as write:
        return add_price(books, write, **asdict(request))
