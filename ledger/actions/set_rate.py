"""Enter a rate of sales tax, from a day on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from checklists.not_yet_known import settle_unknown
from ledger.books.books import Books
from ledger.money import plain_percent
from ledger.taxes import rules
from ledger.taxes.sales_tax import Level


@dataclass(frozen=True)
class RateRequest:
    """name: who levies it. until_date: the last day, None until the next rate of that name. level: None reads it from
    the name. place: one that pieces are sent to; None is her own."""

    name: str
    percent: Decimal
    from_date: date
    until_date: date | None = None
    level: Level | None = None
    place: str | None = None


def perform(books: Books, request: RateRequest) -> None:
    """Keep it. Raises NotUnderstood for the name, and NotPossible where it overlaps one or a sale has used it."""
    with books.writing() as write:
        rules.add_rate(
            books,
            write,
            request.name,
            request.percent,
            request.from_date,
            request.until_date,
            request.level,
            request.place,
        )
        settle_unknown(books, write, "rates", f"{request.name} {plain_percent(request.percent)} %")
