"""Commands for card money: what is on its way, and the payout that brings it."""

from __future__ import annotations

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Group, Session, amount_in, answers
from ledger.money import read_amount
from ledger.periods import parse_date


@click.group("card", cls=Group)
def card() -> None:
    """Card payments: the gross is income, the fee an expense, the money comes later."""


@card.command("list")
@answers
def list_open(session: Session) -> Answer:
    """The card payments that no payout has covered yet."""
    from ledger.jobs.payouts import card_money

    with session.books() as books:
        amount = amount_in(books.currency)
        found = card_money(books, session.today)
        open_payments = [
            {"payment": each.payment, "date": each.day.isoformat(), "job": each.job, "amount": amount(each.cents)}
            for each in found
        ]
        total = amount(sum(each.cents for each in found))
        lines = [f"{each['date']}  job {each['job']}  {each['amount']:>10}" for each in open_payments]
        return Answer({"payments": open_payments, "total": total}, [*lines, f"On its way: {total}."])


@card.command("payout", help=act_of_verb("card payout").help)
@click.argument("amount", metavar="AMOUNT")
@click.option("--through", metavar="DATE", help="The last day whose payments it covers; every one unless given.")
@answers
def payout(session: Session, amount: str, through: str | None) -> Answer:
    from ledger.actions import card_payout

    with session.books() as books:
        last_day = parse_date(through, "through") if through is not None else None
        request = card_payout.PayoutRequest(read_amount(amount, books.currency, "amount"), last_day)
        done, sealed = card_payout.perform(books, request)
        shown = amount_in(books.currency)
        data = {
            "entry": sealed.number,
            "payments": len(done.covered),
            "expected": shown(done.expected_cents),
            "fee": shown(done.fee_cents),
        }
        said = (
            f"Entry {sealed.number} covers {data['payments']} payments of {data['expected']}; the fee is {data['fee']}."
        )
        return Answer(data, [said])


COMMANDS = (card,)
