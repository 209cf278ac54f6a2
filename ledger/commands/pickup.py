"""The command for pickup."""

from __future__ import annotations

from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.job_answers import unanswered_lines
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number
from ledger.errors import NotUnderstood
from ledger.jobs.payments import OWED, WAYS, PaidPart
from ledger.jobs.pickup import PickupRequest, Settlement
from ledger.money import Currency, plain_percent, read_amount
from ledger.text import read_text

_PAID_HELP = "cash, check, card, transfer, or owed for later; repeat it with amounts where it is paid in several ways."


@click.command("pickup", cls=Command, help=act_of_verb("pickup").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--paid", multiple=True, metavar="HOW[=AMOUNT]", help=_PAID_HELP)
@click.option("--tendered", metavar="AMOUNT", help="The cash handed over, for the change.")
@click.option("--number", "reference", metavar="TEXT", help="The check's number, or the transfer's reference.")
@click.option("--tip", metavar="AMOUNT", help="Given freely by the customer.")
@click.option("--fee", metavar="AMOUNT", help="What the card company keeps, where it is known.")
@click.option("--discount", metavar="AMOUNT", help="Taken off before tax.")
@click.option("--amount", metavar="AMOUNT", help="What is paid now, where the rest stays owed.")
@answers
def pickup(session: Session, number: int, paid: tuple[str, ...], reference: str | None, **given: str | None) -> Answer:
    from ledger.actions import pick_up

    with session.books() as books:
        currency = books.currency

        def cents(key: str) -> int | None:
            text = given[key]
            return read_amount(text, currency, key, zero=True) if text is not None else None

        request = PickupRequest(
            job=number,
            paid=tuple(_paid_part(each, currency) for each in paid),
            tendered_cents=cents("tendered"),
            number=read_text(reference, "number", limit=60) if reference is not None else None,
            tip_cents=cents("tip") or 0,
            fee_cents=cents("fee") or 0,
            discount_cents=cents("discount") or 0,
            amount_cents=cents("amount"),
        )
        done = pick_up.perform(books, request)
        data = _settlement(books, done.settlement)
        data["entry"] = done.entry.number if done.entry else None
        data["receipt"] = {"pdf": str(done.pdf), "text": str(done.receipt)}
        lines = [*done.receipt.read_text(encoding="utf-8").splitlines(), "", *data["warnings"]]
        lines += unanswered_lines(data["unanswered"])
        return Answer(data, [*lines, f"The receipt for paper is {done.pdf}."])


def _paid_part(text: str, currency: Currency) -> PaidPart:
    how, equals, amount = text.partition("=")
    how = how.strip().casefold()
    if how not in (*WAYS, OWED):
        raise NotUnderstood(f"«{how}» is no way of paying.", f"Say {', '.join(WAYS)} or {OWED}.", "paid")
    return PaidPart(how, read_amount(amount, currency, "paid") if equals else None)


def _settlement(books: Books, settlement: Settlement) -> dict[str, Any]:
    amount = amount_in(books.currency)
    slip, paid = settlement.slip, settlement.paid
    return {
        "entry": None,
        "job": settlement.job.id,
        "subtotal": amount(slip.subtotal_cents),
        "discount": amount(slip.discount_cents),
        "tax": amount(slip.tax_cents),
        "taxes": [
            {
                "jurisdiction": each.rate.jurisdiction,
                "level": each.rate.level,
                "percent": plain_percent(each.rate.percent),
                "amount": amount(each.tax_cents),
            }
            for each in slip.tax.taxes
        ],
        "unanswered": list(slip.tax.unanswered),
        "tip": amount(settlement.tip_cents),
        "total": amount(settlement.total_cents),
        "deposit": amount(settlement.deposit_cents),
        "due": amount(settlement.due_cents),
        "paid": amount(paid.cents),
        "payments": [
            {
                "how": each.how,
                "amount": amount(each.cents),
                "fee": amount(each.fee_cents),
                "number": each.reference,
            }
            for each in paid.payments
        ],
        "change": amount(paid.change_cents),
        "owed": amount(paid.owed_cents),
        "warnings": list(settlement.warnings),
    }


COMMANDS = (pickup,)
