"""Sales tax of a period: what was charged, class by class, and what was taken for each jurisdiction."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books


@dataclass(frozen=True)
class JurisdictionTotal:
    """A jurisdiction at one rate; base and tax in cents."""

    jurisdiction: str
    level: str
    percent: Decimal
    base_cents: int
    tax_cents: int


@dataclass(frozen=True)
class SalesTaxTotals:
    """Charges by treatment, in cents, and the tax taken. unanswered: classes sold that nobody has answered yet."""

    gross_cents: int
    taxable_cents: int
    not_taxed_cents: int
    exempt_cents: int
    unanswered_cents: int
    collected_cents: int
    by_jurisdiction: tuple[JurisdictionTotal, ...]
    unanswered: tuple[str, ...]


def read_sales_tax(books: Books, start: date, end: date) -> SalesTaxTotals:
    """The totals of the days from start to end, both included."""
    days = (start.isoformat(), end.isoformat())
    treated = {
        row[0]: row[1]
        for row in books.rows(
            "select treatment, sum(cents) from slip_line join entry on entry.number = slip_line.entry "
            f"where date between ? and ? and not {STOOD_BEFORE} group by treatment",
            days,
        )
    }
    taxes = books.rows(
        "select jurisdiction.name, level, tax_line.percent, sum(base), sum(cents) from entry "
        "join tax_line on tax_line.entry = entry.number join rate on rate.id = tax_line.rate "
        "join jurisdiction on jurisdiction.id = rate.jurisdiction where date between ? and ? "
        f"and not {STOOD_BEFORE} group by jurisdiction.id, tax_line.percent "
        "order by instr('state county city district', level), jurisdiction.id, min(entry.number)",
        days,
    )
    by_jurisdiction = tuple(JurisdictionTotal(row[0], row[1], Decimal(row[2]), row[3], row[4]) for row in taxes)
    classes = books.rows(
        "select class from slip_line join entry on entry.number = slip_line.entry "
        "where treatment = 'unanswered' and date between ? and ? group by class having sum(cents) > 0 order by class",
        days,
    )
    return SalesTaxTotals(
        gross_cents=sum(treated.values()),
        taxable_cents=treated.get("taxed", 0),
        not_taxed_cents=treated.get("not taxed", 0),
        exempt_cents=treated.get("exempt", 0),
        unanswered_cents=treated.get("unanswered", 0),
        collected_cents=sum(each.tax_cents for each in by_jurisdiction),
        by_jurisdiction=by_jurisdiction,
        unanswered=tuple(row[0] for row in classes),
    )
