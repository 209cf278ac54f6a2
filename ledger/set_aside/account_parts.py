"""The balance of an account opened: month by month, and each month into its entries."""

from __future__ import annotations

from calendar import month_name
from collections.abc import Iterator, Sequence
from datetime import date
from functools import partial

from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books, Row
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.records import read_job
from ledger.periods import month_holding
from ledger.set_aside.part import Part

_POSTED = (
    "from posting join entry on entry.number = posting.entry where posting.account in ({accounts}) "
    "and entry.date between ? and ?"
)


def account_parts(
    books: Books, accounts: Sequence[int], start: date, end: date, *, sign: int = 1, flows_only: bool = False
) -> tuple[Part, ...]:
    """What some accounts moved by in those days, by month. sign: -1 shows what is owed or earned above zero.

    flows_only: without what stood there when the books began.
    """
    what = "substr(entry.date, 1, 7) as month, sum(posting.cents) as cents"
    rows = _rows(books, what, accounts, start, end, "month", flows_only)
    return tuple(
        Part(
            _month_in_words(row["month"]),
            sign * row["cents"],
            opens=partial(_entries_of_month, books, accounts, row["month"], start, end, sign, flows_only),
        )
        for row in rows
        if row["cents"]
    )


def _month_in_words(month: str) -> str:
    """`January 2026` of `2026-01`."""
    year, _, number = month.partition("-")
    return f"{month_name[int(number)]} {year}"


def balance_parts(books: Books, role: str, on: date, *, sign: int = 1) -> tuple[Part, ...]:
    """The balance of one account at the end of a day, by month since the books began."""
    return account_parts(books, (account_id(books, role),), books.settings.begun_on, on, sign=sign)


def account_id(books: Books, role: str) -> int:
    return int(books.value("select id from account where role = ?", (role,)))


def deposit_parts(books: Books, on: date) -> Iterator[Part]:
    """Deposits held, job by job, each opened into its entries."""
    account = account_id(books, "customer_deposits")
    rows = books.rows(
        f"select entry.job, -sum(posting.cents) as cents {_POSTED.format(accounts='?')} group by entry.job "
        "having sum(posting.cents) <> 0 order by entry.job",
        (account, books.settings.begun_on.isoformat(), on.isoformat()),
    )
    for row in rows:
        words = "On no job"
        if row["job"] is not None:
            job = read_job(books, row["job"])
            words = f"Job {job.id}, {job.customer.name}, {job.piece}"
        yield Part(words, row["cents"], opens=partial(_deposits_of_job, books, account, row["job"], on))


def certificate_parts(books: Books) -> Iterator[Part]:
    """Gift certificates on which something is left."""
    for each in read_certificates(books):
        if each.left_cents:
            entry = books.value("select entry from gift_certificate where id = ?", (each.id,))
            yield Part(f"{each.code}, sold {each.sold_on}", each.left_cents, entry)


def _deposits_of_job(books: Books, account: int, job: int | None, on: date) -> Iterator[Part]:
    rows = books.rows(
        "select entry.number, entry.date, entry.text, -sum(posting.cents) as cents "
        f"{_POSTED.format(accounts='?')} and entry.job is ? group by entry.number order by entry.number",
        (account, books.settings.begun_on.isoformat(), on.isoformat(), job),
    )
    return (entry_part(row, 1) for row in rows)


def _entries_of_month(
    books: Books, accounts: Sequence[int], month: str, start: date, end: date, sign: int, flows_only: bool
) -> Iterator[Part]:
    whole = month_holding(date.fromisoformat(f"{month}-01"))
    what = "entry.number, entry.date, entry.text, sum(posting.cents) as cents"
    rows = _rows(books, what, accounts, max(start, whole.start), min(end, whole.end), "entry.number", flows_only)
    return (entry_part(row, sign) for row in rows)


def entry_part(row: Row, sign: int) -> Part:
    return Part(f"{row['date']}  {row['number']}  {row['text']}", sign * row["cents"], row["number"])


def _rows(
    books: Books, what: str, accounts: Sequence[int], start: date, end: date, by: str, flows_only: bool
) -> list[Row]:
    posted = _POSTED.format(accounts=", ".join("?" for _ in accounts))
    posted += f" and not {STOOD_BEFORE}" if flows_only else ""
    return books.rows(
        f"select {what} {posted} group by {by} order by {by}", (*accounts, start.isoformat(), end.isoformat())
    )
