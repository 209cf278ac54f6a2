"""The command for how far the machine is from being paid off."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from ledger.commands.listening import month_words, plain_option, sentences
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, day_or_none
from ledger.money import plain_percent

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from ledger.machine.curve import Curve
    from ledger.machine.milestones import Milestone
    from ledger.machine.payback import Payback


@click.command("payback", cls=Command)
@click.option("--curve", "with_curve", is_flag=True, help="Month by month as well: the record, the range, the plan.")
@plain_option
@answers
def payback(session: Session, with_curve: bool, plain: bool) -> Answer:
    """How far the machine is from being paid off.

    Before income tax and any pay for your time. Taken in is what jobs brought; earned is that less the expenses.
    """
    from ledger.machine.payback_record import PaybackRecord

    with session.books() as books:
        amount = amount_in(books.currency)
        record = PaybackRecord(books)
        data = {**_figures(record.payback, amount), "milestones": [_milestone(each) for each in record.milestones]}
        lines = list(sentences(_payback_lines(data)) if plain else _payback_lines(data))
        if with_curve:
            from ledger.machine.curve_record import curve_of  # with the plan 20 ms, which the others need not wait for
            from ledger.machine.kept_plans import read_kept_plan

            curve = curve_of(record, read_kept_plan(books))
            data["curve"] = _curve_data(curve, amount)
            lines += (_curve_said if plain else _curve_lines)(data["curve"])
        return Answer(data, lines)


def _figures(found: Payback, amount: Callable[[int], str]) -> dict[str, Any]:
    forecast = found.forecast
    return {
        "cost": amount(found.cost_cents),
        "taken_in": amount(found.taken_in_cents),
        "subtractions": [{"category": each.category, "amount": amount(each.cents)} for each in found.subtractions],
        "earned": amount(found.earned_cents),
        "share": plain_percent(found.share_percent) if found.share_percent is not None else None,
        "left": amount(found.left_cents),
        "jobs_left": found.jobs_left,
        "a_month_lately": _amount_or_none(found.pace_cents, amount),
        "done_in_week_of": day_or_none(found.done_in_week),
        "forecast": {
            "early": _month(forecast.early),
            "middle": _month(forecast.middle),
            "late": _month(forecast.late),
            "too_early": forecast.too_early,
        },
        "would_do_a_month": _amount_or_none(found.would_do_cents, amount),
    }


def _milestone(each: Milestone) -> dict[str, Any]:
    return {"what": each.what, "percent": f"{each.percent}.00", "reached_on": day_or_none(each.reached_on)}


def _curve_data(curve: Curve, amount: Callable[[int], str]) -> dict[str, Any]:
    return {
        "months": [
            {
                "month": _month(each.first_day),
                "cost": amount(each.cost_cents),
                "taken_in": amount(each.taken_in_cents),
                "earned": amount(each.earned_cents),
            }
            for each in curve.points
        ],
        "range": [
            {
                "month": _month(each.first_day),
                "low": amount(each.low_cents),
                "middle": amount(each.middle_cents),
                "high": amount(each.high_cents),
            }
            for each in curve.fan
        ],
        "planned": [
            {"month": _month(each.first_day), "cost": amount(each.cost_cents), "earned": amount(each.earned_cents)}
            for each in curve.planned
        ],
    }


def _payback_lines(data: dict[str, Any]) -> list[str]:
    earned = f"Taken in: {data['taken_in']}. Earned towards the machine, after expenses: {data['earned']}"
    if data["share"] is None:
        return [f"{earned}.", "No machine is in the books, so there is nothing to pay off."]
    lines = [f"The machine cost {data['cost']}.", f"{earned}, {data['share']} % of its cost."]
    lines += [f"  less {each['category']}: {each['amount']}" for each in data["subtractions"]]
    lines += [
        f"{each['what'].capitalize()} of it was earned on {each['reached_on']}."
        for each in data["milestones"]
        if each["reached_on"] is not None
    ]
    if not data["jobs_left"] and data["jobs_left"] is not None:
        return [*lines, "It is paid off."]
    jobs = "" if data["jobs_left"] is None else f", about {data['jobs_left']} jobs as they were lately"
    return [*lines, f"Left: {data['left']}{jobs}.", *_outlook_lines(data)]


def _outlook_lines(data: dict[str, Any]) -> Iterator[str]:
    if data["done_in_week_of"] is not None:
        yield f"At {data['a_month_lately']} a month, as lately, it is done in the week of {data['done_in_week_of']}."
    forecast = data["forecast"]
    if forecast["too_early"]:
        yield "When it will be paid off: too early to say, under three whole months of work."
    elif forecast["middle"] is None:
        yield f"At this pace it is not paid off. {data['would_do_a_month']} a month would do it in five years."
    else:
        late = forecast["late"] or "later than can be said"
        yield f"Paid off about {forecast['middle']}; in four of five cases between {forecast['early']} and {late}."


def _curve_lines(curve: dict[str, Any]) -> Iterator[str]:
    planned = {each["month"]: each["earned"] for each in curve["planned"]}
    yield f"{'':9}{'cost':>12}{'taken in':>12}{'earned':>12}{'planned':>12}"
    for each in curve["months"]:
        plan = planned.get(each["month"], "")
        yield f"{each['month']:9}{each['cost']:>12}{each['taken_in']:>12}{each['earned']:>12}{plan:>12}"
    if curve["range"]:
        yield "To come, in four of five cases between:"
        yield f"{'':9}{'low':>12}{'middle':>12}{'high':>12}{'planned':>12}"
    for each in curve["range"]:
        plan = planned.get(each["month"], "")
        yield f"{each['month']:9}{each['low']:>12}{each['middle']:>12}{each['high']:>12}{plan:>12}"


def _curve_said(curve: dict[str, Any]) -> Iterator[str]:
    planned = {each["month"]: f", where the plan had {each['earned']}" for each in curve["planned"]}
    for each in curve["months"]:
        plan = planned.pop(each["month"], "")
        said = f"it had cost {each['cost']}, taken in {each['taken_in']} and earned {each['earned']}"
        yield f"At the end of {_month_in_words(each['month'])} {said}{plan}."
    if curve["range"]:
        yield "What is to come lies within the range in four of five cases."
    for each in curve["range"]:
        plan = planned.pop(each["month"], "")
        said = f"between {each['low']} and {each['high']}, in the middle {each['middle']}"
        yield f"By the end of {_month_in_words(each['month'])} it will have earned {said}{plan}."
    for month, plan in planned.items():
        yield f"For the end of {_month_in_words(month)}{plan.removeprefix(', where')}."


def _month_in_words(month: str) -> str:
    return month_words(date.fromisoformat(f"{month}-01"))


def _month(day: date | None) -> str | None:
    return f"{day.year:04d}-{day.month:02d}" if day else None


def _amount_or_none(cents: int | None, amount: Callable[[int], str]) -> str | None:
    return None if cents is None else amount(cents)


COMMANDS = (payback,)
