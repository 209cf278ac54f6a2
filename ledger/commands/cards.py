"""Commands for card money: what is on its way, and the payout that brings it."""

from __future__ import annotations

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Group, Session, amount_in, answers
from ledger.money import read_amount
from ledger.periods import parse_date


@click.group("card", cls=Group)
def card() -> None:
    """Card payments: income in full, the fee an expense.

    The money comes later, with a payout.
    """


@card.command("list")
@answers
def list_open(session: Session) -> Answer:
    """The card payments that no payout has covered yet."""
    from ledger.jobs.payouts import card_money

    with session.books() as books:
        amount = amount_in(books.currency)
        found = card_money(books, session.today, session.today)
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
@click.option("--taken", is_flag=True, help="The company took it out of checking, for what went back by card.")
@answers
def payout(session: Session, amount: str, through: str | None, taken: bool) -> Answer:
    from ledger.actions import card_payout

    with session.books() as books:
        last_day = parse_date(through, "through") if through is not None else None
        cents = read_amount(amount, books.currency, "amount")
        done, sealed = card_payout.perform(books, card_payout.PayoutRequest(cents, last_day, taken))
        shown, count = amount_in(books.currency), len(done.covered)
        data = {
            "entry": sealed.number,
            "payments": count,
            "expected": shown(done.expected_cents),
            "fee": shown(done.fee_cents),
        }
        covered = f"{count} payment{'s' if count > 1 else ''} of {data['expected']}"
        return Answer(data, [f"Entry {sealed.number} covers {covered}; the fee is {data['fee']}."])


COMMANDS = (card,)
