"""Commands for a plan of the machine: worked out before buying, side by side, kept, and held against the books."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, GroupWithUsual, Session, amount_in, answers, read_path
from ledger.money import currency_from_code, plain_decimal, plain_percent, round_half_up

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from datetime import date

    from ledger.machine.plan import PlanMonth, PlanResult, Varied
    from ledger.money import Currency

BEFORE = "Before income tax and any pay for your time. A plan is a guess with a date on it."


class PlanGroup(GroupWithUsual):
    """`plan FILE` works a plan out."""

    usual = "show"


@click.group("plan", cls=PlanGroup)
def plan() -> None:
    """What the machine would come to, and what it came to."""


@plan.command("show")
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@answers
def show(session: Session, files: tuple[str, ...]) -> Answer:
    """Work a plan out, or two or three side by side.

    FILE... are texts in TOML. [machine.costs] has the price, and a line for each cost on top; [loan] down_payment,
    percent and months; [work] jobs_a_week, average_job, material_percent, square_inches and weeks_off; [learning]
    practice_months, months and percent; [monthly_costs] a line for each. [loan] and [learning] may be left out.

    Nothing is kept. No books are needed; where there are some, amounts are in their currency.
    """
    from checklists.worksheet_files import read_content
    from ledger.machine.plan import work_out
    from ledger.machine.plan_files import read_plan

    currency = _currency(session)
    amount = amount_in(currency)
    results = [
        work_out(read_plan(read_content(read_path(file, "file")), file, currency, session.today)) for file in files
    ]
    data = [_plan_data(each, currency) for each in results]
    lines = _side_by_side(results, currency) if len(results) > 1 else list(_plan_lines(results[0], amount, currency))
    return Answer({**data[0], "plans": data}, [*lines, BEFORE])


@plan.command("keep", help=act_of_verb("plan keep").help)
@click.argument("file", metavar="FILE")
@answers
def keep(session: Session, file: str) -> Answer:
    from ledger.actions import keep_plan

    with session.books() as books:
        result = keep_plan.perform(books, keep_plan.PlanRequest(read_path(file, "file")))
        lines = [f"Kept: {_headline(result)}", "See with «twopurse plan kept» what becomes of it."]
        return Answer(_plan_data(result, books.currency), lines)


@plan.command("kept")
@answers
def kept(session: Session) -> Answer:
    """The plan that was kept last, held against the books month by month."""
    from ledger.errors import NotFound
    from ledger.machine.kept_plans import held_against, read_kept_plan
    from ledger.machine.payback_record import PaybackRecord
    from ledger.machine.plan import work_out

    with session.books() as books:
        found = read_kept_plan(books)
        if found is None:
            raise NotFound("No plan is kept.", "Keep one with «twopurse plan keep FILE».", "file")
        amount = amount_in(books.currency)
        months = [
            {
                "month": f"{each.first_day:%Y-%m}",
                "planned": amount(each.planned_cents),
                "earned": amount(each.earned_cents),
                "ahead": amount(each.ahead_cents),
            }
            for each in held_against(found.plan, PaybackRecord(books).points)
        ]
        result = work_out(found.plan)
        data = {"kept_on": found.kept_on.isoformat(), **_plan_data(result, books.currency), "against": months}
        lines = [f"Kept on {found.kept_on}: {_headline(result)}", f"{'':9}{'planned':>12}{'earned':>12}{'ahead':>12}"]
        lines += [f"{each['month']:9}{each['planned']:>12}{each['earned']:>12}{each['ahead']:>12}" for each in months]
        return Answer(data, [*lines, "Earned towards the machine since the plan's start, at the end of each month."])


def _currency(session: Session) -> Currency:
    """That of the books; before there are any, amounts with two decimals."""
    from ledger.books.places import books_file

    if not books_file(session.folder).exists():
        return currency_from_code("USD")
    with session.books() as books:
        return books.currency


def _plan_data(result: PlanResult, currency: Currency) -> dict[str, Any]:
    amount = amount_in(currency)
    found = result.plan
    return {
        "name": found.name,
        "starts": f"{found.starts:%Y-%m}",
        "cost": amount(found.machine_cents),
        "loan": amount(found.loan_cents),
        "paid_off": _month(result.paid_off),
        "most_out_of_pocket": amount(result.most_out_of_pocket_cents),
        "break_even_job": _amount_or_none(result.break_even_job_cents, amount),
        "break_even_square_inch": _inch(result.break_even_inch_cents, currency),
        "break_even_months": found.break_even_months,
        "sensitivity": [
            {
                "assumption": each.assumption,
                "change": plain_percent(Decimal(each.change_percent)),
                "paid_off": _month(each.paid_off),
                "months": each.months,
            }
            for each in result.sensitivity
        ],
        "months": [_month_data(each, amount) for each in result.months],
    }


def _month_data(month: PlanMonth, amount: Callable[[int], str]) -> dict[str, Any]:
    return {
        "month": f"{month.first_day:%Y-%m}",
        "jobs": f"{round_half_up(month.jobs * 10) / 10:.1f}",
        "income": amount(month.income_cents),
        "material": amount(month.material_cents),
        "monthly_costs": amount(month.costs_cents),
        "loan_payment": amount(month.loan_cents),
        "cash": amount(month.cash_cents),
        "in_hand": amount(month.in_hand_cents),
        "earned": amount(month.earned_cents),
        "cost": amount(month.cost_cents),
    }


def _headline(result: PlanResult) -> str:
    if result.paid_off is None:
        return f"{result.plan.name} is never paid off this way."
    months = _months_from(result)
    return f"{result.plan.name} is paid off in {_month(result.paid_off)}, in its month no. {months}."


def _plan_lines(result: PlanResult, amount: Callable[[int], str], currency: Currency) -> Iterator[str]:
    found = result.plan
    yield _headline(result)
    lent = f", {amount(found.loan_cents)} of it lent" if found.loan_cents else ""
    yield f"The machine costs {amount(found.machine_cents)}{lent}."
    yield f"The most out of pocket: {amount(result.most_out_of_pocket_cents)}."
    yield _break_even_line(result, amount, currency)
    yield "What moves it most, each a tenth less and a tenth more:"
    yield from _sensitivity_lines(result)
    yield f"{'':9}{'jobs':>6}{'income':>11}{'material':>11}{'costs':>10}{'loan':>10}{'cash':>11}{'in hand':>12}"
    for each in (_month_data(month, amount) for month in result.months):
        yield (
            f"{each['month']:9}{each['jobs']:>6}{each['income']:>11}{each['material']:>11}{each['monthly_costs']:>10}"
            f"{each['loan_payment']:>10}{each['cash']:>11}{each['in_hand']:>12}"
        )


def _break_even_line(result: PlanResult, amount: Callable[[int], str], currency: Currency) -> str:
    job = _amount_or_none(result.break_even_job_cents, amount)
    within = f"to be paid off in {result.plan.break_even_months} months"
    if job is None:
        return f"No price would do {within}."
    planned = f"the plan has {amount(round_half_up(result.plan.average_job_cents))}"
    inch = _inch(result.break_even_inch_cents, currency)
    beside = f", {inch} a square inch" if inch is not None else ""
    return f"Break-even: {job} a job{beside}, {within}; {planned}."


def _sensitivity_lines(result: PlanResult) -> Iterator[str]:
    by_assumption: dict[str, dict[int, Varied]] = {}
    for each in result.sensitivity:
        by_assumption.setdefault(each.assumption, {})[each.change_percent] = each
    for assumption, varied in by_assumption.items():
        yield f"  {assumption:17}less: {_moved(varied[-10]):18}more: {_moved(varied[10])}"


def _moved(varied: Varied) -> str:
    if varied.paid_off is None:
        return "never"
    if varied.months is None:
        return f"in {_month(varied.paid_off)}"
    if not varied.months:
        return "the same month"
    number = abs(varied.months)
    return f"{number} month{'s' if number > 1 else ''} {'later' if varied.months > 0 else 'earlier'}"


def _side_by_side(results: list[PlanResult], currency: Currency) -> list[str]:
    amount = amount_in(currency)
    rows = [
        ("", [each.plan.name for each in results]),
        ("costs", [amount(each.plan.machine_cents) for each in results]),
        ("lent", [amount(each.plan.loan_cents) for each in results]),
        ("paid off", [_month(each.paid_off) or "never" for each in results]),
        ("months", [str(_months_from(each) or "-") for each in results]),
        ("most out of pocket", [amount(each.most_out_of_pocket_cents) for each in results]),
        ("break-even, a job", [_amount_or_none(each.break_even_job_cents, amount) or "-" for each in results]),
        ("a square inch", [_inch(each.break_even_inch_cents, currency) or "-" for each in results]),
        ("hangs most on", [each.sensitivity[0].assumption for each in results]),
    ]
    widths = [max(len(values[at]) for _, values in rows) for at in range(len(results))]
    return [
        f"{words:20}" + "  ".join(f"{value:>{width}}" for value, width in zip(values, widths, strict=True))
        for words, values in rows
    ]


def _months_from(result: PlanResult) -> int | None:
    if result.paid_off is None:
        return None
    starts = result.plan.starts
    return (result.paid_off.year - starts.year) * 12 + result.paid_off.month - starts.month + 1


def _amount_or_none(cents: int | None, amount: Callable[[int], str]) -> str | None:
    return None if cents is None else amount(cents)


def _inch(cents: Decimal | None, currency: Currency) -> str | None:
    """A price a square inch in whole units, as the price list has it: 0.0219."""
    return None if cents is None else plain_decimal(cents / currency.minor_units)


def _month(day: date | None) -> str | None:
    return f"{day:%Y-%m}" if day else None


COMMANDS = (plan,)
