"""The command for what stood there when the books began."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal
from typing import TypeVar

import click

from ledger.actions.registry import act_of_verb
from ledger.books.before_books import Figure, read_figures
from ledger.books.books import Books
from ledger.books.entries import read_entry
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.money import read_amount, read_percent, read_quantity
from ledger.periods import parse_date

Read = TypeVar("Read")


@click.command("opening", cls=Command, help=act_of_verb("opening").help)
@click.option("--checking", metavar="AMOUNT", help="In the bank; takes the place of what «new» was told.")
@click.option("--cash-box", metavar="AMOUNT", help="In the cash box.")
@click.option("--tax-savings", metavar="AMOUNT", help="In the savings kept for taxes.")
@click.option("--card-settlements", metavar="AMOUNT", help="Card money on its way, without the fees.")
@click.option("--workshop-card", metavar="AMOUNT", help="Owed on the workshop card.")
@click.option("--owed-to-owner", metavar="AMOUNT", help="What the workshop owed to you.")
@click.option("--debts", metavar="LIST", help="Owed by customers, tax in it: «Ada Brook 120.50; Ben 40 tax 2.01».")
@click.option("--deposits", metavar="LIST", help="«Cara, Fan quilt, 60x80, 50; job 3 25»; also «value 400», «booked».")
@click.option("--certificates", metavar="LIST", help="Gift certificates out, number and what is left: «17 50; 18 25».")
@click.option("--sales-tax", metavar="LIST", help="Collected and in no return: one sum, or «state 43; county 10».")
@click.option("--taxable", metavar="AMOUNT", help="The taxable sales behind it, without the tax.")
@click.option("--gross", metavar="AMOUNT", help="All sales of those days; the taxable ones unless given.")
@click.option("--income", metavar="LIST", help="Received this year before the books: «job income 8200; tips 120».")
@click.option("--expenses", metavar="LIST", help="Paid this year before the books: «thread 310; batting 1200».")
@click.option("--estimated", metavar="LIST", help="Estimated tax of this year, by period: «1 400; 2 400».")
@click.option("--machine-cost", metavar="AMOUNT", help="What the workshop paid for the machine.")
@click.option("--machine-came", metavar="DATE", help="The day on which it came.")
@click.option("--taken-in", metavar="AMOUNT", help="All that work took in since then, before the books.")
@click.option("--earned", metavar="AMOUNT", help="What of it was earned towards the machine.")
@click.option("--loan", metavar="AMOUNT", help="What is left of the machine's loan.")
@click.option("--loan-percent", metavar="PERCENT", help="Its rate of a year.")
@click.option("--loan-payment", metavar="AMOUNT", help="Its monthly payment.")
@click.option("--loan-next", metavar="DATE", help="The day of the next one.")
@click.option("--lender", metavar="NAME", help="Who lent it.")
@answers
def opening(session: Session, **given: str | None) -> Answer:
    from ledger.actions import opening as act
    from ledger.actions.opening_told import opening_told

    with session.books() as books:
        if all(each is None for each in given.values()):
            return _told(books)
        done, sealed = act.perform(books, opening_told(_Options(books, given)))
        return _answer(books, [each.number for each in sealed], done.undone, done.figures)


class _Options:
    """The options as texts: a point for decimals, days as 2026-06-15."""

    def __init__(self, books: Books, given: dict[str, str | None]) -> None:
        self.books = books
        self.given = given

    def text(self, field: str) -> str:
        return self.given[field] or ""

    def read(self, field: str, reader: Callable[[str], Read], instead: Read) -> Read:
        return reader(self.text(field))

    def amount(self, text: str, field: str, *, zero: bool) -> int:
        return read_amount(text, self.books.currency, field, zero=zero)

    def number(self, text: str, field: str) -> Decimal:
        return read_quantity(text, field)

    def percent(self, text: str, field: str) -> Decimal:
        return read_percent(text, field)

    def day(self, text: str, field: str) -> date:
        return parse_date(text, field)


def _told(books: Books) -> Answer:
    """What was told and stands; nothing is done."""
    from ledger.actions.opening_standing import told_entries

    return _answer(books, told_entries(books), (), read_figures(books))


def _answer(books: Books, entries: Sequence[int], undone: Sequence[int], figures: Sequence[Figure]) -> Answer:
    amount = amount_in(books.currency)
    sealed = [read_entry(books, number) for number in entries]
    data = {
        "date": books.settings.begun_on.isoformat(),
        "entries": [
            {
                "entry": each.number,
                "text": each.text,
                "postings": [
                    {"account": line.account.name, "purse": line.account.purse, "amount": amount(line.cents)}
                    for line in each.postings
                ],
            }
            for each in sealed
        ],
        "undone": list(undone),
        "figures": [
            {
                "what": each.what,
                "account": each.account.name if each.account is not None else None,
                "period": each.period,
                "amount": amount(each.cents),
            }
            for each in figures
        ],
    }
    lines = [f"Entry {number} is undone: what it told is told anew." for number in undone]
    lines += [f"Entry {each.number}: {each.text}, {amount(each.moved_cents)}." for each in sealed]
    lines += [f"Kept as a figure: {each.words}, {amount(each.cents)}." for each in figures]
    return Answer(data, lines or ["Nothing is told of what stood there when the books began."])


COMMANDS = (opening,)
