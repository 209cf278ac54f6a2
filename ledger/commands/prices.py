"""The command for the price list."""

from __future__ import annotations

from typing import Any, cast

import click

from ledger.actions import set_price
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.jobs.pricing import MEASURES, Measure, Price
from ledger.money import Currency, plain_decimal, read_amount, read_rate
from ledger.periods import parse_date

_BY_HELP = (
    "Area: width times length. Length: the way round the piece. Inch or yard: its longer side, off the roll. "
    "Hour, each, flat: as many as the job says."
)


@click.command("price", cls=Command)
@click.argument("name")
@click.option("--by", type=click.Choice(MEASURES), required=True, help=_BY_HELP)
@click.option("--rate", metavar="AMOUNT", required=True, help="The price of one of these.")
@click.option("--class", "class_name", metavar="CLASS", required=True, help="goods, work, delivery, other or your own.")
@click.option("--minimum", metavar="AMOUNT", help="The least that a line comes to.")
@click.option("--allowance", metavar="N", help="Added to the length that is measured; batting has 8 in.")
@click.option("--kind", type=click.Choice(["binding", "batting"]), help="Read from the name unless given.")
@click.option("--includes-tax", is_flag=True, help="The price has the sales tax in it.")
@click.option("--from", "from_day", metavar="DATE", help="The first day on which it holds; today unless given.")
@answers
def price(
    session: Session, name: str, by: str, rate: str, class_name: str, kind: str | None, includes_tax: bool, **given: Any
) -> Answer:
    """Put a price on the list, from a day on. Jobs keep the prices they were quoted."""
    with session.books() as books:
        minimum, allowance, from_day = given["minimum"], given["allowance"], given["from_day"]
        request = set_price.PriceRequest(
            name=name,
            by=cast("Measure", by),
            rate=read_rate(rate, "rate"),
            class_name=class_name,
            minimum_cents=read_amount(minimum, books.currency, "minimum", zero=True) if minimum is not None else 0,
            allowance=read_rate(allowance, "allowance") if allowance is not None else None,
            kind=kind,
            includes_tax=includes_tax,
            from_date=parse_date(from_day, "from") if from_day is not None else None,
        )
        kept = set_price.perform(books, request)
        data = _price(books.currency, kept)
        return Answer(data, [f"{kept.name}: {data['rate']} by {kept.by}, {kept.class_name}, from {kept.from_date}."])


def _price(currency: Currency, price: Price) -> dict[str, Any]:
    amount = amount_in(currency)
    return {
        "name": price.name,
        "by": price.by,
        "rate": plain_decimal(price.rate, currency.decimals),
        "class": price.class_name,
        "minimum": amount(price.minimum_cents),
        "allowance": plain_decimal(price.allowance),
        "kind": price.kind,
        "includes_tax": price.includes_tax,
        "from": price.from_date.isoformat(),
    }


COMMANDS = (price,)
