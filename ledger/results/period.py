"""Read what a period moved, from month totals and postings."""

from __future__ import annotations

from datetime import date

from ledger.books.accounts import Account, Accounts
from ledger.books.balances import movements, read_accounts
from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books
from ledger.results.statement import Statement, statement

_HELD = ("customer_deposits", "gift_certificates")


def read_statement(books: Books, start: date, end: date) -> Statement:
    """The statement of the days from start to end, both included, as far as the books go."""
    accounts = read_accounts(books)
    moved = movements(books, start, end)
    business: dict[Account, int] = {}
    for each in accounts.all:
        if each.purse == "business":
            counted = accounts.counted_under(each)
            business[counted] = business.get(counted, 0) + moved[each.id]
    deposits, certificates = (_in_and_out(books, accounts, role, start, end) for role in _HELD)
    return statement(
        list(business.items()),
        deposits,
        certificates,
        (_owed_before(books, "charge", start, end), owed_charge(books, end)),
    )


def owed_charge(books: Books, on: date) -> int:
    """What customers owe at the end of a day without its tax, in cents."""
    return _owed(books, "charge", on)


def owed_tax_rise(books: Books, start: date, end: date) -> int:
    """By how much the tax in what customers owe rose in the days from start to end, in cents."""
    return _owed(books, "tax", end) - _owed_before(books, "tax", start, end)


def owed_charge_by_month(books: Books, first: date, last: date) -> dict[date, int]:
    """By how much what customers owe without tax grew in each month, in cents by the month's first day."""
    return _by_month(
        books,
        "select substr(date, 1, 7), sum(charge) from owed_part cross join entry on entry.number = owed_part.entry "
        f"where date between ? and ? and not {STOOD_BEFORE} group by 1",
        (first.isoformat(), last.isoformat()),
    )


def held_by_month(books: Books, first: date, last: date) -> dict[date, int]:
    """By how much deposits and gift certificates grew in each month, in cents by the month's first day."""
    accounts = read_accounts(books)
    return _by_month(
        books,
        "select substr(date, 1, 7), sum(-cents) from posting join entry on entry.number = posting.entry "
        f"where account in (?, ?) and date between ? and ? and not {STOOD_BEFORE} group by 1",
        (*(accounts[role].id for role in _HELD), first.isoformat(), last.isoformat()),
    )


def _by_month(books: Books, query: str, values: tuple[str | int, ...]) -> dict[date, int]:
    return {date.fromisoformat(f"{month}-01"): cents for month, cents in books.rows(query, values)}


def _owed(books: Books, part: str, on: date) -> int:
    return int(
        books.value(
            f"select coalesce(sum({part}), 0) from owed_part "
            "cross join entry on entry.number = owed_part.entry where date <= ?",
            (on.isoformat(),),
        )
    )


def _owed_before(books: Books, part: str, start: date, end: date) -> int:
    """What was owed before a period began: what stood there when the books began had been owed before them."""
    stood = books.value(
        f"select coalesce(sum({part}), 0) from owed_part "
        f"cross join entry on entry.number = owed_part.entry where date between ? and ? and {STOOD_BEFORE}",
        (start.isoformat(), end.isoformat()),
    )
    return _owed(books, part, date.fromordinal(start.toordinal() - 1)) + int(stood)


def _in_and_out(books: Books, accounts: Accounts, role: str, start: date, end: date) -> tuple[int, int]:
    """What a liability took in and gave out; a reversal takes away from the side that its entry stood on.

    What stood there when the books began came in before them.
    """
    row = books.row(
        "select coalesce(sum(-cents) filter (where (cents < 0) = (reverses is null)), 0), "
        "coalesce(sum(cents) filter (where (cents > 0) = (reverses is null)), 0) from posting "
        f"join entry on entry.number = posting.entry where account = ? and date between ? and ? and not {STOOD_BEFORE}",
        (accounts[role].id, start.isoformat(), end.isoformat()),
    )
    assert row is not None
    return row[0], row[1]
