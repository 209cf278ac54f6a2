"""Whatever happens to a job in whatever order, tax, income and payments come to what its customer finally paid for.

Beside the books stands a plain account of who handed over how much, kept by the test from what was asked of the acts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings
from hypothesis import strategies as st

from ledger.actions import give_up, refund, retax, returned_payment
from ledger.books.books import Books
from ledger.books.entries import Wanted, read_entries
from ledger.errors import Refused
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.job import Job
from ledger.jobs.payouts import card_money
from ledger.jobs.records import read_job, read_jobs
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.jobs.returned import ReturnedRequest
from ledger.money import plain_amount
from ledger.taxes.rules import answer_bad_debts
from tests.actions.endings import (
    called_off,
    cash_income,
    check_books,
    gift_sold,
    gone,
    handed_back,
    paid_out,
    slip_of,
    tax_of,
)
from tests.workshop import (
    FIRST_DAY,
    USD,
    add_to_price_list,
    answer,
    balance_of,
    begin_taxed,
    cents,
    copied,
    deposit,
    job_for,
    on_day,
    pay,
    reversed_entry,
)

WAYS = ["cash", "check", "card", "transfer"]
TABLES = ("entry", "posting", "owed_part", "payment", "returned_payment", "gift_movement", "payout_line", "job_event")
TAX = Fraction(53, 1000)


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


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop with three prices, two jobs in hand and one that is gone and owed."""
    books = begin_taxed(tmp_path_factory.mktemp("endings") / "books")
    answer(books, "lessons", False)
    add_to_price_list(books, "Quilting", "flat", "61.37")
    add_to_price_list(books, "Batting", "flat", "18.05", "goods")
    add_to_price_list(books, "Lesson", "flat", "33.33", "lessons")
    for number in range(3):
        take_in(Account(books), number)
    gone(books, 3, "check=20.00", "owed")
    books.close()
    return books.folder


