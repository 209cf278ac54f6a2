"""The money put into the machines so far and what came back, day by day, for the yearly rate of return."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from ledger.books.books import Books
from ledger.machine.internal_rate import Flow, internal_rate
from ledger.machine.loan_record import read_loans
from ledger.machine.payback_record import PaybackRecord
from ledger.machine.record import read_parts
from ledger.periods import month_holding


@dataclass(frozen=True)
class Return:
    """flows: in the order of their days, before income tax and any pay, and without what it would still sell for."""

    flows: tuple[Flow, ...]

    @cached_property
    def rate(self) -> float | None:
        """0.175 for 17.5 % a year; None where there is none."""
        return internal_rate(self.flows)

    @property
    def put_in_cents(self) -> int:
        return -sum(each.cents for each in self.flows if each.cents < 0)

    @property
    def came_back_cents(self) -> int:
        return sum(each.cents for each in self.flows if each.cents > 0)


def read_return(books: Books) -> Return:
    """What went in and came back up to today: costs less what was lent, payments on loans, what was earned."""
    flows = [*_cost_flows(books), *_loan_flows(books), *_interest_flows(books), *_earned_flows(books)]
    by_day: dict[date, int] = {}
    for each in flows:
        by_day[each.day] = by_day.get(each.day, 0) + each.cents
    return Return(tuple(Flow(day, cents) for day, cents in sorted(by_day.items()) if cents))


def _cost_flows(books: Books) -> Iterator[Flow]:
    for each in read_parts(books, books.today):
        yield Flow(each.day, -each.cents)


def _loan_flows(books: Books) -> Iterator[Flow]:
    """What a lender paid came in with the machine, at the latest on the day of the loan; principal goes out."""
    bought = {each.machine: each.day for each in reversed(read_parts(books, books.today))}
    for loan in read_loans(books):
        taken_on = loan.terms.taken_on
        yield Flow(min(taken_on, bought.get(loan.machine, taken_on)), loan.terms.cents)
        for each in loan.happened:
            yield Flow(each.day, each.interest_cents - each.cents)


def _interest_flows(books: Books) -> Iterator[Flow]:
    rows = books.rows(
        "select entry.date, sum(posting.cents) from posting join entry on entry.number = posting.entry "
        "join account on account.id = posting.account where role = 'loan_interest' and entry.date <= ? "
        "group by entry.date",
        (books.today.isoformat(),),
    )
    for row in rows:
        yield Flow(date.fromisoformat(row[0]), -row[1])


def _earned_flows(books: Books) -> Iterator[Flow]:
    """What was earned in a month, on its last day; in the running one today."""
    before = 0
    for point in PaybackRecord(books).points:
        yield Flow(min(month_holding(point.first_day).end, books.today), point.earned_cents - before)
        before = point.earned_cents
