"""Commands for sales tax: rates, what she was told about each class, how tax is worked out, how often she files."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, cast

import click

from ledger.actions import set_rate
from ledger.actions.registry import act_of_verb
from ledger.commands import certificates, own_tax, tax_returns, tax_told, use_tax
from ledger.commands.manners import Answer, Group, Session, answers
from ledger.commands.tax_in_force import in_force
from ledger.errors import NotUnderstood
from ledger.money import plain_percent, read_percent
from ledger.periods import parse_date
from ledger.taxes import rules
from ledger.taxes.materials_test import MaterialsTest
from ledger.taxes.rate_gaps import rate_gaps
from ledger.taxes.sales_tax import LEVELS, Level, Method

_SAID_OF = {"yes": "taxed", "no": "not taxed", "split": "taxed as far as the other lines are, by price,"}


@click.group("tax", cls=Group)
def tax() -> None:
    """Sales tax: the rates, and what your state taxes.

    What is taxed is your state's answer, recorded with whom you asked: there is no default.
    """


@tax.command("rate", help=act_of_verb("tax rate").help)
@click.argument("name")
@click.argument("percent")
@click.option("--from", "from_day", metavar="DATE", required=True, help="The first day on which it holds.")
@click.option("--until", metavar="DATE", help="The last day; without it, until the next rate of that name.")
@click.option("--level", type=click.Choice(LEVELS), help="Who levies it; read from the name unless given.")
@click.option("--place", metavar="TEXT", help="A place that pieces are sent to, where your state taxes them there.")
@answers
def rate(session: Session, name: str, percent: str, from_day: str, **given: str | None) -> Answer:
    with session.books() as books:
        value = read_percent(percent, "percent")
        until, level = given["until"], cast("Level | None", given["level"])
        start, end = parse_date(from_day, "from"), parse_date(until, "until") if until is not None else None
        set_rate.perform(books, set_rate.RateRequest(name, value, start, end, level, given["place"]))
        gaps = [each.sentence for each in rate_gaps(books)]
        return in_force(books, [f"{name}: {plain_percent(value)} % from {start}.", *gaps])


@tax.command("class")
@click.argument("class_name", metavar="CLASS")
@click.argument("taxed", type=click.Choice(["yes", "no", "split"]))
@click.option("--asked", metavar="WHOM", required=True, help="Whom you asked.")
@click.option("--from", "from_day", metavar="DATE", help="The first day on which it holds; today unless given.")
@click.option("--until", metavar="DATE", help="The last day.")
@click.option("--over", metavar="PERCENT", help="Taxed only where materials are worth more of the charge than this.")
@click.option("--materials", metavar="PERCENT", help="With --over: what of the charge is materials not shown.")
@click.option("--apart", is_flag=True, help="With --over: taxed too where materials stand on their own line.")
@answers
def class_answer(session: Session, class_name: str, taxed: str, asked: str, **given: Any) -> Answer:
    """Whether a class of line is taxed, as you were told.

    CLASS is goods, work, delivery, other, or one of your own: ask your state's revenue office about each. Where it
    depends on the materials in the work, say «yes» with --over; the lines of the class goods are materials shown apart.
    """
    with session.books() as books:
        start = parse_date(given["from_day"], "from") if given["from_day"] is not None else session.today
        end = parse_date(given["until"], "until") if given["until"] is not None else None
        test = _materials_test(taxed, given)
        with books.writing() as write:
            rules.answer_class(
                books, write, class_name, taxed != "no", asked, start, end, is_split=taxed == "split", materials=test
            )
        return in_force(books, [f"{class_name}: {_SAID_OF[taxed]} from {start}.", *_test_lines(test)])


def _materials_test(taxed: str, given: dict[str, Any]) -> MaterialsTest | None:
    """The test of a class, where --over gives one. Raises NotUnderstood."""
    materials = read_percent(given["materials"], "materials") if given["materials"] is not None else Decimal(0)
    if given["over"] is None and (given["materials"] is not None or given["apart"]):
        raise NotUnderstood("--materials and --apart belong to --over.", "Say the share with --over.", "over")
    if given["over"] is None:
        return None
    if taxed != "yes":
        raise NotUnderstood("A class with --over is taxed where the test says so.", "Say yes with --over.", "over")
    return MaterialsTest(read_percent(given["over"], "over"), materials, given["apart"])


def _test_lines(test: MaterialsTest | None) -> list[str]:
    if test is None:
        return []
    apart = ", or stand on their own line" if test.when_apart else ""
    hidden = plain_percent(test.materials_percent)
    return [
        f"Only where materials are over {plain_percent(test.over_percent)} % of the charge{apart}; "
        f"{hidden} % of it is reckoned as materials that are not shown."
    ]


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
        return in_force(books, [f"What is sent is taxed by its {sourcing} from {start or session.today}."])


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
        return in_force(books, [f"The tax of a debt given up {said}."])


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
        return in_force(books, [f"Tax is worked out per {method} from {start}."])


for _subject in (tax_told, tax_returns, use_tax, certificates, own_tax):
    for _command in _subject.TAX_COMMANDS:
        tax.add_command(_command)

COMMANDS = (tax,)
