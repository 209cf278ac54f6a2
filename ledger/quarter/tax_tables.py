"""The packet's tables of sales tax: what was charged, what was taken, and the certificates behind what was not."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.books.books import Books
from ledger.quarter.sales_tax import read_sales_tax
from ledger.quarter.span import Span
from ledger.quarter.table import Field, PacketTable, amounts

_IN_TRUST = "Sales tax is held for the state: it is no income, and paying it over is no expense."
_SHEET_OF_ITS_OWN = "With names, states and numbers, since an audit asks for them: hand it on with care."


def tax_tables(books: Books, span: Span) -> Iterator[PacketTable]:
    tax = read_sales_tax(books, span.start, span.end)
    charged = (
        ("taxed", tax.taxable_cents),
        ("not taxed", tax.not_taxed_cents),
        ("exempt buyer", tax.exempt_cents),
        ("not answered yet", tax.unanswered_cents),
    )
    rows = tuple(each for each in charged if each[1])
    yield PacketTable(
        "charged by treatment", "Charges by how they were taxed", (Field("How"), *amounts("Charged")), rows
    )
    fields = (
        *(Field("Jurisdiction"), Field("Level"), Field("Percent", "percent"), Field("Taxable", "amount")),
        *amounts("Tax"),
    )
    by_rate = tuple(
        (each.jurisdiction, each.level, each.percent, each.base_cents, each.tax_cents) for each in tax.by_jurisdiction
    )
    yield PacketTable("sales tax", "Sales tax taken, by jurisdiction and rate", fields, by_rate, _IN_TRUST)


def exemption_table(books: Books, span: Span) -> PacketTable:
    """Exempt sales with the certificate that each rests on: a sheet of its own, never in the PDF."""
    rows = books.rows(
        "select entry.number, entry.date, entry.job, certificate.reason, certificate.number as certificate, "
        "certificate.expires, state, sum(slip_line.cents) as cents, "
        "(select name from party_detail where party = certificate.party order by id desc limit 1) as name "
        "from slip_line join entry on entry.number = slip_line.entry "
        "join certificate on certificate.id = slip_line.certificate "
        "left join certificate_detail on certificate_detail.certificate = certificate.id "
        "where treatment = 'exempt' and entry.date between ? and ? group by entry.number, certificate.id "
        "order by entry.number",
        (span.start.isoformat(), span.end.isoformat()),
    )
    fields = (
        *(Field("Entry", "count"), Field("Day", "day"), Field("Job", "count"), Field("Customer"), Field("Reason")),
        *(Field("State"), Field("Number"), Field("Expires", "day"), *amounts("Charged")),
    )
    cells = tuple(
        (
            *(row["number"], date.fromisoformat(row["date"]), row["job"], row["name"], row["reason"]),
            *(row["state"], row["certificate"], _day(row["expires"]), row["cents"]),
        )
        for row in rows
    )
    title = "Exempt sales and their certificates"
    return PacketTable("exemption certificates", title, fields, cells, _SHEET_OF_ITS_OWN, on_paper=False)


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
