"""The command for start-up costs: what was spent before the workshop was open, and the published rule on it."""

from __future__ import annotations

from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.periods import parse_date
from ledger.taxes.start_up_records import ReadStartUp, read_start_up

CAUTION = "What counts, and whether the rule is for you, your accountant decides."
NOT_RECORDED = "On which day was the workshop open and ready for paid work? Record it with --opened."


@click.command("start-up", cls=Command, help=act_of_verb("start-up").help)
@click.option("--opened", metavar="DATE", help="The day on which the workshop was open and ready for paid work.")
@click.option("--year", type=click.IntRange(1900, 2199), help="The year to work out; this one unless given.")
@answers
def start_up(session: Session, opened: str | None, year: int | None) -> Answer:
    with session.books() as books:
        if opened is not None:
            from ledger.actions import start_up as act

            found: ReadStartUp | None = act.perform(books, act.OpenedRequest(parse_date(opened, "opened")))
        else:
            found = read_start_up(books)
        return _tell(books, found, year or session.today.year)


def _tell(books: Books, found: ReadStartUp | None, year: int) -> Answer:
    amount = amount_in(books.currency)
    costs = found.costs if found is not None else ()
    rule = found.rule if found is not None else None
    data: dict[str, Any] = {
        "opened": found.opened.isoformat() if found is not None else None,
        "cost": amount(found.cost_cents) if found is not None else None,
        "by_category": [
            {"category": each.category, "amount": amount(each.cents), "left_out": each.left_out} for each in costs
        ],
        "first_year": amount(rule.at_once_cents) if rule is not None else None,
        "rest": amount(rule.rest_cents) if rule is not None else None,
        "months": rule.months if rule is not None else None,
        "year": year,
        "of_year": amount(rule.cents_of(year)) if rule is not None else None,
        "source": found.source if found is not None else None,
        "notes": list(found.notes) if found is not None else [],
    }
    return Answer(data, [*_lines(data), CAUTION])


def _lines(data: dict[str, Any]) -> list[str]:
    if data["opened"] is None:
        return [NOT_RECORDED]
    lines = [f"Open on {data['opened']}; spent before it:"]
    for each in data["by_category"]:
        left_out = f"  not counted: {each['left_out']}" if each["left_out"] else ""
        lines.append(f"  {each['category']:<24}{each['amount']:>12}{left_out}")
    lines.append(f"Start-up costs: {data['cost']}.")
    if data["first_year"] is not None:
        rest = f", {data['rest']} over {data['months']} months" if data["rest"] != "0.00" else ""
        lines.append(f"By the published rule {data['first_year']} in the first year{rest}.")
        lines.append(f"In {data['year']}: {data['of_year']}.")
        lines += [f"Source: {data['source']}.", *data["notes"]]
    return lines


COMMANDS = (start_up,)
