"""Whatever is done in whatever order, free to draw never exceeds the money, and figures agree with the accounts."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings
from hypothesis import strategies as st

from ledger.actions import move_to_savings, own_tax_choices, pay_estimated
from ledger.books.books import Books
from ledger.errors import NotPossible, Refused
from ledger.money import plain_amount
from tests.actions.runs import CUSTOMERS, PERFORM, Act, Run, acts_with_endings
from tests.set_aside.checks import check_set_aside
from tests.workshop import (
    FIRST_DAY,
    USD,
    add_customer,
    add_to_price_list,
    answer,
    begin_taxed,
    choose_filing,
    copied,
    job_for,
    on_day,
    transferred,
)

PHASES = [Phase.explicit, Phase.reuse, Phase.generate, Phase.shrink]
quick = settings(
    max_examples=6, phases=PHASES, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
thorough = settings(quick, max_examples=60)
RUNS = st.lists(acts_with_endings, min_size=5, max_size=25)
CENTS = st.integers(1, 900_00)


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop ready to work, with a class that nobody has answered, a percentage, and quarterly returns."""
    books = begin_taxed(tmp_path_factory.mktemp("run") / "books", opening_cents=900_00, machine_price_cents=9_000_00)
    answer(books, "lessons", False, until=FIRST_DAY)  # and after that day by nobody
    add_to_price_list(books, "Edge-to-edge", "area", "0.0175")
    add_to_price_list(books, "Batting", "inch", "0.45", "goods")
    add_to_price_list(books, "Parcel", "flat", "8.95", "delivery")
    add_to_price_list(books, "Lesson", "hour", "33.33", "lessons")
    add_to_price_list(books, "Kit with tax", "each", "24.99", "goods", includes_tax=True)
    add_customer(books, "Guild of Saint Anne", "religious", "KS-771")
    for customer in CUSTOMERS:
        job_for(books, lines=["Edge-to-edge", "Batting", ("Lesson", "1.5")], customer=customer)
    choose_filing(books, "quarterly")
    own_tax_choices.say_income_tax(books, own_tax_choices.IncomeTaxRequest(Decimal(12), "Ann"))
    books.close()
    return books.folder


@quick
@given(RUNS, CENTS, CENTS)
def test_any_run_of_acts_leaves_a_set_aside_that_agrees_with_the_accounts(
    begun: Path, wanted: list[Act], paid: int, moved: int
) -> None:
    run_and_check(begun, wanted, paid, moved)


@pytest.mark.slow
@thorough
@given(RUNS, CENTS, CENTS)
def test_many_runs_of_acts_leave_a_set_aside_that_agrees_with_the_accounts(
    begun: Path, wanted: list[Act], paid: int, moved: int
) -> None:
    run_and_check(begun, wanted, paid, moved)


def run_and_check(begun: Path, wanted: list[Act], paid: int, moved: int) -> None:
    with copied(begun) as books:
        run = Run(books)
        for name, parts in wanted:
            try:
                PERFORM[name](run, *parts)
            except Refused:
                run.refused += 1
        at_end = on_day(books, run.day + timedelta(60))
        check_set_aside(on_day(books, run.day))
        event(f"short: {check_set_aside(at_end).short_cents > 0}")
        check_payment(at_end, paid)
        check_move(at_end, moved)
        check_draw(at_end)
        check_set_aside(on_day(books, date(run.day.year + 1, 2, 3)))


def check_payment(books: Books, cents: int) -> None:
    """Her own tax paid from tax savings: what is owed falls by as much as it still was, the money by all of it."""
    before = check_set_aside(books)
    pay_estimated.perform(books, pay_estimated.EstimatedTaxRequest(cents, tax_year=books.today.year))
    after = check_set_aside(books)
    left = before.years[-1].left.total_cents
    assert before.owed.total_cents - after.owed.total_cents == min(cents, left)
    assert before.money.total_cents - after.money.total_cents == cents


def check_move(books: Books, cents: int) -> None:
    """Setting aside moves money and changes nothing of what is owed or free."""
    before = check_set_aside(books)
    try:
        settled, _ = move_to_savings.perform(books, move_to_savings.SetAsideRequest(cents if cents % 2 else None))
    except NotPossible:
        return
    after = check_set_aside(books)
    assert after.held_cents == before.held_cents + settled.cents
    assert (after.owed, after.free_cents, after.short_cents) == (before.owed, before.free_cents, before.short_cents)
    assert after.to_move_cents == max(0, before.to_move_cents - settled.cents) == settled.lacking_cents


def check_draw(books: Books) -> None:
    """Drawing all that is free leaves nothing free, and nothing short."""
    free = check_set_aside(books).free_cents
    if free:
        transferred(books, "draw", plain_amount(free, USD))
        after = check_set_aside(books)
        assert (after.free_cents, after.short_cents) == (0, 0)
