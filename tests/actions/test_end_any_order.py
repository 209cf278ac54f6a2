"""Whatever happens to a job in whatever order, tax, income and payments come to what its customer finally paid for."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings
from hypothesis import strategies as st

from ledger.books.books import Books
from ledger.books.entries import Wanted, read_entries
from ledger.errors import Refused
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.records import read_job, read_jobs
from tests.actions.endings import cash_income, check_books, gone, handed_back, slip_of, tax_of
from tests.actions.run_of_endings import (
    ACTS,
    Account,
    acts,
    answer_on_debts,
    answer_on_work,
    call_off,
    come_back,
    give_back,
    give_debt_up,
    hand_back,
    later,
    pay_out,
    pay_some,
    pick_up,
    put_tax_right,
    sell_gift,
    take_deposit,
    take_in,
    text,
    undo,
)
from tests.workshop import add_to_price_list, answer, balance_of, begin_taxed, cents, copied, pay

TABLES = ("entry", "posting", "owed_part", "payment", "returned_payment", "gift_movement", "payout_line", "job_event")
TAX = Fraction(53, 1000)


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
