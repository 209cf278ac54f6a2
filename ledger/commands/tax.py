"""Commands for sales tax: rates, what she was told about each class, how tax is worked out, how often she files."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any, cast

import click

from ledger.books.books import Books
from ledger.commands import use_tax
from ledger.commands.manners import Answer, Group, Session, answers
from ledger.money import plain_percent, read_percent
from ledger.periods import parse_date
from ledger.taxes import filing_rules, rules
from ledger.taxes.sales_tax import LEVELS, SHIPPED_CLASSES, Level, Method, Rate, percent_sum

_SAID_OF = {"yes": "taxed", "no": "not taxed", "split": "taxed as far as the other lines are, by price,"}
ASK = "Ask your state's revenue office; collect no tax before you hold a permit."


@click.group("tax", cls=Group)
def tax() -> None:
    """Sales tax: the rates, and what your state taxes.

    What is taxed is your state's answer, recorded with whom you asked: there is no default.
    """


@tax.command("rate")
@click.argument("name")
@click.argument("percent")
@click.option("--from", "from_day", metavar="DATE", required=True, help="The first day on which it holds.")
@click.option("--until", metavar="DATE", help="The last day; without it, until the next rate of that name.")
@click.option("--level", type=click.Choice(LEVELS), help="Who levies it; read from the name unless given.")
@click.option("--place", metavar="TEXT", help="A place that pieces are sent to, where your state taxes them there.")
@answers
def rate(session: Session, name: str, percent: str, from_day: str, **given: str | None) -> Answer:
    """A rate of one jurisdiction, from a day on.

    NAME is who levies it, such as state or county. PERCENT is such as 4.3 or 8.875. Rates in force are added up.
    """
    with session.books() as books:
        value = read_percent(percent, "percent")
        until, level = given["until"], cast("Level | None", given["level"])
        start, end = parse_date(from_day, "from"), parse_date(until, "until") if until is not None else None
        with books.writing() as write:
            rules.add_rate(books, write, name, value, start, end, level, given["place"])
        return _in_force(books, [f"{name}: {plain_percent(value)} % from {start}."])


@tax.command("class")
@click.argument("class_name", metavar="CLASS")
@click.argument("taxed", type=click.Choice(["yes", "no", "split"]))
@click.option("--asked", metavar="WHOM", required=True, help="Whom you asked.")
@click.option("--from", "from_day", metavar="DATE", help="The first day on which it holds; today unless given.")
@click.option("--until", metavar="DATE", help="The last day.")
@answers
def class_answer(
    session: Session, class_name: str, taxed: str, asked: str, from_day: str | None, until: str | None
) -> Answer:
    """Whether a class of line is taxed, as you were told.

    CLASS is goods, work, delivery, other, or one of your own: ask your state's revenue office about each.
    """
    with session.books() as books:
        start = parse_date(from_day, "from") if from_day is not None else session.today
        end = parse_date(until, "until") if until is not None else None
        with books.writing() as write:
            rules.answer_class(books, write, class_name, taxed != "no", asked, start, end, is_split=taxed == "split")
        return _in_force(books, [f"{class_name}: {_SAID_OF[taxed]} from {start}."])


@tax.command("sourcing")
@click.argument("sourcing", type=click.Choice(["origin", "destination"]))
@click.option("--asked", metavar="WHOM", required=True, help="Whom you asked.")
@click.option("--from", "from_day", metavar="DATE", help="The first day on which it holds; today unless given.")
@answers
def sourcing(session: Session, sourcing: str, asked: str, from_day: str | None) -> Answer:
    """Where your state taxes what you send: here, or there.

    The origin is your place. The destination is where a piece arrives: enter the rates there with «tax rate --place».
    """
    with session.books() as books:
        start = parse_date(from_day, "from") if from_day is not None else None
        with books.writing() as write:
            rules.choose_sourcing(books, write, sourcing, asked, start)
        return _in_force(books, [f"What is sent is taxed by its {sourcing} from {start or session.today}."])


@tax.command("bad-debt")
@click.argument("claimed", type=click.Choice(["yes", "no"]))
@click.option("--asked", metavar="WHOM", required=True, help="Whom you asked.")
@answers
def bad_debt(session: Session, claimed: str, asked: str) -> Answer:
    """Whether the tax of a debt given up may be claimed back."""
    with session.books() as books:
        with books.writing() as write:
            rules.answer_bad_debts(books, write, claimed == "yes", asked)
        said = "can be claimed" if claimed == "yes" else "stays yours to pay"
        return _in_force(books, [f"The tax of a debt given up {said}."])


@tax.command("method")
@click.argument("method", type=click.Choice(["slip", "line"]))
@answers
def method(session: Session, method: str) -> Answer:
    """Work tax out on the whole slip, or line by line.

    It is the same throughout a filing period: where this one has a taxed sale already, it holds from the next.
    """
    with session.books() as books:
        with books.writing() as write:
            start = rules.choose_method(books, write, cast("Method", method))
        return _in_force(books, [f"Tax is worked out per {method} from {start}."])


@tax.command("period")
@click.argument("frequency", type=click.Choice(["monthly", "quarterly", "yearly"]))
@click.option("--due-day", type=int, metavar="DAY", required=True, help="Day of the month after; 31 is its last.")
@answers
def period(session: Session, frequency: str, due_day: int) -> Answer:
    """How often your state wants a return, and by which day."""
    with session.books() as books:
        with books.writing() as write:
            filing_rules.choose_filing(books, write, frequency, due_day)
        return _in_force(books, [f"Returns are {frequency}, due on day {due_day} of the month after."])


def _in_force(books: Books, lines: list[str]) -> Answer:
    today = books.today
    standing = rules.rules_on(books, today)
    known = sorted({*SHIPPED_CLASSES, *standing.answers}, key=lambda name: (name not in SHIPPED_CLASSES, name))
    classes: list[dict[str, Any]] = [
        {"class": name, "taxed": standing.answers.get(name), "rule": "split" if name in standing.split else None}
        for name in known
    ]
    places = [{"place": each, **_rates(rules.rates_on(books, today, each))} for each in _places(books)]
    data: dict[str, Any] = {
        **_rates(standing.rates),
        "classes": classes,
        "method": standing.method,
        "period": filing_rules.filing_frequency(books, today),
        "due_day": filing_rules.filing_due_day(books, today),
        "sourcing": "destination" if rules.is_taxed_at_destination(books, today) else "origin",
        "places": places,
        "bad_debt_tax_claimed": rules.bad_debt_answer(books, today),
    }
    return Answer(data, [*lines, *_in_force_lines(data, today)])


def _places(books: Books) -> tuple[str, ...]:
    return rules.places_with_rates(books, books.today)


def _rates(standing: Sequence[Rate]) -> dict[str, Any]:
    rates = [
        {"name": each.jurisdiction, "level": each.level, "percent": plain_percent(each.percent)} for each in standing
    ]
    return {"rates": rates, "percent": plain_percent(percent_sum(standing))}


def _in_force_lines(data: dict[str, Any], today: date) -> list[str]:
    said = {True: "taxed", False: "not taxed", None: "not answered yet"}
    lines = [f"In force on {today}: {data['percent']} % in all, worked out per {data['method']}."]
    lines += [f"  {each['name']} ({each['level']}) {each['percent']} %" for each in data["rates"]]
    for place in data["places"]:
        lines.append(f"Sent to {place['place']}: {place['percent']} % in all.")
        lines += [f"  {each['name']} ({each['level']}) {each['percent']} %" for each in place["rates"]]
    lines += [
        f"  {each['class']}: {'taxed as the other lines are, by price' if each['rule'] else said[each['taxed']]}"
        for each in data["classes"]
    ]
    return [*lines, ASK] if any(each["taxed"] is None for each in data["classes"]) else lines


for _command in use_tax.TAX_COMMANDS:
    tax.add_command(_command)

COMMANDS = (tax,)
