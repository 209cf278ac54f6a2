"""Commands for gift certificates: sold, and which are still out."""

from __future__ import annotations

from typing import cast

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Group, Session, amount_in, answers
from ledger.jobs.payments import WAYS, How
from ledger.money import read_amount
from ledger.text import read_text


@click.group("gift", cls=Group)
def gift() -> None:
    """Gift certificates: money held until they are used."""


@gift.command("sell", help=act_of_verb("gift sell").help)
@click.argument("amount", metavar="AMOUNT")
@click.option("--paid", type=click.Choice(WAYS), required=True, help="How it is paid.")
@click.option("--who", metavar="TEXT", help="Whom it is sold to.")
@click.option("--fee", metavar="AMOUNT", help="What the card company keeps, where it is known.")
@click.option("--number", "reference", metavar="TEXT", help="The check's number, or the transfer's reference.")
@answers
def sell(session: Session, amount: str, paid: str, who: str | None, fee: str | None, reference: str | None) -> Answer:
    from ledger.actions import gift as act
    from ledger.jobs.gift_certificates import UNUSED

    with session.books() as books:
        request = act.GiftRequest(
            cents=read_amount(amount, books.currency, "amount"),
            how=cast("How", paid),
            who=who,
            fee_cents=read_amount(fee, books.currency, "fee", zero=True) if fee is not None else 0,
            number=read_text(reference, "number", limit=60) if reference is not None else None,
        )
        sealed, code = act.perform(books, request)
        return Answer(
            {"entry": sealed.number, "certificate": code}, [f"Entry {sealed.number}: certificate {code}.", UNUSED]
        )


@gift.command("list")
@answers
def list_certificates(session: Session) -> Answer:
    """Every certificate, and what is left on it."""
    from ledger.jobs.gift_certificates import UNUSED, read_certificates

    with session.books() as books:
        amount = amount_in(books.currency)
        certificates = [
            {
                "certificate": each.code,
                "sold_on": each.sold_on.isoformat(),
                "amount": amount(each.sold_cents),
                "left": amount(each.left_cents),
                "who": each.holder,
            }
            for each in read_certificates(books)
        ]
        lines = [
            f"{each['certificate']}  {each['sold_on']}  {each['left']:>10} of {each['amount']}" for each in certificates
        ]
        return Answer({"certificates": certificates}, [*(lines or ["No certificate was sold yet."]), UNUSED])


@gift.command("show")
@click.argument("code", metavar="NO")
@answers
def show(session: Session, code: str) -> Answer:
    """What is left on one certificate, and where it was used.

    NO is its number, such as G-1001-05.
    """
    from ledger.jobs.gift_certificates import UNUSED, certificate_of, read_movements

    with session.books() as books:
        amount, found = amount_in(books.currency), certificate_of(books, code)
        movements = [
            {"date": each.on.isoformat(), "entry": each.entry, "job": each.job, "amount": amount(each.cents)}
            for each in read_movements(books, found)
        ]
        data = {
            "certificate": found.code,
            "sold_on": found.sold_on.isoformat(),
            "amount": amount(found.sold_cents),
            "left": amount(found.left_cents),
            "who": found.holder,
            "movements": movements,
        }
        lines = [f"{found.code}: {data['left']} left of {data['amount']}."]
        lines += [f"  {each['date']}  entry {each['entry']}  {each['amount']:>10}" for each in movements]
        return Answer(data, [*lines, UNUSED])


COMMANDS = (gift,)
