"""One job on its way: taken in, made ready, picked up and paid, each step an act on its day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Literal

from ledger.actions import move_job, pick_up, take_in, take_money, void
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.example.card_company import CardCompany, fee_on
from ledger.example.diary import Act, Diary
from ledger.example.gifts import code_of_holder
from ledger.example.people import telephone_of
from ledger.jobs.customers import ensure_customer
from ledger.jobs.payments import How, PaidPart
from ledger.jobs.pickup import Barter, PickupRequest, Sending
from ledger.jobs.records import read_job

_NOTE_CENTS = 20_00


@dataclass(frozen=True)
class Goods:
    """What is taken for the work, at the value agreed, in cents."""

    what: str
    category: str
    cents: int


@dataclass(frozen=True)
class Paying:
    """How a customer means to pay at pickup; amounts in cents. gifts: whom each gift certificate was sold to."""

    parts: tuple[PaidPart, ...] = ()
    number: str | None = None
    tip_cents: int = 0
    discount_cents: int = 0
    discount_percent: Decimal = Decimal(0)
    coupon: str | None = None
    gifts: tuple[str, ...] = ()
    goods: Goods | None = None
    deposit_back: How | None = None


@dataclass(frozen=True)
class Coming:
    """Money that comes before or after pickup. cents: None is all that is owed by then."""

    on: date
    how: How
    cents: int | None = None
    number: str | None = None


@dataclass(frozen=True)
class Mistake:
    """A pickup entered wrongly, and voided on the day before it is entered again."""

    paying: Paying
    why: str


@dataclass(frozen=True)
class Step:
    """What happens to a job beside its usual course. act: is handed the books of that day and the job's number."""

    on: date
    act: Callable[[Books, int], object]


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
    paying: Paying = Paying()
    deposit: Coming | None = None
    mistake: Mistake | None = None
    later: tuple[Coming, ...] = ()
    steps: tuple[Step, ...] = ()
    sending: Sending | None = None
    printed: bool = False


def write_job(diary: Diary, plan: PlannedJob, company: CardCompany) -> None:
    """Write every step of a job into the diary."""
    course = Course(plan, company)
    steps: list[tuple[date | None, Act]] = [
        (plan.taken_on, course.take_in),
        (plan.in_on, course.move("in")),
        (plan.back_on, course.move("back")),
        (plan.again_on, course.move("in")),
        (plan.ready_on, course.move("ready")),
        (plan.gone_on, course.pick_up),
        *((each.on, course.take_balance(each)) for each in plan.later),
        *((each.on, course.take(each)) for each in plan.steps),
    ]
    for day, act in steps:
        if day is not None:
            diary.write(day, act)


class Course:
    """The steps of one job; its number is known once it is taken in."""

    def __init__(self, plan: PlannedJob, company: CardCompany) -> None:
        self.plan = plan
        self.company = company
        self.number = 0

    def take_in(self, books: Books) -> None:
        name = self.plan.request.customer
        with books.writing() as write:
            ensure_customer(books, write, name, telephone_of(name))
        self.number = take_in.perform(books, self.plan.request).id
        if self.plan.deposit is not None:
            amount = self.plan.deposit.cents or 0
            take_money.take_deposit(books, self._money(books, self.plan.deposit, amount))

    def move(self, event: Literal["in", "ready", "back"]) -> Act:
        return lambda books: move_job.perform(books, move_job.MoveRequest(self.number, event))

    def pick_up(self, books: Books) -> None:
        if self.plan.mistake is not None:
            pick_up.perform_without_receipt(books, self._pickup(books, self.plan.mistake.paying))
            void.perform(books, void.VoidRequest(self.number, self.plan.mistake.why))
        perform = pick_up.perform if self.plan.printed else pick_up.perform_without_receipt
        perform(books, self._pickup(books, self.plan.paying))

    def take_balance(self, coming: Coming) -> Act:
        def act(books: Books) -> None:
            amount = coming.cents or read_job(books, self.number).owed_cents
            take_money.take_balance(books, self._money(books, coming, amount))

        return act

    def take(self, step: Step) -> Act:
        return lambda books: step.act(books, self.number)

    def _money(self, books: Books, coming: Coming, amount: int) -> take_money.MoneyRequest:
        fee = self.company.fee_told(books, amount) if coming.how == "card" else 0
        return take_money.MoneyRequest(self.number, amount, coming.how, fee, coming.number)

    def _pickup(self, books: Books, paying: Paying) -> PickupRequest:
        """The request, with the card's fee or the notes handed over, which both depend on what is due."""
        request = PickupRequest(
            self.number,
            paying.parts,
            number=paying.number,
            tip_cents=paying.tip_cents,
            discount_cents=paying.discount_cents,
            discount_percent=paying.discount_percent,
            coupon=paying.coupon,
            gifts=tuple(code_of_holder(books, each) for each in paying.gifts),
            deposit_back=paying.deposit_back,
            barter=_barter(books, paying.goods),
            sending=self.plan.sending,
        )
        ways = [part.how for part in paying.parts]
        if "card" in ways and self.company.tells_fees(books):
            return replace(request, fee_cents=fee_on(_due(books, request, "card")))
        # The notes handed over stand on the receipt alone.
        if ways == ["cash"] and self.plan.printed:
            return replace(request, tendered_cents=-(-_due(books, request, "cash") // _NOTE_CENTS) * _NOTE_CENTS)
        return request


def _due(books: Books, request: PickupRequest, how: How) -> int:
    """What of a pickup is paid that way, in cents."""
    return sum(each.cents for each in pick_up.preview(books, request).paid.payments if each.how == how)


def _barter(books: Books, goods: Goods | None) -> Barter | None:
    return Barter(read_accounts(books).category(goods.category), goods.cents, goods.what) if goods is not None else None
