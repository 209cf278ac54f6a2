"""A plain account of who handed over how much, and the acts that a run of endings is made of.

What each act adds to the account comes from what was asked of it, not from the books.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from ledger.actions import give_up, refund, retax, returned_payment
from ledger.books.books import Books
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.job import Job
from ledger.jobs.payouts import card_money
from ledger.jobs.records import read_jobs
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.jobs.returned import ReturnedRequest
from ledger.money import plain_amount
from ledger.taxes.rules import answer_bad_debts
from tests.actions.endings import called_off, gift_sold, gone, handed_back, paid_out
from tests.workshop import FIRST_DAY, USD, answer, deposit, job_for, on_day, pay, reversed_entry

WAYS = ["cash", "check", "card", "transfer"]


@dataclass
class Account:
    """What each customer handed over for each job, net, and what certificates and goods paid, in cents.

    effects: what an entry added to it, so that undoing the entry takes it away again.
    """

    books: Books
    day: date = FIRST_DAY
    money: dict[int, int] = field(default_factory=dict)
    other: dict[int, int] = field(default_factory=dict)
    effects: dict[int, tuple[int, int, int]] = field(default_factory=dict)
    gifts_sold: int = 0
    done: list[str] = field(default_factory=list)

    @property
    def today(self) -> Books:
        return on_day(self.books, self.day)

    def add(self, entry: int | None, job: int, money: int = 0, other: int = 0) -> None:
        self.money[job] = self.money.get(job, 0) + money
        self.other[job] = self.other.get(job, 0) + other
        if entry is not None:
            self.effects[entry] = (job, money, other)

    def some(self, which: int, fits: Callable[[Job], bool]) -> Job:
        """A job that fits; every ninth time, or where none does, any."""
        jobs = read_jobs(self.today)
        fitting = [job for job in jobs if fits(job)] if which % 9 else []
        return (fitting or jobs)[which % len(fitting or jobs)]


def text(amount: int) -> str:
    return plain_amount(amount, USD)


def is_here(job: Job) -> bool:
    return job.status in ("in-hand", "ready")


def is_gone(job: Job) -> bool:
    return job.sale is not None


def take_in(account: Account, which: int) -> None:
    lines = [["Quilting"], ["Batting"], ["Quilting", "Batting"], ["Quilting", "Lesson"]][which % 4]
    job_for(account.today, lines=lines)


def take_deposit(account: Account, which: int, amount: int, how: str) -> None:
    job = account.some(which, is_here)
    account.add(deposit(account.today, job, text(amount), how), job.id, amount)


def pick_up(account: Account, which: int, percent: int, how: str, extras: int) -> None:
    """extras: bits for a certificate, goods, a tip, a deposit handed back, an eighth off."""
    job = account.some(which, is_here)
    held = [each.code for each in read_certificates(account.today) if each.left_cents]
    gifts = tuple(held[:1]) if extras & 1 else ()
    barter = ("backing", "7.77") if extras & 2 else None
    tip = "3.33" if extras & 4 and percent == 100 else "0"
    back = ["cash", "card"][which % 2] if extras & 8 else None
    off = "12.5" if extras & 16 else "0"
    paid = (f"{how}={text(max(1, percent * 40))}", "owed") if percent < 100 else (how,)
    done = gone(account.today, job, *paid, gifts=gifts, barter=barter, tip=tip, back=back, percent=off)
    settled = done.settlement
    used = sum(each.cents for each in settled.gifts) + settled.barter_cents
    entry = done.entry.number if done.entry else None
    account.add(entry, job.id, settled.paid.cents - settled.deposit_back_cents, used)


def pay_some(account: Account, which: int, percent: int, how: str) -> None:
    job = account.some(which, lambda job: job.owed_cents > 0)
    amount = max(1, job.owed_cents * percent // 100)
    account.add(pay(account.today, job, text(amount), how), job.id, amount)


def give_back(account: Account, which: int, percent: int, how: str, with_tip: bool) -> None:
    job = account.some(which, is_gone)
    whole = refund.preview(account.today, RefundRequest(job.id, how=how)).cents
    request = RefundRequest(job.id, max(1, whole * percent // 100), how, 111 if with_tip else 0)
    refunded, _, sealed = refund.perform(account.today, request)
    assert refunded.cents == (request.cents or 0) + request.tip_cents
    account.add(sealed.number, job.id, -refunded.cents if how != "owed" else 0)


def come_back(account: Account, which: int, how: str, charge: bool) -> None:
    job = account.some(which, lambda job: True)
    request = ReturnedRequest(job.id, how, 12_00, 25_00 if charge else 0)
    done = returned_payment.perform_and_tell(account.today, request)
    account.add(done.entry.number, job.id, -done.paid.cents)


def call_off(account: Account, which: int, what: str, how: str) -> None:
    job = account.some(which, is_here)
    done = called_off(account.today, job, what, how)
    back = job.deposit_cents if what == "returned" else 0
    account.add(done.entry.number if done.entry else None, job.id, -back)


def hand_back(account: Account, which: int, percent: int, how: str) -> None:
    job = account.some(which, lambda job: job.deposit_cents > 0)
    amount = max(1, job.deposit_cents * percent // 100)
    done = handed_back(account.today, job, text(amount), how)
    account.add(done.entry.number, job.id, -amount if how != "certificate" else 0)


def put_tax_right(account: Account, which: int, borne: Any) -> None:
    job = account.some(which, is_gone)
    _, done, sealed = retax.perform(account.today, RetaxRequest(job.id, "told otherwise", borne))
    account.add(sealed.number, job.id, done.difference_cents if borne in WAYS else 0)


def give_debt_up(account: Account, which: int) -> None:
    job = account.some(which, lambda job: job.owed_cents > 0)
    give_up.perform(account.today, give_up.GiveUpRequest(job.id, "moved away"))


def sell_gift(account: Account, amount: int, how: str) -> None:
    gift_sold(account.today, text(amount), how)
    account.gifts_sold += amount
    account.effects[last_entry(account)] = (0, amount, 0)


def pay_out(account: Account, percent: int) -> None:
    expected = sum(each.cents for each in card_money(account.today, account.day))
    if expected < 0:
        paid_out(account.today, text(-expected), taken=True)
    else:
        paid_out(account.today, text(max(1, expected * percent // 100)))


def answer_on_work(account: Account, taxed: bool) -> None:
    answer(account.books, "work", taxed)


def answer_on_debts(account: Account, claimed: bool) -> None:
    with account.today.writing() as write:
        answer_bad_debts(account.today, write, claimed, "the office")


def undo(account: Account, back: int) -> None:
    number = max(1, last_entry(account) - back)
    reversed_entry(account.today, number)
    job, money, other = account.effects.get(number, (0, 0, 0))
    if job:
        account.add(None, job, -money, -other)
    else:
        account.gifts_sold -= money


def last_entry(account: Account) -> int:
    return int(account.books.value("select max(number) from entry") or 1)


def later(account: Account, days: int) -> None:
    account.day += timedelta(days)


which, percents, ways = st.integers(0, 40), st.sampled_from([1, 17, 50, 83, 100]), st.sampled_from(WAYS)
amounts = st.integers(1, 120_00)
ACTS: dict[Callable[..., None], tuple[st.SearchStrategy[Any], ...]] = {
    take_in: (which,),
    take_deposit: (which, amounts, ways),
    pick_up: (which, percents, ways, st.integers(0, 31)),
    pay_some: (which, percents, ways),
    give_back: (which, percents, st.sampled_from([*WAYS, "owed"]), st.booleans()),
    come_back: (which, st.sampled_from(["check", "card"]), st.booleans()),
    call_off: (which, st.sampled_from(["returned", "kept", "certificate"]), ways),
    hand_back: (which, percents, st.sampled_from([*WAYS, "certificate"])),
    put_tax_right: (which, st.sampled_from(["owed", "workshop", *WAYS])),
    give_debt_up: (which,),
    sell_gift: (amounts, ways),
    pay_out: (st.integers(90, 101),),
    answer_on_work: (st.booleans(),),
    answer_on_debts: (st.booleans(),),
    undo: (st.integers(0, 6),),
    later: (st.integers(1, 40),),
}
OFTEN = [take_in, take_deposit, pick_up, pick_up, pick_up, pay_some, give_back, come_back, *ACTS]
acts = st.sampled_from(OFTEN).flatmap(lambda act: st.tuples(st.just(act), st.tuples(*ACTS[act])))
