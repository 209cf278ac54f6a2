"""Commands that agree an account with its statement, and the cash box with what lies in it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number
from ledger.money import Currency, read_amount
from ledger.periods import parse_date

if TYPE_CHECKING:
    from ledger.actions.agree import Agreed
    from ledger.bank.agreeing import BookItem


@click.command("agree", cls=Command, help=act_of_verb("statement agree").help)
@click.option("--account", metavar="NAME", required=True, help="The account.")
@click.option("--ending", metavar="AMOUNT", required=True, help="The balance on the statement; of a card what is owed.")
@click.option("--date", "day", metavar="DATE", help="The day of the statement; today unless given.")
@click.option(
    "--open",
    "told_open",
    metavar="ENTRY",
    type=read_number,
    multiple=True,
    help="An entry that the bank has not seen yet, where no statement was read that would show it; it repeats.",
)
@click.option("--overdrawn", is_flag=True, help="The balance is below zero; a card is in your favour.")
@answers
def agree(
    session: Session, account: str, ending: str, day: str | None, told_open: tuple[int, ...], overdrawn: bool
) -> Answer:
    from ledger.actions import agree as act

    with session.books() as books:
        cents = read_amount(ending, books.currency, "ending", zero=True)
        on = parse_date(day, "date") if day is not None else None
        done = act.perform(books, act.AgreeRequest(account, cents, overdrawn, on, told_open))
        data = _data(done, books.currency)
        return Answer(data, _told(done, data))


@click.command("count", cls=Command, help=act_of_verb("statement count").help)
@click.argument("amount", metavar="AMOUNT")
@answers
def count(session: Session, amount: str) -> Answer:
    from ledger.actions import agree as act

    with session.books() as books:
        done = act.count(books, act.CountRequest(read_amount(amount, books.currency, "amount", zero=True)))
        data = _data(done, books.currency) | {
            "counted": amount_in(books.currency)(done.found.ending_cents),
            "over": amount_in(books.currency)(done.over_cents),
            "entry": done.entry,
        }
        word = "over" if done.over_cents > 0 else "short"
        off = amount_in(books.currency)(abs(done.over_cents))
        said = f"{off} {word}: entry {done.entry}." if done.entry else "The cash box has what the books have."
        return Answer(data, [said, f"Kept as agreement {done.number}, on paper {done.pdf}."])


@click.command("agreements", cls=Command)
@answers
def agreements(session: Session) -> Answer:
    """What was agreed, and whether anything under it changed since."""
    from ledger.bank.agreements import read_agreements

    with session.books() as books:
        amount = amount_in(books.currency)
        found: list[dict[str, Any]] = [
            {
                "agreement": each.id,
                "account": each.account,
                "date": each.day.isoformat(),
                "ending": amount(each.ending_cents),
                "made_on": each.made_on.isoformat(),
                "head": each.head,
                "entry": each.entry,
                "holds": not each.changed,
                "changed": list(each.changed),
            }
            for each in read_agreements(books)
        ]
        lines = [
            f"{each['agreement']:>4}  {each['date']}  {each['account']:<20}  {each['ending']:>11}  "
            + ("holds" if each["holds"] else " ".join(each["changed"]))
            for each in found
        ]
        return Answer({"agreements": found}, lines or ["Nothing was agreed yet."])


def _data(done: Agreed, currency: Currency) -> dict[str, Any]:
    amount, found = amount_in(currency), done.found
    return {
        "account": found.account,
        "date": found.day.isoformat(),
        "ending": amount(found.ending_cents),
        "in_transit": [_item(each, currency) for each in found.in_transit],
        "in_transit_total": amount(found.in_transit_cents),
        "outstanding": [_item(each, currency) for each in found.outstanding],
        "outstanding_total": amount(found.outstanding_cents),
        "adjusted": amount(found.adjusted_cents),
        "balance": amount(found.balance_cents),
        "difference": amount(found.difference_cents),
        "to_enter": [
            {"line": each.line, "date": each.day.isoformat(), "text": each.words, "amount": amount(each.cents)}
            for each in found.to_enter
        ],
        "agreed": done.number is not None,
        "agreement": done.number,
        "behind": list(done.behind),
        "pdf": str(done.pdf) if done.pdf is not None else None,
        "text": str(done.text) if done.text is not None else None,
    }


def _item(item: BookItem, currency: Currency) -> dict[str, Any]:
    """Above zero both ways: the list says which way it goes."""
    return {
        "entry": item.entry,
        "date": item.day.isoformat(),
        "text": item.words,
        "amount": amount_in(currency)(abs(item.cents)),
    }


def _told(done: Agreed, data: dict[str, Any]) -> list[str]:
    lines = [f"{data['account']} on {data['date']}", f"{'Balance on the statement':<32}{data['ending']:>12}"]
    for word, sign in (("in_transit", "+"), ("outstanding", "-")):
        lines += [
            f"  {sign} entry {each['entry']:<5} {each['text'][:18]:<18}{each['amount']:>12}" for each in data[word]
        ]
    lines += [
        f"{'Adjusted balance':<32}{data['adjusted']:>12}",
        f"{'Balance of the books':<32}{data['balance']:>12}",
        f"{'Difference':<32}{data['difference']:>12}",
    ]
    if done.number is not None:
        return [*lines, f"It agrees. Kept as agreement {done.number}, on paper {done.pdf}."]
    return [*lines, "It does not agree yet, and nothing was kept.", *done.behind]
