"""What buying the machine would come to, worked out before it is bought: month by month, and what it hangs on.

It is measured as the books measure it afterwards: the machine is paid off when what was earned (income less material
and monthly costs) reaches what it cost, the interest paid so far among it. Before income tax and any pay for her time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import islice
from math import ceil
from typing import Any

from ledger.errors import NotPossible
from ledger.machine.forecast import months_on
from ledger.machine.loan import Terms, check_terms
from ledger.machine.schedule import Row, schedule
from ledger.money import percent_of, round_half_up

WEEKS_A_YEAR = 52
FARTHEST_MONTHS = 600
USUAL_BREAK_EVEN_MONTHS = 60
_LEAST_MONTHS_SHOWN = 12
_WHOLE = Fraction(1)
_INCH_STEPS = 100
# What is varied, in the words in which it is told.
ASSUMPTIONS = {
    "price": "price_cents",
    "costs on top": "on_top_cents",
    "down payment": "down_cents",
    "loan rate": "loan_percent",
    "loan months": "loan_months",
    "jobs a week": "jobs_a_week",
    "average job": "average_job_cents",
    "material share": "material_percent",
    "monthly costs": "costs_a_month_cents",
    "practice months": "practice_months",
    "learning months": "learning_months",
    "learning pace": "learning_percent",
    "weeks off": "weeks_off",
}
_OF_THE_LOAN = {"down_cents", "loan_percent", "loan_months"}
_BOUNDS = {"learning_percent": 100, "material_percent": 100, "weeks_off": WEEKS_A_YEAR}


@dataclass(frozen=True)
class Plan:
    """Amounts in cents, exact, since an assumption may be varied. on_top: freight, table, tax, training and the like.

    down_cents: paid at the start; the rest is lent where there is a loan, and paid at the start as well where there is
    none. practice_months: before the first paying customer. learning_months: after it, at learning_percent of the full
    pace. weeks_off: a year. square_inches: of an average job, None where it is not told. break_even_months: in how many
    it shall be paid off, for the break-even price.
    """

    name: str
    starts: date
    price_cents: Fraction
    on_top_cents: Fraction
    down_cents: Fraction
    loan_percent: Fraction | None
    loan_months: int
    jobs_a_week: Fraction
    average_job_cents: Fraction
    material_percent: Fraction
    costs_a_month_cents: Fraction
    practice_months: Fraction = Fraction(0)
    learning_months: Fraction = Fraction(0)
    learning_percent: Fraction = Fraction(100)
    weeks_off: Fraction = Fraction(0)
    square_inches: Fraction | None = None
    break_even_months: int = USUAL_BREAK_EVEN_MONTHS

    @property
    def machine_cents(self) -> int:
        return round_half_up(self.price_cents + self.on_top_cents)

    @property
    def loan_cents(self) -> int:
        if self.loan_percent is None:
            return 0
        return max(0, self.machine_cents - round_half_up(self.down_cents))


@dataclass(frozen=True)
class PlanMonth:
    """A month of the plan; amounts in cents. jobs: exact. cash: what it leaves after the loan's payment. in_hand: what
    she has got out of it since the start, below zero while she is out of pocket. earned and cost: up to its end."""

    number: int
    first_day: date
    jobs: Fraction
    income_cents: int
    material_cents: int
    costs_cents: int
    loan_cents: int
    interest_cents: int
    cash_cents: int
    in_hand_cents: int
    earned_cents: int
    cost_cents: int


@dataclass(frozen=True)
class Varied:
    """An assumption varied by a tenth. paid_off: the month then, None for never. months: by how many that is later."""

    assumption: str
    change_percent: int
    paid_off: date | None
    months: int | None


@dataclass(frozen=True)
class PlanResult:
    """paid_off: the first day of the month; None where it never is. months: enough of them to see it and the loan out.

    most_out_of_pocket_cents: the most that is paid in beyond what came back, at any month's end or at the start.
    sensitivity: what moves the month most stands first. break_even_job_cents: what the average job has to bring for it
    to be just paid off in time, rounded up; break_even_inch_cents the same for a square inch, with two decimals. None
    where no price would do, or no square inches are told.
    """

    plan: Plan
    paid_off: date | None
    most_out_of_pocket_cents: int
    months: tuple[PlanMonth, ...]
    sensitivity: tuple[Varied, ...]
    break_even_job_cents: int | None
    break_even_inch_cents: Decimal | None


def check(plan: Plan) -> None:
    """Raises NotPossible, naming the field of the file, for a plan that cannot be worked out."""
    for value, what, do, field in (
        (
            plan.price_cents,
            "A machine that costs nothing has nothing to pay off.",
            "Give its price.",
            "machine.costs.price",
        ),
        (plan.jobs_a_week, "Without jobs no machine pays for itself.", "Give the jobs of a week.", "work.jobs_a_week"),
        (plan.average_job_cents, "Jobs that bring nothing pay off nothing.", "Give an amount.", "work.average_job"),
        (WEEKS_A_YEAR - plan.weeks_off, "No week is left to work in.", "Give fewer weeks off.", "work.weeks_off"),
        (plan.break_even_months, "No month is left for it.", "Give the months.", "break_even_months"),
    ):
        if value <= 0:
            raise NotPossible(what, do, field)
    if plan.loan_percent is not None and plan.down_cents >= plan.machine_cents:
        raise NotPossible(
            "The down payment is as much as the machine costs, so there is nothing to lend.",
            "Give less, or leave [loan] out.",
            "loan.down_payment",
        )
    try:
        _loan_rows(plan)
    except NotPossible as refused:
        raise NotPossible(refused.what, refused.do, f"loan.{refused.field}") from None


def work_out(plan: Plan) -> PlanResult:
    """The whole plan. Raises NotPossible for a loan that its payments would never repay."""
    done = _months_to_pay_off(plan)
    shown = max(_LEAST_MONTHS_SHOWN, plan.loan_months + 1 if plan.loan_cents else 0, ceil(done) if done else 0)
    months = tuple(_first(plan, shown))
    lowest = min(0, -_paid_at_start(plan), *(each.in_hand_cents for each in months))
    job_cents, inch = _break_even(plan)
    return PlanResult(
        plan=plan,
        paid_off=months_on(plan.starts, ceil(done) - 1) if done is not None else None,
        most_out_of_pocket_cents=-lowest,
        months=months,
        sensitivity=_sensitivity(plan, done),
        break_even_job_cents=job_cents,
        break_even_inch_cents=inch,
    )


def months_of(plan: Plan) -> Iterator[PlanMonth]:
    """The months of the plan from its start, without end. Raises NotPossible as `work_out` does."""
    payments = {each.number: each for each in _loan_rows(plan)}
    in_hand, earned, cost, number = -_paid_at_start(plan), 0, plan.machine_cents, 0
    while True:
        jobs = plan.jobs_a_week * (WEEKS_A_YEAR - plan.weeks_off) / 12 * _pace(plan, number)
        income = round_half_up(jobs * plan.average_job_cents)
        material = round_half_up(percent_of(income, plan.material_percent))
        costs = round_half_up(plan.costs_a_month_cents)
        paid = payments.get(number)
        payment, interest = (paid.payment_cents, paid.interest_cents) if paid else (0, 0)
        cash = income - material - costs - payment
        in_hand, earned, cost = in_hand + cash, earned + cash + payment, cost + interest
        first_day = months_on(plan.starts, number)
        yield PlanMonth(
            *(number + 1, first_day, jobs, income, material, costs, payment, interest),
            *(cash, in_hand, earned, cost),
        )
        number += 1


def _first(plan: Plan, count: int) -> Iterator[PlanMonth]:
    return islice(months_of(plan), count)


def _paid_at_start(plan: Plan) -> int:
    return plan.machine_cents - plan.loan_cents


def _pace(plan: Plan, number: int) -> Fraction:
    """What share of the full pace the month brings; a part of a month of practice or learning is a part of it."""
    practice = _part_before(plan.practice_months, number)
    slow = _part_before(plan.practice_months + plan.learning_months, number) - practice
    return slow * plan.learning_percent / 100 + (_WHOLE - practice - slow)


def _part_before(end: Fraction, number: int) -> Fraction:
    """How much of a month lies before an end that is told in months."""
    return min(_WHOLE, max(Fraction(0), end - number))


def _loan_rows(plan: Plan) -> tuple[Row, ...]:
    cents = plan.loan_cents
    if not cents or plan.loan_percent is None:
        return ()
    percent = Decimal(plan.loan_percent.numerator) / Decimal(plan.loan_percent.denominator)
    terms = Terms(cents, percent, plan.loan_months, plan.starts, months_on(plan.starts, 1))
    check_terms(terms)
    return schedule(terms).rows


def _months_to_pay_off(plan: Plan) -> Fraction | None:
    """In how many months it is paid off, the last one in part; None where it never is."""
    slow_until = plan.practice_months + plan.learning_months
    settled = max(ceil(slow_until), plan.loan_months if plan.loan_cents else 0) + 1
    left = plan.machine_cents
    for month in _first(plan, settled + 1):
        before, left = left, month.cost_cents - month.earned_cents
        if left <= 0:
            return month.number - 1 + Fraction(before, before - left)
    # From here on every month is the same.
    earned = month.income_cents - month.material_cents - month.costs_cents
    if earned <= 0:
        return None
    more = Fraction(left, earned)
    return month.number + more if month.number + more <= FARTHEST_MONTHS else None


def _sensitivity(plan: Plan, done: Fraction | None) -> tuple[Varied, ...]:
    found = [
        _varied(plan, words, field, percent, done)
        for words, field in ASSUMPTIONS.items()
        if _is_in_play(plan, field)
        for percent in (-10, 10)
    ]
    found.sort(key=lambda each: each[0], reverse=True)
    return tuple(varied for _, varied in found)


def _is_in_play(plan: Plan, field: str) -> bool:
    if field in _OF_THE_LOAN and not plan.loan_cents:
        return False
    return bool(getattr(plan, field)) and (field != "learning_percent" or plan.learning_months > 0)


def _varied(plan: Plan, words: str, field: str, percent: int, done: Fraction | None) -> tuple[Fraction, Varied]:
    """With how far it moves, by which the rows are put in order; to or from never is farther than any month."""
    value = getattr(plan, field) * Fraction(100 + percent, 100)
    if field in _BOUNDS:
        value = min(value, _BOUNDS[field])
    changed: dict[str, Any] = {field: max(1, round_half_up(value)) if field == "loan_months" else value}
    other = replace(plan, **changed)
    moved = _months_to_pay_off(other)
    reached = months_on(plan.starts, ceil(moved) - 1) if moved is not None else None
    if moved is None or done is None:
        far = Fraction(FARTHEST_MONTHS if (moved is None) != (done is None) else 0)
        return far, Varied(words, percent, reached, None)
    return abs(moved - done), Varied(words, percent, reached, ceil(moved) - ceil(done))


def _break_even(plan: Plan) -> tuple[int | None, Decimal | None]:
    """What the average job, and a square inch of it, has to bring so that it is just paid off in time."""
    months = list(_first(plan, plan.break_even_months))
    left_of_income = 1 - plan.material_percent / 100
    jobs = sum((each.jobs for each in months), Fraction(0))
    if not jobs or left_of_income <= 0:
        return None, None
    job_cents = Fraction(months[-1].cost_cents + sum(each.costs_cents for each in months)) / (jobs * left_of_income)
    inch = None
    if plan.square_inches:
        inch = Decimal(ceil(job_cents / plan.square_inches * _INCH_STEPS)) / _INCH_STEPS
    return ceil(job_cents), inch
