"""Commands for people who are paid to help: who, how much in a year, and which form she has of them."""

from __future__ import annotations

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Group, Session, amount_in, answers
from ledger.money import plain_decimal, read_amount

CAUTION = "Whether a return is due, and whether somebody is an employee, your accountant and the tax office decide."


@click.group("helper", cls=Group)
def people() -> None:
    """People who are paid to help.

    What is spent under the category «paid helpers» counts.
    """


@people.command("list")
@click.option("--year", type=click.IntRange(1900, 2199), help="The calendar year; this one unless given.")
@answers
def list_people(session: Session, year: int | None) -> Answer:
    """What each was paid in a year.

    Beside it stands the sum from which a return may be due.
    """
    from ledger.spending.information_returns import read_people_paid, threshold

    with session.books() as books:
        of_year = year or session.today.year
        limit = threshold(of_year)
        amount = amount_in(books.currency)
        least = int(limit.dollars) * books.currency.minor_units
        people = [
            {
                "name": each.name,
                "paid": amount(each.cents),
                "form": each.tax_form,
                "may_be_due": each.cents >= least,
            }
            for each in read_people_paid(books, of_year)
        ]
        data = {
            "year": of_year,
            "helpers": people,
            "reported_from": plain_decimal(limit.dollars, 2),
            "published": limit.is_known,
        }
        lines = [f"{each['name']:<28}{each['paid']:>12}  {each['form'] or 'no form yet'}" for each in people]
        lines.append(f"A return may be due from {data['reported_from']} paid to one person in {of_year}.")
        return Answer(data, [*lines, CAUTION])


@people.command("pay", help=act_of_verb("helper pay").help)
@click.argument("name", metavar="NAME")
@click.argument("amount", metavar="AMOUNT")
@click.option("--from", "paid_from", metavar="ACCOUNT", default="checking", show_default=True, help="Paid from.")
@click.option("--why", metavar="TEXT", help="What it was for.")
@answers
def pay(session: Session, name: str, amount: str, paid_from: str, why: str | None) -> Answer:
    from ledger.actions import paid_people as act
    from ledger.commands.money import tell_spent

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount")
        spent, sealed = act.perform(books, act.WorkPaidRequest(name, cents, paid_from, why))
        return tell_spent(books, spent, sealed.number, paid_from)


@people.command("form", help=act_of_verb("helper form").help)
@click.argument("name", metavar="NAME")
@click.argument("form", metavar="FORM")
@answers
def form(session: Session, name: str, form: str) -> Answer:
    from ledger.actions import paid_people as act

    with session.books() as books:
        party = act.keep_form(books, act.TaxFormRequest(name, form))
        return Answer({"name": party.name, "form": form}, [f"You have {form} of {party.name}."])


COMMANDS = (people,)
