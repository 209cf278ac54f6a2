"""The command for depreciation by the published tables: a figure for the accountant, with books or without."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from decimal import Decimal
from typing import Any, cast

import click

from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.figures.published import Figure, PercentColumn
from ledger.machine.depreciation import CONVENTIONS, Basis, Convention, Purchase, Year, basis, late_percent, years_of
from ledger.machine.depreciation_record import (
    FOR_THE_ACCOUNTANT,
    Limits,
    convention_on,
    limits_on,
    purchases_of,
    table,
)
from ledger.machine.record import read_parts
from ledger.money import Currency, plain_percent, read_amount, read_percent, round_half_up
from ledger.periods import parse_date

_DOLLARS = Currency("USD", 2)


@click.command("depreciation", cls=Command)
@click.argument("cost", metavar="COST")
@click.option("--class", "class_years", type=click.Choice(["5", "7"]), required=True, help="The class life, in years.")
@click.option("--placed", metavar="DATE", required=True, help="The day on which it went into business use.")
@click.option("--convention", type=click.Choice(CONVENTIONS), help="Worked out from the year's purchases unless given.")
@click.option("--business-use", metavar="PERCENT", default="100", help="The workshop's share of its use.")
@click.option("--section-179", metavar="AMOUNT", help="What of it is expensed at once.")
@click.option("--bonus", metavar="PERCENT", default="0", help="The bonus taken in the first year.")
@answers
def depreciation(session: Session, cost: str, class_years: str, placed: str, **given: Any) -> Answer:
    """What the published tables give for COST, year by year.

    For your accountant: nothing is posted, and which of it applies is theirs to say.
    """
    with _books_if_there(session) as books:
        currency = books.currency if books is not None else _DOLLARS
        day, expensed = parse_date(placed, "placed"), given["section_179"]
        found = basis(
            read_amount(cost, currency, "cost"),
            read_percent(given["business_use"], "business_use"),
            read_amount(expensed, currency, "section_179", zero=True) if expensed is not None else 0,
            read_percent(given["bonus"], "bonus"),
        )
        purchases = [*_others(books, day), Purchase(day, found.cents + found.bonus_cents)]
        convention = cast("Convention", given["convention"] or convention_on(purchases, day))
        column = table(int(class_years), day, convention)
        data = {
            "cost": amount_in(currency)(found.cost_cents),
            "class": int(class_years),
            "placed": day.isoformat(),
            "convention": convention,
            "late_percent": plain_percent(Decimal(round_half_up(late_percent(purchases) * 100)) / 100),
            **_answer(found, years_of(found.cents, column.percents, day), column, limits_on(day), currency),
        }
        return Answer(data, _lines(data, is_given=given["convention"] is not None))


@contextmanager
def _books_if_there(session: Session) -> Iterator[Books | None]:
    """The tables can be asked before there are any books."""
    from ledger.books.places import books_file

    if not books_file(session.folder).exists():
        yield None
        return
    with session.books() as books:
        yield books


def _others(books: Books | None, placed: date) -> list[Purchase]:
    """What else the books placed in service that year; what they have of that very day is what is asked about."""
    if books is None:
        return []
    return [each for each in purchases_of(books, placed.year, read_parts(books, books.today)) if each.placed != placed]


def _answer(
    found: Basis, years: tuple[Year, ...], column: PercentColumn, limits: Limits, currency: Currency
) -> dict[str, Any]:
    amount = amount_in(currency)
    return {
        "private": amount(found.private_cents),
        "section_179": amount(found.expensed_cents),
        "bonus": amount(found.bonus_cents),
        "basis": amount(found.cents),
        "years": [
            {"year": each.year, "percent": plain_percent(each.percent), "amount": amount(each.cents)} for each in years
        ],
        "limits": {
            "section_179": _published(limits.section_179),
            "section_179_reduced_above": _published(limits.reduced_above),
            "bonus": [{"words": words, **(_published(each) or {})} for words, each in limits.bonus],
        },
        "source": str(column.source),
        "notes": list(column.notes),
    }


def _published(figure: Figure | None) -> dict[str, Any] | None:
    """A published figure with its unit and what has to stand beside it."""
    if figure is None:
        return None
    value = plain_percent(figure.value) if figure.unit == "percent" else f"{Decimal(figure.value):.2f}"
    return {"value": value, "unit": figure.unit, "source": str(figure.source), "notes": list(figure.notes)}


def _lines(data: dict[str, Any], *, is_given: bool) -> list[str]:
    why = "as you said" if is_given else f"{data['late_percent']} % of the year's basis came in its last three months"
    lines = [*FOR_THE_ACCOUNTANT, f"{data['class']}-year property, {data['convention']}: {why}."]
    if data["basis"] != data["cost"]:
        lines.append(
            f"Of {data['cost']}: private {data['private']}, section 179 {data['section_179']}, bonus {data['bonus']}; "
            f"basis {data['basis']}."
        )
    lines += [f"  {each['year']}{each['percent']:>9} %{each['amount']:>14}" for each in data["years"]]
    return [*lines, *limit_lines(data["limits"]), f"Table: {_with_notes(data['source'], data['notes'])}."]


def limit_lines(limits: dict[str, Any]) -> Iterator[str]:
    """The published limits of a year, each with how sure it is."""
    found = limits["section_179"]
    if found is None:
        yield "No section 179 limit is kept for that year."
    else:
        yield f"Section 179 limit {_with_notes(found['value'], found['notes'])}; {found['source']}."
    for each in limits["bonus"]:
        yield f"Bonus {each['value']} %, {_with_notes(each['words'], each['notes'])}; {each['source']}."


def _with_notes(words: str, notes: list[str]) -> str:
    return f"{words} ({', '.join(notes)})" if notes else words


COMMANDS = (depreciation,)