PHASES = [Phase.explicit, Phase.reuse, Phase.generate, Phase.shrink]
quick = settings(
    max_examples=12,
    phases=PHASES,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
thorough = settings(quick, max_examples=100)


@quick
@given(st.lists(acts, min_size=15, max_size=30))
def test_any_run_of_endings_comes_to_what_was_paid_for(begun: Path, wanted: list[Any]) -> None:
    run_and_check(begun, wanted)


@pytest.mark.slow
@thorough
@given(st.lists(acts, min_size=15, max_size=60))
def test_many_long_runs_of_endings_come_to_what_was_paid_for(begun: Path, wanted: list[Any]) -> None:
    run_and_check(begun, wanted)


def run_and_check(begun: Path, wanted: list[Any]) -> None:
    with copied(begun) as books:
        account = Account(books)
        account.add(1, 3, 20_00)
        for act, parts in wanted:
            before = [books.value(f"select count(*) from {table}") for table in TABLES]
            try:
                act(account, *parts)
                account.done.append(act.__name__)
            except Refused:
                after = [books.value(f"select count(*) from {table}") for table in TABLES]
                assert after == before, f"{act.__name__} was refused and still wrote something"
            check_books(account.today)
            check_account(account)
        for name in dict.fromkeys(account.done):
            event(name)
        settle_everything(account)
        check_books(account.today)
        check_account(account)
        check_what_was_paid_for(account)


def check_account(account: Account) -> None:
    """What a job's customer handed over is what her job asks, less what is owed, plus what is held for her."""
    moved = moved_by_job(account.books)
    for job in read_jobs(account.today):
        came_in = account.money.get(job.id, 0) + account.other.get(job.id, 0)
        roles = moved.get(job.id, {})
        asked = -sum(roles.get(role, 0) for role in (*CHARGE, "sales_tax_payable", "licenses_and_taxes"))
        certificates = account.books.value(
            "select coalesce(sum(gift_movement.cents), 0) from gift_movement "
            "join entry on number = gift_movement.entry join gift_certificate on gift_certificate.id = certificate "
            "where job = ? and (gift_certificate.entry = number or gift_certificate.entry = entry.reverses)",
            (job.id,),
        )
        assert came_in == asked - job.owed_cents + job.deposit_cents + certificates, (job.id, roles)
    sold = sum(each for each in account.money.values()) + account.gifts_sold
    fees = balance_of(account.books, "card fees", account.day) + balance_of(account.books, "bank charges", account.day)
    held = sum(balance_of(account.books, name, account.day) for name in ("checking", "cash box", "card settlements"))
    assert held + fees == sold


CHARGE = ("job_income", "returns_and_allowances", "tips", "other_income", "balances_written_off")


def moved_by_job(books: Books) -> dict[int, dict[str, int]]:
    rows = books.rows(
        "select job, role, sum(cents) from entry join posting on posting.entry = number "
        "join account on account.id = account where job is not null group by 1, 2"
    )
    moved: dict[int, dict[str, int]] = {}
    for row in rows:
        moved.setdefault(row[0], {})[row[1]] = row[2]
    return moved


def settle_everything(account: Account) -> None:
    """Every debt is paid in cash and every deposit handed back, so that nothing is left open."""
    for job in read_jobs(account.today):
        if job.owed_cents:
            account.add(pay(account.today, job, text(job.owed_cents), "cash"), job.id, job.owed_cents)
        left = read_job(account.today, job.id).deposit_cents
        if left:
            account.add(handed_back(account.today, job, how="cash").entry.number, job.id, -left)


def check_what_was_paid_for(account: Account) -> None:
    """Slip, tax and income of every job are the same thing, and cash-method income is the money without the tax."""
    books = account.today
    assert balance_of(books, "owed by customers") == balance_of(books, "customer deposits") == 0
    certificates = sum(each.left_cents for each in read_certificates(books))
    assert -balance_of(books, "gift certificates") == certificates
    moved = moved_by_job(books)
    for job in read_jobs(books):
        roles, slip = moved.get(job.id, {}), slip_of(books, job)
        income = -roles.get("job_income", 0) - roles.get("returns_and_allowances", 0)
        assert income == sum(cents for (kind, _), cents in slip.items() if kind != "other")
        assert all(cents >= 0 for cents in slip.values()), slip
        taxed = sum(cents for (_, treatment), cents in slip.items() if treatment == "taxed")
        given_up = {each.kind for each in read_entries(books, Wanted(job=job.id))} & {"write-off"}
        if not given_up:
            assert all(base == taxed for _, base, _ in tax_of(books, job))
            cuts = 2 + len(list(read_entries(books, Wanted(job=job.id))))
            assert abs(sum(cents for _, _, cents in tax_of(books, job)) - taxed * TAX) <= cuts
    tax = -balance_of(books, "sales tax payable") - balance_of(books, "licenses and taxes")
    paid = sum(account.money.values()) + account.gifts_sold + goods_taken(books)
    assert cash_income(books) == paid - tax


def goods_taken(books: Books) -> int:
    return balance_of(books, "backing")


def test_the_run_can_do_everything(begun: Path) -> None:
    """Each act is carried out at least once by a fixed run, so that none of them is refused for ever."""
    run: list[tuple[Callable[..., None], tuple[Any, ...]]] = [
        (sell_gift, (50_00, "card")),
        (take_deposit, (2, 20_00, "check")),
        (come_back, (3, "check", True)),
        (take_deposit, (2, 30_00, "check")),
        (hand_back, (2, 50, "card")),
        (pick_up, (2, 100, "card", 4)),
        (pay_out, (97,)),
        (give_back, (2, 50, "cash", True)),
        (answer_on_work, (False,)),
        (put_tax_right, (2, "cash")),
        (pay_some, (3, 50, "check")),
        (give_debt_up, (3,)),
        (undo, (0,)),
        (answer_on_debts, (True,)),
        (take_in, (2,)),
        (take_deposit, (1, 10_00, "cash")),
        (call_off, (1, "certificate", "cash")),
        (later, (20,)),
    ]
    with copied(begun) as books:
        account = Account(books)
        account.add(1, 3, cents("20.00"))
        for act, parts in run:
            act(account, *parts)
            check_books(account.today)
            check_account(account)
        assert {act for act, _ in run} == set(ACTS)
