"""Use tax in the books: what was booked in a period by jurisdiction, and the lines that each entry keeps of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.money import plain_decimal
from ledger.taxes.sales_tax import JurisdictionTax


@dataclass(frozen=True)
class JurisdictionUseTax:
    """A jurisdiction at one rate; the cost that was used and the use tax on it, in cents."""

    jurisdiction: str
    level: str
    percent: Decimal
    base_cents: int
    tax_cents: int


@dataclass(frozen=True)
class UseTaxTotals:
    """base_cents: the cost of what was used, each thing once whoever levies on it."""

    base_cents: int
    by_jurisdiction: tuple[JurisdictionUseTax, ...]

    @property
    def tax_cents(self) -> int:
        return sum(each.tax_cents for each in self.by_jurisdiction)


def read_use_tax(books: Books, start: date, end: date) -> UseTaxTotals:
    """The use tax of the entries from start to end, both included; what was undone takes its own back.

    By the day of the entry: what was used before but booked late belongs to the return of the day on which it was
    booked.
    """
    days = (start.isoformat(), end.isoformat())
    rows = books.rows(
        "select jurisdiction.name, level, use_tax_line.percent, sum(base), sum(cents) from use_tax_line "
        "join entry on entry.number = use_tax_line.entry join rate on rate.id = use_tax_line.rate "
        "join jurisdiction on jurisdiction.id = rate.jurisdiction where date between ? and ? "
        "group by jurisdiction.id, use_tax_line.percent "
        "order by instr('state county city district', level), jurisdiction.id, min(entry.number)",
        days,
    )
    base = books.value(
        "select coalesce(sum(base), 0) from use_tax_line join entry on entry.number = use_tax_line.entry "
        "where date between ? and ? "
        "and use_tax_line.id in (select min(id) from use_tax_line group by entry)",
        days,
    )
    by_jurisdiction = tuple(JurisdictionUseTax(row[0], row[1], Decimal(row[2]), row[3], row[4]) for row in rows)
    return UseTaxTotals(int(base), by_jurisdiction)


def keep_use_tax(write: Writing, entry: int, taxes: tuple[JurisdictionTax, ...]) -> None:
    """Keep the use tax of an entry beside it, jurisdiction by jurisdiction."""
    for each in taxes:
        write.add(
            "use_tax_line",
            entry=entry,
            rate=each.rate.id,
            percent=plain_decimal(each.rate.percent),
            base=each.base_cents,
            cents=each.tax_cents,
        )
