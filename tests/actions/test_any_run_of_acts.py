"""Whatever is done in whatever order, the books stay in balance and every figure ties to every other.

A run is a list of acts with plain figures; what the books refuse is refused whole, and the run goes on.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, event, given, settings
from hypothesis import strategies as st

from ledger.books.books import Books
from ledger.errors import Refused
from tests.actions.runs import CUSTOMERS, PERFORM, TABLES, Act, Run, acts, acts_with_endings
from tests.actions.tied_figures import check_balance, check_jobs, check_months
from tests.workshop import add_customer, add_to_price_list, answer, begin_taxed, copied, job_for, on_day


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
    max_examples=10, phases=PHASES, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
thorough = settings(quick, max_examples=80)


@quick
@given(st.lists(acts, min_size=5, max_size=25))
def test_a_run_of_acts_leaves_the_books_in_balance(begun: Path, wanted: list[Act]) -> None:
    perform_and_check(begun, wanted)


@quick
@given(st.lists(acts_with_endings, min_size=10, max_size=30))
def test_a_run_with_every_way_to_end_a_job_leaves_the_books_in_balance(begun: Path, wanted: list[Act]) -> None:
    perform_and_check(begun, wanted)


@pytest.mark.slow
@thorough
@given(st.lists(acts_with_endings, min_size=15, max_size=60))
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
