"""Commands for the worksheets of the set-up list: prices near you, and machines side by side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from checklists.worksheet_lines import EACH_SETS_HER_OWN, machine_lines, price_lines, rounded
from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_path
from ledger.money import plain_decimal

if TYPE_CHECKING:
    from collections.abc import Callable

    from checklists.worksheets import ComparedOffer, PriceStanding


@click.command("prices", cls=Command, help=act_of_verb("setup prices").help)
@click.argument("file")
@answers
def prices(session: Session, file: str) -> Answer:
    from checklists.worksheet_files import read_seen_prices
    from checklists.worksheets import price_standing

    found = [price_standing(each) for each in read_seen_prices(read_path(file, "file"))]
    lines = [line for each in found for line in price_lines(each)]
    return Answer({"work": [_standing(each) for each in found]}, [*lines, EACH_SETS_HER_OWN])


@click.command("machines", cls=Command, help=act_of_verb("setup machines").help)
@click.argument("file")
@answers
def machines(session: Session, file: str) -> Answer:
    from checklists.worksheet_files import read_offers
    from checklists.worksheets import compare_offers

    with session.books() as books:
        amount = amount_in(books.currency)
        compared = compare_offers(read_offers(read_path(file, "file"), books.currency))
        data = {"machines": [_machine(each, amount) for each in compared]}
        return Answer(data, [line for each in compared for line in machine_lines(each, amount)])


def _standing(found: PriceStanding) -> dict[str, Any]:
    return {
        "what": found.prices.what,
        "unit": found.prices.unit,
        "prices": len(found.prices.seen),
        "lowest": plain_decimal(found.lowest),
        "lower_quarter": rounded(found.lower),
        "median": rounded(found.median),
        "upper_quarter": rounded(found.upper),
        "highest": plain_decimal(found.highest),
        "mine": None if found.prices.mine is None else plain_decimal(found.prices.mine),
        "below_mine": found.below,
        "above_mine": found.above,
        "from_median": rounded(found.from_median_percent, 2),
    }


def _machine(compared: ComparedOffer, amount: Callable[[int], str]) -> dict[str, Any]:
    offer = compared.offer
    return {
        "name": offer.name,
        "total": amount(offer.total_cents),
        "above_cheapest": amount(compared.above_cheapest_cents),
        "costs": [{"what": what, "amount": amount(cents)} for what, cents in offer.costs],
        "facts": [{"what": what, "fact": fact} for what, fact in offer.facts],
        "not_told": list(compared.not_told),
    }


COMMANDS = (prices, machines)
