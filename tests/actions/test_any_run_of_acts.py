"""Whatever is done in whatever order, the books stay in balance and every figure ties to every other.

A run is a list of acts with plain figures; what the books refuse is refused whole, and the run goes on.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings
from hypothesis import strategies as st

from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import Refused
from ledger.jobs.job import Job
from ledger.jobs.records import read_job, read_jobs
from ledger.money import plain_amount
from ledger.quarter.checks import run_checks
from ledger.results.period import owed_charge, read_statement
from tests.workshop import (
    FIRST_DAY,
    USD,
    add_customer,
    add_rate,
    add_to_price_list,
    answer,
    begin_taxed,
    cents,
    choose_method,
    copied,
    crossing_sum,
    deposit,
    job_for,
    move,
    on_day,
    pay,
    picked_up,
    previewed,
    purse_sums,
    reversed_entry,
    spent,
    transferred,
)

LINES = ["Edge-to-edge", "Batting", "Parcel", "Lesson", "Kit with tax"]
CUSTOMERS = ["Ada Holm", "Ben Oort", "Guild of Saint Anne"]
WAYS = ["cash", "check", "card", "transfer"]
TABLES = ("entry", "posting", "slip_line", "tax_line", "owed_part", "payment", "job", "job_event", "record")


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
        "pick up", which, st.lists(st.sampled_from(WAYS), min_size=1, max_size=3), which, small, small, st.booleans()
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
USUAL = ["take in", "take in", "pick up", "pick up", "pick up", "deposit", "pay", "pay", "spend", "later", "reverse"]
acts = st.sampled_from([*USUAL, *CHOICES]).flatmap(CHOICES.__getitem__)


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


def pick_up(run: Run, number: int, ways: list[str], share: int, tip: str, discount: str, owes: bool) -> None:
    job = run.some_job(number, lambda job: job.status in ("in-hand", "ready"))
    tip = "0" if owes and number % 7 else tip
    due = previewed(run.today, job, "cash", tip=tip, discount=discount).due_cents
    first = due * share // 80
    parts = [f"{ways[0]}={plain_amount(first, USD)}"] if first and len(ways) > 1 else []
    fee = plain_amount(min(first, 37), USD) if parts and ways[0] == "card" else "0"
    rest = "owed" if owes else ways[-1]
    done = picked_up(run.today, job, *parts, rest, tip=tip, discount=discount, fee=fee)
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
}


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop ready to work: prices of each kind, an exempt customer, one class that nobody has answered."""
    books = begin_taxed(tmp_path_factory.mktemp("run") / "books", opening_cents=500_00, machine_price_cents=9_000_00)
    answer(books, "lessons", False)
    add_to_price_list(books, "Edge-to-edge", "area", "0.0175")
    add_to_price_list(books, "Batting", "inch", "0.45", "goods")
    add_to_price_list(books, "Parcel", "flat", "8.95", "delivery")
    add_to_price_list(books, "Lesson", "hour", "33.33", "lessons")
    add_to_price_list(books, "Kit with tax", "each", "24.99", "goods", includes_tax=True)
    add_customer(books, "Guild of Saint Anne", "religious", "KS-771")
    for customer in CUSTOMERS:
        job_for(books, lines=["Edge-to-edge", "Batting", "Parcel"], customer=customer)
    books.close()
    return books.folder


