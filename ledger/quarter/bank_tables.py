"""What the banks say: to what day each account agreed, which did not, and which of their lines nobody has placed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ledger.bank.agreements import Agreement, read_agreements
from ledger.bank.matches import read_lines
from ledger.bank.statements import STATEMENT_ROLES
from ledger.books.books import Books
from ledger.money import plain_amount
from ledger.quarter.checks import Check
from ledger.quarter.span import Span
from ledger.quarter.table import Field, PacketTable

_PLAIN = (
    "Bank reconciliation: each account, and the last day by the end of the period on which it was held against its "
    "bank or counted."
)


def agreement_table(books: Books, span: Span) -> PacketTable:
    """The last agreement of each account by the end of the period."""
    fields = (Field("Account"), Field("Agreed through", "day"), Field("Balance", "amount"), Field("Changed since"))
    rows = tuple(
        (each.account, each.day, each.ending_cents, "; ".join(each.changed) or "no") for each in _last(books, span.end)
    )
    return PacketTable("bank reconciliation", f"Agreed with the bank by {span.end}", fields, rows, _PLAIN)


def agreement_checks(books: Books, end: date) -> Iterator[Check]:
    """An account that agreed fails where what was covered has changed since; one that never did is a question."""
    for each in _last(books, end):
        yield Check(
            f"{each.account} is as it was when it agreed with its bank through {each.day}",
            fault="; ".join(each.changed),
        )


def bank_questions(books: Books, start: date, end: date) -> Iterator[str]:
    """Lines of statements that nobody has placed; and once the period is over, accounts that did not agree in it."""
    lines_open = read_lines(books, open_only=True)
    waiting = [each.cents for each in lines_open if each.state in ("open", "later") and start <= each.day <= end]
    if waiting:
        lines = "1 bank line is" if len(waiting) == 1 else f"{len(waiting)} bank lines are"
        yield f"{lines} not placed, {plain_amount(sum(waiting), books.currency)} together: what are they?"
    if end < books.today:
        yield from _never_held(books, start, end)


def _never_held(books: Books, start: date, end: date) -> Iterator[str]:
    agreed = {each.account for each in _last(books, end) if each.day >= start}
    used = books.rows(
        "select distinct account.name, account.role from posting join account on account.id = posting.account "
        "join entry on entry.number = posting.entry where account.purse = 'business' and entry.date between ? and ? "
        "order by account.id",
        (start.isoformat(), end.isoformat()),
    )
    names = [row["name"] for row in used if row["role"] in STATEMENT_ROLES and row["name"] not in agreed]
    if names:
        yield f"Not held against a statement of the bank in this period: {', '.join(names)}."


def _last(books: Books, end: date) -> list[Agreement]:
    last: dict[str, Agreement] = {}
    for each in read_agreements(books):
        if each.day <= end:
            last[each.account] = each
    return list(last.values())
