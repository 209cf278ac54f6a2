"""The command for pickup."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.commands.job_answers import unanswered_lines
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number
from ledger.errors import NotUnderstood
from ledger.jobs.payments import OWED, WAYS, How, PaidPart
from ledger.jobs.pickup import Barter, PickupRequest, Sending, Settlement
from ledger.money import Currency, plain_percent, read_amount, read_percent
from ledger.text import read_text

_PAID_HELP = "cash, check, card, transfer, or owed for later; repeat it with amounts where it is paid in several ways."


@click.command("pickup", cls=Command, help=act_of_verb("pickup").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.option("--paid", multiple=True, metavar="HOW[=AMOUNT]", help=_PAID_HELP)
@click.option("--tendered", metavar="AMOUNT", help="The cash handed over, for the change.")
@click.option("--number", "reference", metavar="TEXT", help="The check's number, or the transfer's reference.")
@click.option("--tip", metavar="AMOUNT", help="Given freely by the customer.")
@click.option("--fee", metavar="AMOUNT", help="What the card company keeps, where it is known.")
@click.option("--discount", metavar="AMOUNT", help="Taken off before tax: an amount, or a percent such as 10%.")
@click.option("--coupon", metavar="TEXT", help="Why there is a discount.")
@click.option("--gift", "gifts", multiple=True, metavar="NO", help="A gift certificate that pays what it holds.")
@click.option("--barter", metavar="CATEGORY=AMOUNT", help="Goods taken for the work, at the value agreed.")
@click.option("--what", metavar="TEXT", help="What the goods are.")
@click.option("--deposit-back", type=click.Choice(WAYS), help="Hand back a deposit above the total; else it is held.")
@click.option("--sent", is_flag=True, help="The piece goes home by post.")
@click.option("--place", metavar="TEXT", help="Where to, if your state taxes it where it arrives.")
@click.option("--carrier", metavar="TEXT", help="Who carries it.")
@click.option("--tracking", metavar="TEXT", help="Its number there.")
@click.option("--insured", metavar="AMOUNT", help="The value that it is insured for.")
@click.option("--amount", metavar="AMOUNT", help="What is paid now, where the rest stays owed.")
@answers
def pickup(session: Session, number: int, paid: tuple[str, ...], gifts: tuple[str, ...], **given: Any) -> Answer:
    from ledger.actions import pick_up

    with session.books() as books:
        done = pick_up.perform(books, _request(books, number, paid, gifts, given))
        data = _settlement(books, done.settlement)
        data["entry"] = done.entry.number if done.entry else None
        data["receipt"] = {"pdf": str(done.pdf), "text": str(done.receipt)}
        lines = [*done.receipt.read_text(encoding="utf-8").splitlines(), "", *data["warnings"]]
        lines += unanswered_lines(data["unanswered"])
        return Answer(data, [*lines, f"The receipt for paper is {done.pdf}."])


def _request(
    books: Books, number: int, paid: tuple[str, ...], gifts: tuple[str, ...], given: dict[str, Any]
) -> PickupRequest:
    currency = books.currency

    def cents(key: str) -> int | None:
        return read_amount(given[key], currency, key, zero=True) if given[key] is not None else None

    def words(key: str, limit: int = 120) -> str | None:
        return read_text(given[key], key, limit=limit) if given[key] is not None else None

    in_percent = (given["discount"] or "").strip().endswith("%")
    return PickupRequest(
        job=number,
        paid=tuple(_paid_part(each, currency) for each in paid),
        tendered_cents=cents("tendered"),
        number=words("reference", 60),
        tip_cents=cents("tip") or 0,
        fee_cents=cents("fee") or 0,
        discount_cents=0 if in_percent else cents("discount") or 0,
        amount_cents=cents("amount"),
        discount_percent=read_percent(given["discount"], "discount") if in_percent else Decimal(0),
        coupon=words("coupon"),
        gifts=gifts,
        deposit_back=cast("How | None", given["deposit_back"]),
        barter=_barter(books, given["barter"], words("what")),
        sending=_sending(given, words, cents("insured") or 0),
    )


def _barter(books: Books, text: str | None, what: str | None) -> Barter | None:
    if text is None:
        return None
    name, equals, amount = text.partition("=")
    if not equals or what is None:
        raise NotUnderstood(
            "Barter needs a category, its value, and what it is.",
            "Such as --barter backing=63.18 --what cotton.",
            "barter",
        )
    account = read_accounts(books).category(name, "barter", day=books.today)
    return Barter(account, read_amount(amount, books.currency, "barter"), what)


def _sending(given: dict[str, Any], words: Callable[[str], str | None], insured_cents: int) -> Sending | None:
    told = Sending(words("place"), words("carrier"), words("tracking"), insured_cents)
    if told != Sending() and not given["sent"]:
        raise NotUnderstood("Place, carrier, tracking and insurance go with --sent.", "Say --sent as well.", "sent")
    return told if given["sent"] else None


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
        "taxes": _taxes(settlement, amount),
        "unanswered": list(slip.tax.unanswered),
        "tip": amount(settlement.tip_cents),
        "total": amount(settlement.total_cents),
        "deposit": amount(settlement.deposit_cents),
        "deposit_back": amount(settlement.deposit_back_cents),
        "due": amount(settlement.due_cents),
        "paid": amount(settlement.paid_cents),
        "payments": _payments(settlement, amount),
        "gifts": _gifts(settlement, amount),
        "barter": amount(settlement.barter_cents),
        "change": amount(paid.change_cents),
        "owed": amount(paid.owed_cents),
        "warnings": list(settlement.warnings),
    }


def _taxes(settlement: Settlement, amount: Callable[[int], str]) -> list[dict[str, Any]]:
    return [
        {
            "jurisdiction": each.rate.jurisdiction,
            "level": each.rate.level,
            "percent": plain_percent(each.rate.percent),
            "amount": amount(each.tax_cents),
        }
        for each in settlement.slip.tax.taxes
    ]


def _payments(settlement: Settlement, amount: Callable[[int], str]) -> list[dict[str, Any]]:
    return [
        {"how": each.how, "amount": amount(each.cents), "fee": amount(each.fee_cents), "number": each.reference}
        for each in settlement.paid.payments
    ]


def _gifts(settlement: Settlement, amount: Callable[[int], str]) -> list[dict[str, Any]]:
    return [
        {
            "certificate": each.certificate.code,
            "amount": amount(each.cents),
            "left": amount(each.certificate.left_cents - each.cents),
        }
        for each in settlement.gifts
    ]


COMMANDS = (pickup,)
