"""The command for what was bought before the business began."""

from __future__ import annotations

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.money import read_amount


@click.command("bring-in", cls=Command, help=act_of_verb("bring-in").help)
@click.argument("cost", metavar="COST")
@click.option("--worth", metavar="AMOUNT", required=True, help="What it is worth today.")
@click.option("--what", metavar="TEXT", required=True, help="What it is.")
@click.option("--category", metavar="NAME", help="Supplies go to a category; without one it is the machine.")
@answers
def bring_in(session: Session, cost: str, worth: str, what: str, category: str | None) -> Answer:
    from ledger.actions import bring_in as act

    with session.books() as books:
        request = act.BringInRequest(
            what=what,
            cost_cents=read_amount(cost, books.currency, "cost"),
            worth_cents=read_amount(worth, books.currency, "worth"),
            category=category,
        )
        sealed = act.perform(books, request)
        entered = amount_in(books.currency)(min(request.cost_cents, request.worth_cents))
        said = "Which value counts for tax, your accountant decides."
        return Answer(
            {"entry": sealed.number, "entered": entered}, [f"Entry {sealed.number}: {what} at {entered}.", said]
        )


COMMANDS = (bring_in,)
