"""The command for how far the machine is from being paid off."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.money import plain_percent


@click.command("payback", cls=Command)
@answers
def payback(session: Session) -> Answer:
    """How far the machine is from being paid off.

    Before income tax and any pay for your time. Taken in is what jobs brought; earned is that less the expenses.
    """
    from ledger.machine.payback_record import read_payback

    with session.books() as books:
        amount = amount_in(books.currency)
        found = read_payback(books)
        forecast = found.forecast
        data: dict[str, Any] = {
            "cost": amount(found.cost_cents),
            "taken_in": amount(found.taken_in_cents),
            "earned": amount(found.earned_cents),
            "share": plain_percent(found.share_percent) if found.share_percent is not None else None,
            "left": amount(found.left_cents),
            "jobs_left": found.jobs_left,
            "forecast": {
                "early": _month(forecast.early),
                "middle": _month(forecast.middle),
                "late": _month(forecast.late),
                "too_early": forecast.too_early,
            },
        }
        return Answer(data, _payback_lines(data))


def _payback_lines(data: dict[str, Any]) -> list[str]:
    earned = f"Taken in: {data['taken_in']}. Earned towards the machine, after expenses: {data['earned']}"
    if data["share"] is None:
        return [f"{earned}.", "No machine is in the books, so there is nothing to pay off."]
    lines = [f"The machine cost {data['cost']}.", f"{earned}, {data['share']} % of its cost."]
    if not data["jobs_left"] and data["jobs_left"] is not None:
        return [*lines, "It is paid off."]
    jobs = "" if data["jobs_left"] is None else f", about {data['jobs_left']} jobs as they were lately"
    return [*lines, f"Left: {data['left']}{jobs}.", _forecast_line(data["forecast"])]


def _month(day: date | None) -> str | None:
    return f"{day.year:04d}-{day.month:02d}" if day else None


def _forecast_line(forecast: dict[str, Any]) -> str:
    if forecast["too_early"]:
        return "When it will be paid off: too early to say, under three whole months of work."
    if forecast["middle"] is None:
        return "At this pace it is not paid off."
    late = forecast["late"] or "later than can be said"
    return f"Paid off about {forecast['middle']}; in four of five cases between {forecast['early']} and {late}."


COMMANDS = (payback,)
