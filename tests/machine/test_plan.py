"""A plan worked out: by hand on round figures, against a published schedule, and against its own months."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import islice
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.errors import NotPossible
from ledger.machine.plan import FARTHEST_MONTHS, Plan, PlanResult, Varied, check, months_of, work_out

F = Fraction
# 48 weeks a year are 4 jobs a month, which bring 200; 20 of material and 30 of costs leave 150.
SIMPLE = Plan(
    name="Used",
    starts=date(2027, 1, 1),
    price_cents=F(900_00),
    on_top_cents=F(100_00),
    down_cents=F(0),
    loan_percent=None,
    loan_months=0,
    jobs_a_week=F(1),
    average_job_cents=F(50_00),
    material_percent=F(10),
    costs_a_month_cents=F(30_00),
    weeks_off=F(4),
)


def worked(**changes: Any) -> PlanResult:
    return work_out(replace(SIMPLE, **changes))


def varied(result: PlanResult, assumption: str, percent: int) -> Varied:
    return next(each for each in result.sensitivity if (each.assumption, each.change_percent) == (assumption, percent))


def test_without_a_loan_all_is_paid_at_the_start_and_earned_back_month_by_month() -> None:
    found = worked()
    first = found.months[0]
    assert (first.jobs, first.income_cents, first.material_cents, first.costs_cents) == (4, 200_00, 20_00, 30_00)
    assert (first.cash_cents, first.in_hand_cents, first.earned_cents, first.cost_cents) == (
        *(150_00, -850_00),
        *(150_00, 1_000_00),
    )
    assert found.paid_off == date(2027, 7, 1)  # 1,000 at 150 is six months and two thirds
    assert found.most_out_of_pocket_cents == 1_000_00
    assert len(found.months) == 12


def test_practice_before_the_first_customer_costs_and_brings_nothing_and_learning_brings_a_part() -> None:
    found = worked(practice_months=F(1), learning_months=F(2), learning_percent=F(50))
    assert [each.jobs for each in found.months[:4]] == [0, 2, 2, 4]
    assert [each.cash_cents for each in found.months[:4]] == [-30_00, 60_00, 60_00, 150_00]
    assert found.paid_off == date(2027, 10, 1)  # -30 + 60 + 60, then 910 at 150
    assert found.most_out_of_pocket_cents == 1_030_00


def test_a_part_of_a_month_of_learning_is_a_part_of_it() -> None:
    found = worked(learning_months=F(3, 2), learning_percent=F(50))
    assert [each.jobs for each in found.months[:3]] == [2, 3, 4]


@pytest.mark.published
def test_a_loan_is_paid_by_its_schedule_from_the_second_month_on() -> None:
    # 10,000 at 8 %, 60 months: 202.76, the last 203.08, interest 2,165.92. Payment after numpy-financial's documented
    # example of pmt; in cents, half up each month, the last payment closing it.
    found = worked(price_cents=F(11_900_00), down_cents=F(2_000_00), loan_percent=F(8), loan_months=60)
    assert found.plan.loan_cents == 10_000_00
    payments = [each.loan_cents for each in found.months]
    assert payments[0] == 0
    assert (set(payments[1:60]), payments[60]) == ({202_76}, 203_08)
    assert sum(each.interest_cents for each in found.months[:61]) == 2_165_92
    assert found.months[60].cost_cents == 12_000_00 + 2_165_92


def test_the_interest_is_a_part_of_the_cost_and_no_expense_beside_it() -> None:
    lent = worked(loan_percent=F(12), loan_months=6)
    assert [each.earned_cents for each in lent.months] == [each.earned_cents for each in worked().months]
    assert lent.months[6].cost_cents > 1_000_00
    assert lent.most_out_of_pocket_cents < 1_000_00


def test_a_loan_of_zero_percent_works() -> None:
    found = worked(loan_percent=F(0), loan_months=10)
    assert [each.loan_cents for each in found.months[:12]] == [0, *[100_00] * 10, 0]
    assert (found.paid_off, found.most_out_of_pocket_cents) == (date(2027, 7, 1), 0)


def test_each_assumption_is_varied_by_a_tenth_and_the_one_that_moves_it_most_stands_first() -> None:
    found = worked()
    moved = {
        (each.assumption, each.change_percent): each.months for each in found.sensitivity if each.months is not None
    }
    # 1,000 at 132, 168, 132, 168; 910 and 1,090 at 150.
    assert moved["jobs a week", -10] == 1
    assert moved["jobs a week", 10] == -1
    assert moved["average job", -10] == 1
    assert moved["price", 10] == 1
    assert moved["price", -10] == 0
    assert varied(found, "price", 10).paid_off == date(2027, 8, 1)
    assert found.sensitivity[0].assumption in ("jobs a week", "average job")
    assert "loan rate" not in {each.assumption for each in found.sensitivity}
    assert "learning pace" not in {each.assumption for each in found.sensitivity}


def test_every_assumption_that_is_in_play_is_varied() -> None:
    found = worked(
        practice_months=F(1), learning_months=F(2), learning_percent=F(50), loan_percent=F(5), loan_months=24,
        down_cents=F(100_00),
    )  # fmt: skip
    assert len({each.assumption for each in found.sensitivity}) == 13
    assert len(found.sensitivity) == 26


def test_what_never_pays_off_says_so_and_which_assumption_would_change_that() -> None:
    found = worked(costs_a_month_cents=F(185_00))
    assert (found.paid_off, found.most_out_of_pocket_cents) == (None, 1_060_00)
    # 180 less 166.50 is 13.50 a month: 1,000 in 75 months.
    assert varied(found, "monthly costs", -10) == Varied("monthly costs", -10, date(2033, 3, 1), None)
    assert found.sensitivity[0].paid_off is not None
    worse = worked(costs_a_month_cents=F(170_00))
    assert varied(worse, "jobs a week", -10) == Varied("jobs a week", -10, None, None)
    assert worse.sensitivity[0].paid_off is None


def test_the_break_even_price_pays_it_off_just_in_time() -> None:
    found = worked(break_even_months=10, square_inches=F(3000))
    # 1,000 and ten months of 30, of which 40 jobs at 90 % have to come: 36.11 a job, 0.012037 a square inch.
    assert (found.break_even_job_cents, found.break_even_inch_cents) == (36_12, Decimal("1.21"))
    assert worked(average_job_cents=F(36_12)).paid_off == date(2027, 10, 1)
    assert worked(average_job_cents=F(36_00)).paid_off == date(2027, 11, 1)
    assert worked().break_even_inch_cents is None


def test_no_price_would_do_where_all_of_it_is_material_or_all_of_the_time_is_practice() -> None:
    assert worked(material_percent=F(100)).break_even_job_cents is None
    assert worked(practice_months=F(60), break_even_months=12).break_even_job_cents is None


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"price_cents": F(0)}, "machine.costs.price"),
        ({"jobs_a_week": F(0)}, "work.jobs_a_week"),
        ({"average_job_cents": F(0)}, "work.average_job"),
        ({"weeks_off": F(52)}, "work.weeks_off"),
        ({"down_cents": F(1_000_00), "loan_percent": F(5), "loan_months": 12}, "loan.down_payment"),
        ({"loan_percent": F(5), "loan_months": 0}, "loan.months"),
        ({"loan_percent": F(5), "loan_months": 601}, "loan.months"),
        ({"loan_percent": F(100), "loan_months": 600}, "loan.months"),  # 83.33 a month, all of it interest
    ],
)
def test_a_plan_that_cannot_be_worked_out_is_refused_with_its_field(changes: dict[str, Any], field: str) -> None:
    with pytest.raises(NotPossible) as refusal:
        check(replace(SIMPLE, **changes))
    assert refusal.value.field == field


PLANS = st.builds(
    replace,
    st.just(SIMPLE),
    price_cents=st.integers(100_00, 30_000_00).map(F),
    on_top_cents=st.integers(0, 2_000_00).map(F),
    loan_percent=st.one_of(st.none(), st.integers(0, 20).map(F)),
    loan_months=st.integers(1, 72),
    jobs_a_week=st.decimals("0.1", "6", places=1).map(F),
    average_job_cents=st.integers(20_00, 300_00).map(F),
    costs_a_month_cents=st.integers(0, 300_00).map(F),
    practice_months=st.integers(0, 3).map(F),
    learning_months=st.decimals("0", "6", places=1).map(F),
    learning_percent=st.integers(0, 100).map(F),
)


@settings(max_examples=40)
@given(PLANS)
def test_what_is_told_is_what_its_months_say(plan: Plan) -> None:
    found = work_out(plan)
    months = list(islice(months_of(plan), FARTHEST_MONTHS))
    reached = next((each.first_day for each in months if each.earned_cents >= each.cost_cents), None)
    assert found.paid_off == reached
    in_hand = -plan.machine_cents + plan.loan_cents
    for each in months[:100]:
        in_hand += each.cash_cents
        assert each.in_hand_cents == in_hand
        assert each.cash_cents == each.income_cents - each.material_cents - each.costs_cents - each.loan_cents
    assert found.most_out_of_pocket_cents >= -min(each.in_hand_cents for each in found.months)
    if plan.loan_cents:
        assert sum(each.loan_cents - each.interest_cents for each in months) == plan.loan_cents
