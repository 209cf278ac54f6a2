"""A command for what her accountant chose for the figures of the return."""

from __future__ import annotations

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.results.home import METHODS
from ledger.results.method import ReturnMethod, read_method
from ledger.text import read_name


@click.command("return-method", cls=Command, help=act_of_verb("return-method").help)
@click.option("--home", type=click.Choice(METHODS), help="How the home's part is worked out.")
@click.option("--figure", metavar="AMOUNT", help="Your accountant's figure for the home, for the year.")
@click.option("--cost-of-goods", type=click.Choice(("yes", "no")), help="Whether a cost of goods sold is wanted.")
@click.option("--sales-tax-laid-on", type=click.Choice(("buyer", "seller")), help="Whose tax the law says it is.")
@click.option("--asked", metavar="WHOM", help="Who chose it.")
@answers
def return_method(
    session: Session,
    home: str | None,
    figure: str | None,
    cost_of_goods: str | None,
    sales_tax_laid_on: str | None,
    asked: str | None,
) -> Answer:
    """Without options: what holds now."""
    from ledger.actions import choose_method as act

    with session.books() as books:
        if (home, figure, cost_of_goods, sales_tax_laid_on) == (None, None, None, None):
            held = read_method(books, books.today)
        else:
            if asked is None:
                raise click.UsageError("Say with --asked who chose it.")
            wanted = None if cost_of_goods is None else cost_of_goods == "yes"
            who = read_name(asked, "asked")
            held = act.perform(books, act.MethodRequest(who, home, figure, wanted, sales_tax_laid_on))
        return _answer(books, held)


def _answer(books: Books, held: ReturnMethod) -> Answer:
    data = {
        "home": held.home,
        "home_figure": amount_in(books.currency)(held.home_figure_cents) if held.home == "figure" else None,
        "cost_of_goods": held.wants_cost_of_goods,
        "sales_tax_laid_on": held.tax_laid_on,
    }
    home = f"by the method «{held.home}»" if held.home else "nobody was asked yet, so as it was booked"
    goods = "wanted" if held.wants_cost_of_goods else "not wanted"
    return Answer(
        data,
        [
            f"The home: {home}.",
            f"Cost of goods sold: {goods}.",
            f"Sales tax is laid on the {held.tax_laid_on}.",
            "Your accountant decides all three.",
        ],
    )


COMMANDS = (return_method,)
