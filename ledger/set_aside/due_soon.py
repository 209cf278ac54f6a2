"""What is due within so many days and stands in no account yet: shared bills that come again, and loan payments.

A bill's amount is what the last one came to, since the next is not known; one that never came counts for nothing, and
is named. A source of dues is a function of the books, a day and a number of days.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, Protocol

from ledger.books.books import Books
from ledger.machine.loan_record import loan_due
from ledger.spending.bill_records import read_bills
from ledger.spending.bills import SharedBill, workshop_part


@dataclass(frozen=True)
class SoonDue:
    """cents: what the workshop has to pay; 0 where `note` says why it is not known or not the workshop's to pay."""

    what: str
    day: date
    cents: int
    entry: int | None = None
    note: str = ""


class Source(Protocol):
    """Where something that falls due comes from."""

    def __call__(self, books: Books, on: date, days: int) -> Iterator[SoonDue]: ...


def bills_due(books: Books, on: date, days: int) -> Iterator[SoonDue]:
    """The next of each bill that has a rhythm, also one whose day has passed: the workshop's share of the last one."""
    for bill in read_bills(books):
        if bill.next_due is not None and bill.next_due <= on + timedelta(days=days):
            yield _bill_due(books, bill, bill.next_due, on)


def loan_payments_due(books: Books, on: date, days: int) -> Iterator[SoonDue]:
    """The loan payments of those days, and those before that were not made."""
    for each in loan_due(books, on, days):
        yield SoonDue(f"Payment on {each.words}", each.day, each.cents)


SOURCES: Final[tuple[Source, ...]] = (bills_due, loan_payments_due)


def read_due_soon(books: Books, on: date, days: int) -> tuple[SoonDue, ...]:
    """What falls due within so many days after a day, the earliest first."""
    return tuple(sorted((due for source in SOURCES for due in source(books, on, days)), key=lambda due: due.day))


def _bill_due(books: Books, bill: SharedBill, day: date, on: date) -> SoonDue:
    last = books.row(
        "select bill_payment.entry, bill_payment.cents, (select sum(posting.cents) from posting "
        "join account on account.id = posting.account where posting.entry = entry.number "
        "and account.role = 'owners_contributions') as contributed "
        "from bill_payment join entry on entry.number = bill_payment.entry where bill = ?1 and date <= ?2 "
        "and entry.reverses is null "
        "and not exists (select 1 from entry as mirror where mirror.reverses = entry.number) "
        "order by bill_payment.id desc limit 1",
        (bill.id, on.isoformat()),
    )
    share = bill.share_on(max(day, on))
    if last is None or share is None:
        return SoonDue(bill.name, day, 0, note="its amount is not known before the first one came")
    if last["contributed"]:
        return SoonDue(bill.name, day, 0, last["entry"], "the household paid the last one as a contribution")
    return SoonDue(bill.name, day, workshop_part(last["cents"], share.percent), last["entry"])
