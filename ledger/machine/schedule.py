"""The schedule of a loan in cents: what happened and what is still to come, the last payment closing it exactly.

A payment pays the month's interest first. What is paid beyond takes effect for the next month's interest. A skipped
month puts one more at the end, and its interest is owed with the next payment. A new rate counts from the first payment
after its day, and the payment is set anew for the months that are left. Common practice, no source: lenders differ, so
the interest that was booked with a payment stands whatever the schedule would say.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from ledger.machine.loan import Terms, level_payment, month_of_interest, regular_payment
from ledger.money import percent_of, round_half_up

What = Literal["payment", "extra", "paid off", "skipped", "rate"]


@dataclass(frozen=True)
class Happened:
    """What happened on a loan on a day. interest_cents: what of the cents was interest. percent: a new rate."""

    day: date
    what: What
    cents: int = 0
    interest_cents: int = 0
    percent: Decimal | None = None


@dataclass(frozen=True)
class Row:
    """number: of the payment due, None for one beside them. payment = interest + principal; balance: what is left."""

    number: int | None
    day: date
    what: What
    payment_cents: int
    interest_cents: int
    principal_cents: int
    balance_cents: int
    is_paid: bool = False


@dataclass(frozen=True)
class Schedule:
    """payment_cents: what is paid a month now. balance_cents: what is left of the loan, without interest.

    interest_owed_cents: interest of months gone by that is still to pay. charged_back_cents: what the offer would cost
    or did cost if the loan is not paid off in time; zero without an offer. is_charged_back: whether it came to that.
    """

    rows: tuple[Row, ...]
    payment_cents: int
    balance_cents: int
    interest_owed_cents: int
    charged_back_cents: int
    is_charged_back: bool

    @property
    def last_payment_cents(self) -> int:
        return self.rows[-1].payment_cents

    @property
    def interest_cents(self) -> int:
        return sum(each.interest_cents for each in self.rows)

    @property
    def to_come(self) -> tuple[Row, ...]:
        return tuple(each for each in self.rows if not each.is_paid)


@dataclass(frozen=True)
class Quote:
    """What pays a loan off on a day, in cents. charged_back_cents is part of the interest."""

    balance_cents: int
    interest_cents: int
    charged_back_cents: int

    @property
    def total_cents(self) -> int:
        return self.balance_cents + self.interest_cents


def schedule(terms: Terms, happened: Iterable[Happened] = (), on: date | None = None) -> Schedule:
    """The whole schedule. happened: in the order of their days. on: the end of this day has come."""
    running = _Running(terms, happened)
    running.replay()
    balance, interest_owed = running.balance, running.interest_owed
    running.look_ahead(on or terms.taken_on)
    return Schedule(
        rows=tuple(running.rows),
        payment_cents=running.payment_now or running.level,
        balance_cents=balance,
        interest_owed_cents=interest_owed,
        charged_back_cents=running.charge_back,
        is_charged_back=running.is_charged_back,
    )


def interest_due(terms: Terms, happened: Iterable[Happened], day: date) -> int:
    """What of a payment on a day would be interest, as far as it goes: the month's, and what is owed from before."""
    running = _Running(terms, happened)
    running.replay()
    running.begin_month(day)
    return running.interest_owed


def payoff(terms: Terms, happened: Iterable[Happened], day: date) -> Quote:
    """What pays it off on a day: what is left, the interest of the months gone by, and of the days since by share."""
    running = _Running(terms, happened)
    running.replay()
    was_charged_back = running.is_charged_back
    while running.balance and terms.due_day(running.number) <= day:
        running.begin_month(day)
        running.number += 1
    running.charge_if_late(day)
    due = terms.due_day(running.number)
    running.set_rate(due)
    start = terms.due_day(running.number - 1) if running.number > 1 else terms.taken_on
    interest = running.interest_owed
    if start < due:
        share = Fraction(max(0, (day - start).days), (due - start).days)
        interest += round_half_up(percent_of(running.balance, running.percent) / 12 * share)
    is_new = running.is_charged_back and not was_charged_back
    return Quote(running.balance, interest, running.charge_back if is_new else 0)


class _Running:
    """A loan on its way from one payment due to the next. interest_owed: the months' that began and is not paid."""

    def __init__(self, terms: Terms, happened: Iterable[Happened]) -> None:
        self.terms = terms
        self.happened = tuple(happened)
        self.new_rates = [each for each in self.happened if each.what == "rate"]
        self.balance = terms.cents
        self.percent = terms.percent
        self.level = regular_payment(terms)
        self.payment_now: int | None = None
        self.number, self.last = 1, terms.months
        self.interest_owed = 0
        self.charge_back = 0
        self.is_charged_back = False
        self.rows: list[Row] = []

    def replay(self) -> None:
        for each in self.happened:
            if each.what in ("payment", "skipped"):
                self.begin_month(each.day)
            if each.what in ("payment", "extra", "paid off"):
                self.charge_if_late(each.day)
                self.pay(each)
            if each.what == "skipped":
                self.put_down(self.number, self.terms.due_day(self.number), "skipped", 0, 0, is_paid=True)
                self.last += 1
            if each.what in ("payment", "skipped"):
                self.number += 1

    def pay(self, paid: Happened) -> None:
        principal = paid.cents - paid.interest_cents
        self.balance -= principal
        if principal and paid.what != "extra":
            self.interest_owed = 0  # as the lender took it, whatever the schedule would say
        else:
            self.interest_owed = max(0, self.interest_owed - paid.interest_cents)
        number = self.number if paid.what == "payment" else None
        self.put_down(number, paid.day, paid.what, paid.interest_cents, principal, is_paid=True)

    def look_ahead(self, on: date) -> None:
        while self.balance or self.interest_owed:
            due = self.terms.due_day(self.number)
            self.begin_month(max(due, on))
            if self.payment_now is None:
                self.payment_now = self.level
            whole = self.balance + self.interest_owed
            payment = whole if self.number >= self.last else min(self.level, whole)
            interest = min(payment, self.interest_owed)
            self.balance -= payment - interest
            self.interest_owed -= interest
            self.put_down(self.number, due, "payment", interest, payment - interest)
            self.number += 1

    def begin_month(self, day: date) -> None:
        """The month of the next payment due, which is made on `day`, has gone by."""
        due, offer = self.terms.due_day(self.number), self.terms.offer
        self.charge_if_late(day)
        self.set_rate(due)
        if offer is not None and not self.is_charged_back and due <= offer.ends_on:
            self.charge_back += month_of_interest(self.balance, offer.percent)
        self.interest_owed += month_of_interest(self.balance, self.percent)

    def charge_if_late(self, day: date) -> None:
        """Past the end of the offer with something left, all interest from the beginning is owed at once."""
        offer = self.terms.offer
        if offer is not None and not self.is_charged_back and self.balance and day > offer.ends_on:
            self.interest_owed += self.charge_back
            self.is_charged_back = True

    def set_rate(self, due: date) -> None:
        offer = self.terms.offer
        percent = offer.percent if offer is not None and self.is_charged_back else self.terms.percent
        for each in self.new_rates:
            if each.day < due and each.percent is not None:
                percent = each.percent
        if percent != self.percent:
            self.percent = percent
            months = max(1, self.last - self.number + 1)
            self.level = round_half_up(level_payment(self.balance + self.interest_owed, percent, months))

    def put_down(
        self, number: int | None, day: date, what: What, interest: int, principal: int, *, is_paid: bool = False
    ) -> None:
        self.rows.append(
            Row(number, day, what, interest + principal, interest, principal, self.balance, is_paid=is_paid)
        )
