"""Runs of acts: what is drawn, and how each act is sent to books whose day moves on.

An act is its name and plain figures. Which job or entry it concerns is a number that is taken modulo those that fit.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from ledger.actions import call_off, card_payout, gift, give_up, refund, retax, returned_payment, void
from ledger.actions import pick_up as pick_up_act
from ledger.books.books import Books
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.job import Job
from ledger.jobs.payouts import card_money
from ledger.jobs.records import read_job, read_jobs
from ledger.money import plain_amount
from tests.actions.tied_figures import check_settlement
from tests.workshop import (
    FIRST_DAY,
    USD,
    add_rate,
    answer,
    cents,
    choose_method,
    deposit,
    job_for,
    move,
    on_day,
    pay,
    pickup_request,
    previewed,
    reversed_entry,
    spent,
    transferred,
)

LINES = ["Edge-to-edge", "Batting", "Parcel", "Lesson", "Kit with tax"]
CUSTOMERS = ["Ada Holm", "Ben Oort", "Guild of Saint Anne"]
WAYS = ["cash", "check", "card", "transfer"]
TABLES = ("entry", "posting", "slip_line", "tax_line", "owed_part", "payment", "job", "job_event", "record")
TABLES += ("gift_certificate", "gift_movement", "returned_payment", "payout_line")


@dataclass
class Run:
    """Books on a day that moves on, and what was booked so far."""

    books: Books
    day: date = FIRST_DAY
    refused: int = 0
    done: int = 0
    pickups: list[int] = field(default_factory=list)

    @property
    def today(self) -> Books:
        return on_day(self.books, self.day)

    def some_job(self, which: int, fits: Callable[[Job], bool] = lambda job: True) -> int:
        """A job that fits; every seventh time, or where none does, any."""
        jobs = read_jobs(self.today)
        fitting = [job for job in jobs if fits(job)] if which % 7 else []
        return (fitting or jobs)[which % len(fitting or jobs)].id

    def some_entry(self, which: int) -> int:
        return 1 + which % max(1, self.books.value("select count(*) from entry"))


amounts = st.integers(1, 400_00).map(lambda cents: plain_amount(cents, USD))
small = st.integers(0, 40_00).map(lambda cents: plain_amount(cents, USD))
which = st.integers(0, 40)
Act = tuple[str, tuple[Any, ...]]


def act(name: str, *parts: st.SearchStrategy[Any]) -> st.SearchStrategy[Act]:
    return st.tuples(st.just(name), st.tuples(*parts))


CHOICES = {
    "take in": act(
        "take in",
        st.lists(st.sampled_from(LINES), min_size=1, max_size=4),
        st.sampled_from(CUSTOMERS),
        st.integers(10, 120),
        st.sampled_from([0, 0, 25_00, 150_00]),
        st.sampled_from([0, 0, 15, 33]),
        st.sampled_from(["in-hand", "in-hand", "booked"]),
    ),
    "pick up": act(
        "pick up",
        which,
        st.lists(st.sampled_from(WAYS), min_size=1, max_size=3),
        which,
        small,
        small,
        st.booleans(),
        st.sampled_from([None, None, None, "cash", "card"]),
        st.booleans(),
    ),
    "deposit": act("deposit", which, amounts, st.sampled_from(WAYS)),
    "pay": act("pay", which, st.integers(1, 120), st.sampled_from(WAYS)),
    "spend": act(
        "spend",
        amounts,
        st.sampled_from(["thread", "batting", "loan interest"]),
        st.booleans(),
        st.integers(0, 110),
        st.booleans(),
    ),
    "transfer": act("transfer", st.sampled_from(["draw", "put-in", "pay-back", "pay-back"]), amounts),
    "move job": act("move job", which, st.sampled_from(["in", "ready", "back"])),
    "reverse": act("reverse", which),
    "later": act("later", st.integers(1, 25)),
    "earlier": act("earlier", st.integers(1, 5)),
    "new rate": act("new rate", st.integers(0, 9)),
    "method": act("method", st.sampled_from(["slip", "line"])),
    "answer": act("answer", st.sampled_from(["goods", "delivery", "lessons"]), st.booleans()),
}
ENDINGS = {
    "refund": act("refund", which, st.integers(1, 110), st.sampled_from([*WAYS, "owed"]), st.booleans()),
    "returned payment": act("returned payment", which, st.sampled_from(["check", "card"]), small, small),
    "void": act("void", which),
    "call off": act(
        "call off", which, st.sampled_from(["returned", "kept", "certificate"]), st.sampled_from(["check", "card"])
    ),
    "give up": act("give up", which),
    "sell gift": act("sell gift", amounts, st.sampled_from(WAYS)),
    "payout": act("payout", st.integers(90, 102)),
    "put tax right": act("put tax right", which, st.sampled_from(["owed", "workshop", "cash", "card"])),
}
USUAL = ["take in", "take in", "pick up", "pick up", "pick up", "deposit", "pay", "pay", "spend", "later", "reverse"]
acts = st.sampled_from([*USUAL, *CHOICES]).flatmap(CHOICES.__getitem__)
acts_with_endings = st.sampled_from([*USUAL, *CHOICES, *ENDINGS, *ENDINGS]).flatmap((CHOICES | ENDINGS).__getitem__)


def take_in(run: Run, lines: list[str], customer: str, size: int, minimum: int, rush: int, status: str) -> None:
    wanted = [(each, "1.25") if each == "Lesson" else each for each in lines]
    job_for(
        run.today,
        lines=wanted,
        customer=customer,
        width=str(size),
        length=str(size + 7),
        minimum_cents=minimum,
        rush_percent=rush,
        status=status,
    )


def pick_up(
    run: Run,
    number: int,
    ways: list[str],
    share: int,
    tip: str,
    discount: str,
    owes: bool,
    back: str | None,
    with_gift: bool,
) -> None:
    job = run.some_job(number, lambda job: job.status in ("in-hand", "ready"))
    tip = "0" if owes and number % 7 else tip
    gifts = tuple(each.code for each in read_certificates(run.today) if each.left_cents)[:2] if with_gift else ()
    due = previewed(run.today, job, "cash", tip=tip, discount=discount).due_cents
    first = 0 if gifts else due * share // 80
    parts = [f"{ways[0]}={plain_amount(first, USD)}"] if first and len(ways) > 1 else []
    fee = plain_amount(min(first, 37), USD) if parts and ways[0] == "card" else "0"
    rest = "owed" if owes else ways[-1]
    request = pickup_request(job, *parts, rest, tip=tip, discount=discount, fee=fee)
    done = pick_up_act.perform(run.today, replace(request, gifts=gifts, deposit_back=back))
    if done.entry is not None:
        run.pickups.append(done.entry.number)
        check_settlement(run.books, done.entry.number, done.settlement)


def pay_some(run: Run, number: int, percent: int, how: str) -> None:
    job = run.some_job(number, lambda job: job.owed_cents > 0)
    owed = read_job(run.today, job).owed_cents
    pay(run.today, job, plain_amount(max(1, owed * percent // 100), USD), how)


def spend(run: Run, amount: str, category: str, hers: bool, percent: int, owed: bool) -> None:
    home = plain_amount(cents(amount) * percent // 100 if percent > 50 else 0, USD)
    paid_from = "personal card" if hers else "checking"
    spent(run.today, amount, category, paid_from, home, owed=owed and hers, untaxed=owed)


def transfer(run: Run, kind: str, amount: str) -> None:
    accounts = ("household checking", "checking") if kind == "put-in" else ("checking", "household checking")
    transferred(run.today, kind, amount, *accounts)


def gone(job: Job) -> bool:
    return job.sale is not None


def refund_some(run: Run, number: int, percent: int, how: str, with_tip: bool) -> None:
    job = run.some_job(number, gone)
    whole = refund.preview(run.today, refund.RefundRequest(job, how=how)).cents
    tip = 100 if with_tip else 0
    refund.perform(run.today, refund.RefundRequest(job, max(1, whole * percent // 100), how, tip))


def return_payment(run: Run, number: int, how: str, fee: str, charge: str) -> None:
    job = run.some_job(number, gone)
    request = returned_payment.ReturnedRequest(job, how, cents(fee), cents(charge))
    returned_payment.perform(run.today, request)


def pay_out(run: Run, percent: int) -> None:
    expected = sum(each.cents for each in card_money(run.today, run.day))
    card_payout.perform(run.today, card_payout.PayoutRequest(max(1, expected * percent // 100)))


PERFORM: dict[str, Callable[..., Any]] = {
    "take in": take_in,
    "pick up": pick_up,
    "deposit": lambda run, job, amount, how: deposit(
        run.today, run.some_job(job, lambda job: job.status != "gone"), amount, how
    ),
    "pay": pay_some,
    "spend": spend,
    "transfer": transfer,
    "move job": lambda run, job, what: move(run.today, run.some_job(job), what),
    "reverse": lambda run, number: reversed_entry(run.today, run.some_entry(number)),
    "later": lambda run, days: setattr(run, "day", run.day + timedelta(days)),
    "earlier": lambda run, days: setattr(run, "day", max(FIRST_DAY, run.day - timedelta(days))),
    "new rate": lambda run, tenths: add_rate(run.today, "Riley county", f"1.{tenths}", run.day),
    "method": lambda run, method: choose_method(run.today, method),
    "answer": lambda run, name, taxed: answer(run.today, name, taxed, run.day),
    "refund": refund_some,
    "returned payment": return_payment,
    "void": lambda run, job: void.perform(run.today, void.VoidRequest(run.some_job(job, gone), "a slip")),
    "call off": lambda run, job, what, how: call_off.perform(
        run.today, call_off.CallOffRequest(run.some_job(job, lambda job: job.deposit_cents > 0), what, how)
    ),
    "give up": lambda run, job: give_up.perform(
        run.today, give_up.GiveUpRequest(run.some_job(job, lambda job: job.owed_cents > 0), "moved away")
    ),
    "sell gift": lambda run, amount, how: gift.perform(run.today, gift.GiftRequest(cents(amount), how)),
    "payout": pay_out,
    "put tax right": lambda run, job, borne: retax.perform(
        run.today, retax.RetaxRequest(run.some_job(job, gone), "told otherwise", borne)
    ),
}
