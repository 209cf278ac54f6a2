"""The yearly rate of return: on plain flows, and on what was put into the machine and came back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.actions import pay_loan, sell_machine, set_loan
from ledger.books.books import Books
from ledger.machine.internal_rate import Flow, internal_rate
from ledger.machine.internal_rate_record import read_return
from ledger.machine.payback_record import read_payback
from tests.workshop import begin, job_for, on_day, picked_up, spent

START = date(2024, 1, 1)


def flows(*each: tuple[int, int]) -> list[Flow]:
    """Days after the start, and cents."""
    return [Flow(START + timedelta(days=days), cents) for days, cents in each]


@pytest.mark.parametrize(
    ("given_flows", "rate"),
    [
        (flows((0, -100_00), (365, 110_00)), 0.1),
        (flows((0, -100_00), (365, 100_00)), 0.0),
        (flows((0, -100_00), (365, 50_00)), -0.5),
        (flows((0, -100_00), (730, 121_00)), 0.1),
        (flows((365, 110_00), (0, -100_00)), 0.1),
        (flows((0, -60_00), (0, -40_00), (365, 110_00)), 0.1),
        (flows((0, -100_00), (365, 1)), -0.9999),
        (flows((0, -1), (365, 100_00)), 9_999),
        (flows((0, -100_00), (40_000, 1)), -0.0806),
    ],
)
def test_the_rate_at_which_the_flows_are_worth_nothing(given_flows: list[Flow], rate: float) -> None:
    assert internal_rate(given_flows) == pytest.approx(rate, rel=1e-3, abs=1e-9)


@pytest.mark.parametrize(
    "given_flows",
    [
        [],
        flows((0, -100_00)),
        flows((0, -100_00), (365, -10_00)),
        flows((0, 100_00), (365, 10_00)),
        flows((0, -100_00), (0, 110_00)),
        flows((0, -100_00), (1, 110_00)),  # beyond all measure
        flows((0, 100_00), (365, -200_00), (730, 150_00)),  # worth something at any rate
    ],
)
def test_where_there_is_no_rate_none_is_given(given_flows: list[Flow]) -> None:
    assert internal_rate(given_flows) is None


def test_of_two_rates_the_one_nearest_to_zero_is_given() -> None:
    """At 10 % and at 80 % these are worth nothing: (1.1 - d)(1.8 - d) = 1.98 - 2.9 d + d^2 with d = 1 + rate."""
    both = flows((0, -100_00), (365, 290_00), (730, -198_00))
    assert internal_rate(both) == pytest.approx(0.1)


@settings(deadline=None, max_examples=100)
@given(
    st.integers(1_00, 50_000_00),
    st.lists(st.tuples(st.integers(10, 4_000), st.integers(1_00, 5_000_00)), min_size=1, max_size=20),
)
def test_at_the_rate_found_the_flows_are_worth_nothing(put_in: int, back: list[tuple[int, int]]) -> None:
    rate = internal_rate(flows((0, -put_in), *back))
    if rate is None:
        return
    worth = -put_in + sum(cents / (1 + rate) ** (days / 365) for days, cents in back)
    assert abs(worth) <= 1e-6 * (put_in + sum(cents for _, cents in back))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books", opening_cents=5_000_00, machine_price_cents=10_000_00)
    yield opened
    opened.close()


def test_what_was_put_in_and_earned_in_a_year(books: Books) -> None:
    picked_up(on_day(books, date(2026, 12, 20)), job_for(on_day(books, date(2026, 12, 1)), "11500"), "cash")
    spent(on_day(books, date(2026, 12, 21)), "500", "thread", "checking")
    found = read_return(on_day(books, date(2027, 1, 5)))
    assert found.flows == (Flow(date(2026, 1, 5), -10_000_00), Flow(date(2026, 12, 31), 11_000_00))
    assert (found.put_in_cents, found.came_back_cents) == (10_000_00, 11_000_00)
    assert found.rate == pytest.approx(1.1 ** (365 / 360) - 1)


def test_what_was_lent_is_put_in_as_it_is_paid_and_a_resale_comes_back(books: Books) -> None:
    set_loan.perform(books, set_loan.LoanRequest(8_000_00, Decimal(6), 36, date(2026, 2, 5)))
    pay_loan.perform(on_day(books, date(2026, 2, 5)), pay_loan.LoanPaymentRequest(243_38))
    sell_machine.perform(on_day(books, date(2026, 3, 1)), sell_machine.SellRequest(7_000_00))
    found = read_return(on_day(books, date(2026, 3, 2)))
    assert found.flows == (
        Flow(date(2026, 1, 5), -2_000_00),
        Flow(date(2026, 2, 5), -243_38),
        Flow(date(2026, 3, 1), 7_000_00),
    )


def test_a_loan_from_before_the_books_came_with_the_machine(tmp_path: Path) -> None:
    bought = date(2025, 11, 3)
    books = begin(tmp_path / "old", machine_price_cents=10_000_00, machine_date=bought)
    set_loan.perform(books, set_loan.LoanRequest(8_000_00, Decimal(6), 36, date(2026, 2, 5)))
    assert read_return(books).flows == (Flow(bought, -2_000_00),)
    books.close()


def test_over_all_time_the_flows_are_what_was_earned_less_the_cost_and_plus_what_is_still_lent(books: Books) -> None:
    set_loan.perform(books, set_loan.LoanRequest(8_000_00, Decimal(6), 36, date(2026, 2, 5)))
    pay_loan.perform(on_day(books, date(2026, 2, 5)), pay_loan.LoanPaymentRequest(243_38))
    picked_up(on_day(books, date(2026, 3, 1)), job_for(books, "300"), "cash")
    day = on_day(books, date(2026, 3, 2))
    payback = read_payback(day)
    left = 8_000_00 - (243_38 - 40_00)
    assert sum(each.cents for each in read_return(day).flows) == payback.earned_cents - payback.cost_cents + left


def test_before_anything_came_back_there_is_no_rate(books: Books) -> None:
    assert read_return(books).rate is None
