"""What was sold in a period, line by line, and the same sum cut by work, month, customer and place."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books

WITHOUT_CERTIFICATE = "customers without a certificate"
AT_THE_DOOR = "handed over at the door"


@dataclass(frozen=True)
class SoldLine:
    """A line of a slip, in cents without tax; below zero where it was given back or undone.

    work: the price that it was charged by, or the class where it has none. reason: of the exemption certificate that
    was used. place: where the piece was sent, None where it was handed over.
    """

    entry: int
    day: date
    work: str
    cents: int
    is_refund: bool
    reason: str | None
    place: str | None


@dataclass(frozen=True)
class Share:
    """One part of what was sold, in cents."""

    name: str
    cents: int


def read_sold(books: Books, start: date, end: date) -> tuple[SoldLine, ...]:
    """Every line sold or given back in the days from start to end, both included, by entry."""
    rows = books.rows(
        "select entry.number, entry.date, coalesce(job_line.name, slip_line.class) as work, slip_line.cents, "
        "exists (select 1 from posting join account on account.id = posting.account "
        "where posting.entry = entry.number and account.role = 'returns_and_allowances') as is_refund, "
        "certificate.reason, "
        "(select place from shipment where shipment.job = entry.job order by id desc limit 1) as place "
        "from entry join slip_line on slip_line.entry = entry.number "
        "left join job_line on job_line.id = slip_line.job_line "
        "left join certificate on certificate.id = slip_line.certificate "
        f"where entry.date between ? and ? and not exists ({_A_CHARGE}) and not {STOOD_BEFORE} "
        "order by entry.number, slip_line.line",
        (start.isoformat(), end.isoformat()),
    )
    return tuple(
        SoldLine(
            entry=row["number"],
            day=date.fromisoformat(row["date"]),
            work=row["work"],
            cents=row["cents"],
            is_refund=bool(row["is_refund"]),
            reason=row["reason"],
            place=row["place"],
        )
        for row in rows
    )


# A charge for a returned payment has a slip, and is other income.
_A_CHARGE = (
    "select 1 from posting join account on account.id = posting.account "
    "where posting.entry = entry.number and account.role = 'other_income'"
)


def by_work(lines: Iterable[SoldLine]) -> tuple[Share, ...]:
    """Sales by kind of work, the largest first; refunds are a part of their own, the last one."""
    lines = tuple(lines)
    refunded = sum(each.cents for each in lines if each.is_refund)
    sold = _shares((each for each in lines if not each.is_refund), lambda each: each.work)
    return (*sold, *([Share("given back", refunded)] if refunded else []))


def by_month(lines: Iterable[SoldLine]) -> tuple[Share, ...]:
    """Sales less refunds by month, `2026-03`, the earliest first."""
    return tuple(sorted(_shares(lines, lambda each: each.day.isoformat()[:7]), key=lambda each: each.name))


def by_customer_kind(lines: Iterable[SoldLine]) -> tuple[Share, ...]:
    """Sales less refunds by the reason of the certificate that was used."""
    return _shares(lines, lambda each: f"exempt: {each.reason}" if each.reason else WITHOUT_CERTIFICATE)


def by_place(lines: Iterable[SoldLine]) -> tuple[Share, ...]:
    """Sales less refunds by where the pieces went."""
    return _shares(lines, lambda each: f"sent to {each.place}" if each.place else AT_THE_DOOR)


def _shares(lines: Iterable[SoldLine], name_of: Callable[[SoldLine], str]) -> tuple[Share, ...]:
    sums: dict[str, int] = {}
    for each in lines:
        name = name_of(each)
        sums[name] = sums.get(name, 0) + each.cents
    found = (Share(name, cents) for name, cents in sums.items() if cents)
    return tuple(sorted(found, key=lambda each: (-each.cents, each.name)))