# Without the phase that explains a failure, which would run for minutes on real books.
PHASES = [Phase.explicit, Phase.reuse, Phase.generate, Phase.shrink]
quick = settings(
    max_examples=15, phases=PHASES, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
thorough = settings(quick, max_examples=80)


@quick
@given(st.lists(acts, min_size=5, max_size=25))
def test_a_run_of_acts_leaves_the_books_in_balance(begun: Path, wanted: list[Act]) -> None:
    perform_and_check(begun, wanted)


@pytest.mark.slow
@thorough
@given(st.lists(acts, min_size=15, max_size=60))
def test_many_long_runs_of_acts_leave_the_books_in_balance(begun: Path, wanted: list[Act]) -> None:
    perform_and_check(begun, wanted)


def perform_and_check(begun: Path, wanted: list[Act]) -> None:
    with copied(begun) as books:
        run = Run(books)
        for name, parts in wanted:
            before = counts(books)
            try:
                PERFORM[name](run, *parts)
                run.done += 1
            except Refused:
                run.refused += 1
                assert counts(books) == before, f"«{name}» was refused and still wrote something"
        event(f"pickups: {min(len(run.pickups), 4)}")
        event(f"refused: {10 * round(10 * run.refused / len(wanted))} %")
        check_balance(books)
        check_jobs(on_day(books, run.day + timedelta(60)))
        check_months(books, run.day + timedelta(60))


def counts(books: Books) -> list[int]:
    return [books.value(f"select count(*) from {table}") for table in TABLES]


def check_settlement(books: Books, entry: int, settled: Any) -> None:
    """The lines less the discount, the tax, the tip, and what came in for them, in the settlement and in its entry."""
    slip, paid = settled.slip, settled.paid
    assert slip.subtotal_cents - slip.discount_cents == sum(each.base_cents for each in slip.tax.charges)
    assert settled.total_cents == slip.charge_cents + slip.tax_cents + settled.tip_cents
    assert settled.total_cents == settled.deposit_cents + paid.cents + paid.owed_cents
    assert settled.owed_charge_cents + settled.owed_tax_cents == paid.owed_cents
    assert min(settled.owed_charge_cents, settled.owed_tax_cents) >= 0
    assert slip.tax_cents == sum(each.tax_cents for each in slip.tax.taxes)
    assert in_entry(books, entry, "job_income") == -slip.charge_cents
    assert in_entry(books, entry, "tips") == -settled.tip_cents
    assert in_entry(books, entry, "sales_tax_payable") == -slip.tax_cents
    assert in_entry(books, entry, "customer_deposits") == settled.deposit_cents
    assert in_entry(books, entry, "owed_by_customers") == paid.owed_cents
    assert books.value("select sum(cents) from slip_line where entry = ?", (entry,)) == slip.charge_cents
    arrived = sum(in_entry(books, entry, role) for role in ("cash_box", "checking", "card_settlements", "card_fees"))
    assert arrived == paid.cents


def check_balance(books: Books) -> None:
    assert purse_sums(books) == {"business": 0, "personal": 0}
    assert crossing_sum(books) == 0
    uneven = books.rows("select entry, purse from posting group by entry, purse having sum(cents) <> 0")
    assert uneven == []
    months = "select account, month, sum(cents) from ({}) group by 1, 2 having sum(cents) <> 0 order by 1, 2"
    posted = "select account, substr(date, 1, 7) as month, cents from posting join entry on number = entry"
    kept = books.rows(months.format("select account, month, cents from month_total"))
    assert [tuple(row) for row in kept] == [tuple(row) for row in books.rows(months.format(posted))]
    assert prove(books).findings == ()


def check_jobs(books: Books) -> None:
    """Each job holds and owes what its rows say, never less than nothing, and nothing is owed on what is here."""
    for job in read_jobs(books):
        row = books.row(
            "select coalesce(sum(charge), 0), coalesce(sum(tax), 0) from owed_part where job = ?", (job.id,)
        )
        assert row is not None
        assert row[0] + row[1] == job.owed_cents
        assert min(row[0], row[1], job.deposit_cents) >= 0
        assert job.status == "gone" or job.owed_cents == 0
        assert sum(each.cents for each in job.charges) == (
            sum(line.cents for line in job.lines) + job.pricing.top_up_cents + job.pricing.rush_cents
        )


def check_months(books: Books, last: date) -> None:
    """Month by month and in sum: the checks pass, and cash income is what came in less the tax in it."""
    year_start, day, sums = FIRST_DAY.replace(day=1), FIRST_DAY.replace(day=1), [0, 0]
    while day <= last:
        end = (day + timedelta(31)).replace(day=1) - timedelta(1)
        assert [each.name for each in run_checks(books, day, end) if not each.ok] == []
        month = read_statement(books, day, end)
        sums = [sums[0] + month.income_cents(), sums[1] + month.income_cents(accrual=True)]
        so_far = read_statement(books, year_start, end)
        assert sums == [so_far.income_cents(), so_far.income_cents(accrual=True)]
        assert so_far.income_cents() == received_without_tax(books, end)
        held = -up_to(books, end, "select sum(cents) from posting", "customer_deposits")
        assert so_far.income_cents(accrual=True) - so_far.income_cents() == owed_charge(books, end) - held
        day = end + timedelta(1)


def received_without_tax(books: Books, day: date) -> int:
    """What customers paid by a day, less the tax on what they took home, but for the tax that they still owe."""
    paid = up_to(books, day, "select sum(cents) from payment")
    taxed = up_to(books, day, "select sum(cents) from tax_line")
    owed = up_to(books, day, "select sum(tax) from owed_part")
    return paid - taxed + owed


def up_to(books: Books, day: date, select: str, role: str | None = None) -> int:
    on_account = f" and account = (select id from account where role = '{role}')" if role else ""
    sql = f"{select} join entry on entry.number = entry where date <= ?{on_account}"
    return int(books.value(sql, (day.isoformat(),)) or 0)


def in_entry(books: Books, entry: int, role: str) -> int:
    return int(
        books.value(
            "select coalesce(sum(cents), 0) from posting join account on account.id = account "
            "where entry = ? and role = ?",
            (entry, role),
        )
    )
