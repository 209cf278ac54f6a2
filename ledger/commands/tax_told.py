"""Commands for what her state told her about returns: how often and by when, the allowance, holidays, corrections."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any, cast

import click

from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, answers
from ledger.commands.tax_in_force import in_force
from ledger.errors import NotUnderstood
from ledger.money import plain_percent, read_amount, read_percent
from ledger.periods import parse_date
from ledger.taxes import filing_rules
from ledger.taxes.allowance import NO_ALLOWANCE, Allowance
from ledger.taxes.filing_periods import frequency_in_words, own_frequency
from ledger.taxes.filing_rules import BelowZero
from ledger.taxes.reported import Basis
from ledger.taxes.return_of_entry import Corrections

_ASKED = click.option("--asked", metavar="WHOM", required=True, help="Whom you asked.")
_FROM = click.option("--from", "from_day", metavar="DATE", help="The first day on which it holds; today unless given.")


@click.command("period", cls=Command)
@click.argument("frequency", type=click.Choice(["monthly", "quarterly", "yearly", "own"]))
@click.option("--due-day", type=int, metavar="DAY", required=True, help="Day of the month after; 31 is its last.")
@click.option("--months", type=int, metavar="MONTHS", help="With own: how many months a period has.")
@click.option("--first-month", type=int, metavar="MONTH", help="With own: the month in which one begins, 1 to 12.")
@click.option("--state", metavar="XX", help="Your state in two letters, whose holidays move a due date.")
@click.option("--from", "from_day", metavar="DATE", help="The first day; the running period's unless given.")
@answers
def period(session: Session, frequency: str, due_day: int, **given: Any) -> Answer:
    """How often your state wants a return, and by which day.

    A due date on a weekend or a legal holiday moves to the next day that is none.
    """
    with session.books() as books:
        wanted = _frequency(frequency, given["months"], given["first_month"])
        start = parse_date(given["from_day"], "from") if given["from_day"] is not None else None
        with books.writing() as write:
            filing_rules.choose_filing(books, write, wanted, due_day, start, given["state"])
        said = frequency_in_words(wanted)
        return in_force(books, [f"Returns are {said}, due on day {due_day} of the month after."])


def _frequency(word: str, months: int | None, first_month: int | None) -> str:
    if word != "own" and months is None and first_month is None:
        return word
    if word == "own" and months is not None and first_month is not None:
        return own_frequency(months, first_month)
    raise NotUnderstood(
        "--months and --first-month go with own, and own with both.",
        "Say «own» with both, or neither.",
        "first_month" if first_month is not None or months is not None and word == "own" else "months",
    )


@click.command("allowance", cls=Command)
@click.option("--percent", metavar="N", required=True, help="Percent of the tax that you may keep; 0 for none.")
@click.option("--first", metavar="AMOUNT", help="The percent is of the first so much of tax.")
@click.option("--then", metavar="N", help="Percent of the rest.")
@click.option("--cap", metavar="AMOUNT", help="At most so much for a return.")
@_FROM
@answers
def allowance(
    session: Session, percent: str, first: str | None, then: str | None, cap: str | None, from_day: str | None
) -> Answer:
    """What you may keep for filing and paying on time.

    Some states leave a part of the tax to who files and pays on time: ask yours. What is kept is income.
    """
    with session.books() as books:
        told = Allowance(
            read_percent(percent, "percent"),
            read_amount(first, books.currency, "first") if first is not None else None,
            read_percent(then, "then") if then is not None else Decimal(0),
            read_amount(cap, books.currency, "cap") if cap is not None else None,
        )
        start = parse_date(from_day, "from") if from_day is not None else None
        with books.writing() as write:
            filing_rules.choose_allowance(books, write, told, start)
        kept = f"Kept when filed and paid on time: {plain_percent(told.percent)} %."
        return in_force(books, ["Nothing is kept for filing on time." if told == NO_ALLOWANCE else kept])


@click.command("basis", cls=Command)
@click.argument("basis", type=click.Choice(["sale", "payment"]))
@_ASKED
@_FROM
@answers
def basis(session: Session, basis: str, asked: str, from_day: str | None) -> Answer:
    """Whether tax belongs to the sale's period or the payment's.

    By sale it belongs to the period of the pickup, paid or not: that holds until your state tells you otherwise. A sale
    keeps what held on its day.
    """
    with session.books() as books:
        start = parse_date(from_day, "from") if from_day is not None else None
        with books.writing() as write:
            filing_rules.choose_basis(books, write, cast("Basis", basis), asked, start)
        return in_force(books, [f"Tax is reported by {basis} from {start or session.today}."])


@click.command("corrections", cls=Command)
@click.argument("corrections", type=click.Choice(["next", "amended"]))
@_ASKED
@answers
def corrections(session: Session, corrections: str, asked: str) -> Answer:
    """Where what comes late to a filed return goes.

    Into the next return, or into an amended one: your state says. Until you asked, into the next.
    """
    with session.books() as books:
        with books.writing() as write:
            filing_rules.choose_corrections(books, write, cast("Corrections", corrections), asked)
        where = "an amended return" if corrections == "amended" else "the next return"
        return in_force(books, [f"What comes late to a filed return goes into {where}."])


@click.command("below-zero", cls=Command)
@click.argument("below_zero", metavar="carry|claim", type=click.Choice(["carry", "claim"]))
@_ASKED
@answers
def below_zero(session: Session, below_zero: str, asked: str) -> Answer:
    """What becomes of a return that comes out below zero.

    It is carried forward, or claimed back: your state says. Until you asked, it is carried forward.
    """
    with session.books() as books:
        with books.writing() as write:
            filing_rules.choose_below_zero(books, write, cast("BelowZero", below_zero), asked)
        what = "claimed back" if below_zero == "claim" else "carried forward"
        return in_force(books, [f"A return below zero is {what}."])


@click.command("holiday", cls=Command)
@click.argument("class_name", metavar="CLASS")
@click.option("--name", metavar="TEXT", required=True, help="What it is called.")
@click.option("--from", "from_day", metavar="DATE", required=True, help="The first day.")
@click.option("--until", metavar="DATE", required=True, help="The last day.")
@click.option("--percent", metavar="N", help="The rate on those days; without it the class is not taxed at all.")
@click.option("--of", "jurisdiction", metavar="NAME", help="With --percent: whose rate it is.")
@_ASKED
@answers
def holiday(session: Session, class_name: str, **given: Any) -> Answer:
    """A class untaxed, or taxed at another rate, between two days.

    A sales tax holiday, for example. CLASS is goods, work, delivery, other, or one of your own. A state that drops out
    while the county goes on is --percent 0 --of the state.
    """
    with session.books() as books:
        start, end = parse_date(given["from_day"], "from"), parse_date(given["until"], "until")
        percent = read_percent(given["percent"], "percent") if given["percent"] is not None else None
        _keep_holiday(books, class_name, start, end, percent, given)
        rate = "not taxed" if percent is None else f"{plain_percent(percent)} % of {given['jurisdiction']}"
        return in_force(books, [f"{class_name} from {start} to {end}: {rate}."])


def _keep_holiday(
    books: Books, class_name: str, start: date, end: date, percent: Decimal | None, given: dict[str, Any]
) -> None:
    from ledger.taxes.rules import known_class
    from ledger.taxes.tax_holidays import NewHoliday, add_holiday

    new = NewHoliday(
        known_class(books, class_name), given["name"], given["asked"], start, end, percent, given["jurisdiction"]
    )
    with books.writing() as write:
        add_holiday(books, write, new)


TAX_COMMANDS = (period, allowance, basis, corrections, below_zero, holiday)
