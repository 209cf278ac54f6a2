"""One job on its way: taken in, made ready, picked up and paid, each step an act on its day."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Literal

from ledger.actions import call_off, move_job, pick_up, reverse, take_in, take_money
from ledger.books.books import Books
from ledger.example.data_files import cents, read
from ledger.example.diary import Act, Diary
from ledger.example.people import telephone_of
from ledger.jobs.customers import ensure_customer
from ledger.jobs.payments import How, PaidPart
from ledger.jobs.pickup import PickupRequest, Sending
from ledger.jobs.records import read_job
from ledger.money import percent_of, round_half_up

_NOTE_CENTS = 20_00


@dataclass(frozen=True)
class Paying:
    """How a customer means to pay at pickup; amounts in cents."""

    parts: tuple[PaidPart, ...] = ()
    number: str | None = None
    tip_cents: int = 0
    discount_cents: int = 0


@dataclass(frozen=True)
class Coming:
    """Money that comes before or after pickup. cents: None is all that is owed by then."""

    on: date
    how: How
    cents: int | None = None
    number: str | None = None


@dataclass(frozen=True)
class Mistake:
    """A pickup entered wrongly, and undone on the day before it is entered again."""

    paying: Paying
    why: str


@dataclass(frozen=True)
class PlannedJob:
    """A job with its days; a day that is None does not come. back_on and again_on: sent home, and brought again.

    sending: how it goes home by post. printed: whether the receipt is printed; any other can be printed from the books.
    """

    request: take_in.TakeInRequest
    taken_on: date
    in_on: date | None = None
    back_on: date | None = None
    again_on: date | None = None
    ready_on: date | None = None
    gone_on: date | None = None
    called_off_on: date | None = None
    paying: Paying = Paying()
    deposit: Coming | None = None
    mistake: Mistake | None = None
    later: tuple[Coming, ...] = ()
    sending: Sending | None = None
    printed: bool = False


def write_job(diary: Diary, plan: PlannedJob) -> None:
    """Write every step of a job into the diary."""
    course = Course(plan)
    steps: list[tuple[date | None, Act]] = [
        (plan.taken_on, course.take_in),
        (plan.in_on, course.move("in")),
        (plan.back_on, course.move("back")),
        (plan.again_on, course.move("in")),
        (plan.ready_on, course.move("ready")),
        (plan.gone_on, course.pick_up),
        (plan.called_off_on, course.call_off),
        *((each.on, course.take_balance(each)) for each in plan.later),
    ]
    for day, act in steps:
        if day is not None:
            diary.write(day, act)


class Course:
    """The steps of one job; its number is known once it is taken in."""

    def __init__(self, plan: PlannedJob) -> None:
        self.plan = plan
        self.number = 0

    def take_in(self, books: Books) -> None:
        name = self.plan.request.customer
        with books.writing() as write:
            ensure_customer(books, write, name, telephone_of(name))
        self.number = take_in.perform(books, self.plan.request).id
        if self.plan.deposit is not None:
            take_money.take_deposit(books, self._money(self.plan.deposit, self.plan.deposit.cents or 0))

    def move(self, event: Literal["in", "ready", "back"]) -> Act:
        return lambda books: move_job.perform(books, move_job.MoveRequest(self.number, event))

    def pick_up(self, books: Books) -> None:
        if self.plan.mistake is not None:
            request = self._pickup(books, self.plan.mistake.paying)
            _, wrong = pick_up.perform_without_receipt(books, request)
            assert wrong is not None, "a pickup without an entry cannot be undone"
            reverse.perform(books, reverse.ReverseRequest(wrong.number, self.plan.mistake.why))
        perform = pick_up.perform if self.plan.printed else pick_up.perform_without_receipt
        perform(books, self._pickup(books, self.plan.paying))

    def call_off(self, books: Books) -> None:
        call_off.perform(books, call_off.CallOffRequest(self.number, "returned"))

    def take_balance(self, coming: Coming) -> Act:
        def act(books: Books) -> None:
            amount = coming.cents or read_job(books, self.number).owed_cents
            take_money.take_balance(books, self._money(coming, amount))

        return act

    def _money(self, coming: Coming, amount: int) -> take_money.MoneyRequest:
        fee = card_fee(amount) if coming.how == "card" else 0
        return take_money.MoneyRequest(self.number, amount, coming.how, fee, coming.number)

    def _pickup(self, books: Books, paying: Paying) -> PickupRequest:
        """The request, with the card's fee or the notes handed over, which both depend on what is due."""
        request = PickupRequest(
            self.number,
            paying.parts,
            number=paying.number,
            tip_cents=paying.tip_cents,
            discount_cents=paying.discount_cents,
            sending=self.plan.sending,
        )
        ways = [part.how for part in paying.parts]
        if "card" not in ways and ways != ["cash"]:
            return request
        payments = {each.how: each.cents for each in pick_up.preview(books, request).paid.payments}
        if "card" in payments:
            return replace(request, fee_cents=card_fee(payments["card"]))
        return replace(request, tendered_cents=-(-payments["cash"] // _NOTE_CENTS) * _NOTE_CENTS)


def card_fee(amount_cents: int) -> int:
    """What the card company keeps, in cents."""
    prices = read("prices")
    return round_half_up(percent_of(amount_cents, Decimal(prices["card_fee_percent"]))) + cents(prices["card_fee_each"])
