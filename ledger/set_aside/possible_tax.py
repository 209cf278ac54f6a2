"""Possible sales tax: what would be owed if the classes that nobody has answered yet turn out to be taxed.

Until a class is answered no tax is taken on it, and she would owe it herself. It is worked out as if taxed, at the
rates of the day and place of the sale, on the whole slip, rounded once.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from ledger.books.books import Books, Row
from ledger.money import percent_of, round_half_up
from ledger.taxes.rules import answers_on, rules_at
from ledger.taxes.sales_tax import percent_sum


@dataclass(frozen=True)
class PossibleTax:
    """On one sale. base: what was charged for classes that are not answered, refunds taken off, in cents."""

    entry: int
    day: date
    text: str
    base_cents: int
    tax_cents: int


def read_possible_tax(books: Books, on: date) -> tuple[PossibleTax, ...]:
    """Every sale with a class that is not answered at the end of a day, in the order of their entries."""
    found = [_of_sale(books, rows, on) for rows in _by_sale(books, on).values()]
    return tuple(each for each in found if each is not None and each.tax_cents)


def _by_sale(books: Books, on: date) -> dict[int, list[Row]]:
    """The lines that nobody could treat, by job, or by entry where they belong to none."""
    rows = books.rows(
        "select entry.number, entry.date, entry.text, entry.job, entry.kind, class, sum(cents) as cents, "
        "(select place from shipment where shipment.entry = entry.number order by shipment.id desc limit 1) as place "
        "from slip_line join entry on entry.number = slip_line.entry "
        "where treatment = 'unanswered' and date <= ?1 and not exists (select 1 from entry as pair "
        "where pair.date <= ?1 and (pair.reverses = entry.number or pair.number = entry.reverses)) "
        "group by entry.number, class order by entry.number",
        (on.isoformat(),),
    )
    by_sale: dict[int, list[Row]] = {}
    for row in rows:
        by_sale.setdefault(row["job"] if row["job"] is not None else -row["number"], []).append(row)
    return by_sale


def _of_sale(books: Books, rows: list[Row], on: date) -> PossibleTax | None:
    """rows: the sale's own first, then what was handed back of it. None where nothing of it is open any more."""
    sale = next((row for row in rows if row["cents"] > 0), rows[0])
    day = date.fromisoformat(sale["date"])
    at_sale, now = answers_on(books, day), answers_on(books, on)
    base = sum(row["cents"] for row in rows if at_sale.get(row["class"], now.get(row["class"])) is not False)
    if base <= 0:
        return None
    percent = percent_sum(rules_at(books, day, sale["place"]).rates)
    tax = round_half_up(percent_of(base, Fraction(percent)))
    return PossibleTax(sale["number"], day, sale["text"], base, tax)
