"""Commands for the price list and the customers."""

from __future__ import annotations

from typing import Any, cast

import click

from ledger.books.books import Books
from ledger.books.documents import read_document
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, day_or_none, read_path
from ledger.jobs.customers import ensure_customer
from ledger.jobs.prices import add_price
from ledger.jobs.pricing import MEASURES, Measure, Price
from ledger.money import plain_decimal, read_amount, read_rate
from ledger.periods import parse_date
from ledger.taxes.certificates import Certificate, Scan, keep_certificate, newest_certificate
from ledger.text import read_text


@click.command("price", cls=Command)
@click.argument("name")
@click.option("--by", type=click.Choice(MEASURES), required=True, help="What is measured or counted.")
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
    """Put a price on the list, from a day on.

    By area: width times length. By length: the way round the piece. By inch or yard: its longer side, off the roll. By
    hour, each, flat: as many as the job says. Jobs keep the prices they were quoted.
    """
    with session.books() as books:
        minimum, allowance, from_day = given["minimum"], given["allowance"], given["from_day"]
        kept_values: dict[str, Any] = {
            "minimum_cents": read_amount(minimum, books.currency, "minimum", zero=True) if minimum is not None else 0,
            "allowance": read_rate(allowance, "allowance") if allowance is not None else None,
            "kind": kind,
            "includes_tax": includes_tax,
            "from_date": parse_date(from_day, "from") if from_day is not None else None,
        }
        value = read_rate(rate, "rate")
        with books.writing() as write:
            kept = add_price(books, write, name, cast("Measure", by), value, class_name, **kept_values)
        data = _price(books, kept)
        return Answer(data, [f"{kept.name}: {data['rate']} by {kept.by}, {kept.class_name}, from {kept.from_date}."])


@click.command("customer", cls=Command)
@click.argument("name")
@click.option("--exempt", metavar="REASON", help="Why no tax is taken, as the certificate says.")
@click.option("--certificate", metavar="NO", help="The certificate's number.")
@click.option("--state", metavar="TEXT", help="The state that gave the number.")
@click.option("--from", "from_day", metavar="DATE", help="The certificate's first day; today unless given.")
@click.option("--expires", metavar="DATE", help="The certificate's last day.")
@click.option("--document", metavar="FILE", help="A scan of the certificate to keep with it.")
@click.option("--contact", metavar="TEXT", help="Telephone or mail address.")
@answers
def customer(session: Session, name: str, exempt: str | None, contact: str | None, **given: str | None) -> Answer:
    """A customer, with an exemption certificate if need be."""
    if exempt is None and any(value is not None for value in given.values()):
        raise click.UsageError("--certificate, --state, --from, --expires and --document go with --exempt.")
    with session.books() as books:
        said_contact = read_text(contact, "contact") if contact is not None else None
        certificate = _certificate_given(given)
        with books.writing() as write:
            kept = ensure_customer(books, write, name, said_contact)
            if exempt is not None:
                keep_certificate(books, write, kept.party.id, exempt, **certificate)
        held = newest_certificate(books, kept.party.id)
        data = {"customer": kept.name, "code": kept.code, "contact": kept.party.contact, "exempt": _certificate(held)}
        lines = [f"{kept.name} is customer {kept.code}."]
        if held is not None and not held.is_valid(session.today):
            lines.append("The certificate has no number or is not valid today, so tax is taken as from anyone.")
        return Answer(data, lines)


def _certificate_given(given: dict[str, str | None]) -> dict[str, Any]:
    from_day, expires, document = given["from_day"], given["expires"], given["document"]
    path = read_path(document, "document") if document is not None else None
    return {
        "number": given["certificate"],
        "expires": parse_date(expires, "expires") if expires is not None else None,
        "state": given["state"],
        "from_date": parse_date(from_day, "from") if from_day is not None else None,
        "scan": Scan(read_document(path), path.name) if path is not None else None,
    }


def _price(books: Books, price: Price) -> dict[str, Any]:
    amount = amount_in(books.currency)
    return {
        "name": price.name,
        "by": price.by,
        "rate": plain_decimal(price.rate, books.currency.decimals),
        "class": price.class_name,
        "minimum": amount(price.minimum_cents),
        "allowance": plain_decimal(price.allowance),
        "kind": price.kind,
        "includes_tax": price.includes_tax,
        "from": price.from_date.isoformat(),
    }


def _certificate(held: Certificate | None) -> dict[str, Any] | None:
    if held is None:
        return None
    return {
        "reason": held.reason,
        "certificate": held.number,
        "state": held.state,
        "from": held.from_date.isoformat(),
        "expires": day_or_none(held.expires),
        "document": held.document,
    }


COMMANDS = (price, customer)
