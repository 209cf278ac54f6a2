"""Commands for sales tax returns: the worksheet of a period, filing it, paying it, and taking a filing back."""

from __future__ import annotations

from typing import Any

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Command, Session, answers
from ledger.money import read_amount
from ledger.periods import Period, parse_period

_PERIOD = click.argument("period", required=False)


def _period(text: str | None) -> Period | None:
    return parse_period(text) if text is not None else None


@click.command("worksheet", cls=Command, help=act_of_verb("tax worksheet").help)
@_PERIOD
@click.option("--amended", is_flag=True, help="The return as an amended one would be, where one was filed.")
@answers
def worksheet(session: Session, period: str | None, amended: bool) -> Answer:
    from ledger.commands.return_answers import return_data, return_lines
    from ledger.taxes.filing_rules import filing_period
    from ledger.taxes.returns import returns_book

    with session.books() as books:
        wanted = filing_period(books, _period(period))
        book = returns_book(books, wanted)
        found = book.open_return(wanted) if amended else book.newest_return(wanted)
        data = return_data(books, book, found)
        return Answer(data, return_lines(data))


@click.command("file", cls=Command, help=act_of_verb("tax file").help)
@_PERIOD
@click.option("--amended", is_flag=True, help="Another return for a period that was filed, with what came since.")
@answers
def file(session: Session, period: str | None, amended: bool) -> Answer:
    from ledger.actions import file_tax
    from ledger.commands.return_answers import return_data, return_lines
    from ledger.taxes.returns import ReturnsBook

    with session.books() as books:
        filed, sealed = file_tax.perform(books, file_tax.FileRequest(_period(period), amended))
        book = ReturnsBook(books)
        data = return_data(books, book, book.newest_return(filed.found.period)) | {"remarks": list(filed.remarks)}
        data["entry"] = sealed.number if sealed is not None else None
        said = f"Filed: {file_tax.shown_total(books, filed.found)}, due {filed.due_on}."
        return Answer(data, [*return_lines(data), said])


@click.command("paid", cls=Command, help=act_of_verb("tax paid").help)
@_PERIOD
@click.option("--amount", metavar="AMOUNT", help="What was paid; all that is left unless given.")
@click.option("--from", "from_name", metavar="ACCOUNT", default="checking", show_default=True, help="Paid from.")
@answers
def paid(session: Session, period: str | None, amount: str | None, from_name: str) -> Answer:
    from ledger.actions import pay_tax
    from ledger.commands.return_answers import payment_lines, return_data
    from ledger.taxes.returns import ReturnsBook

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount") if amount is not None else None
        request = pay_tax.PayRequest(_period(period), cents, from_name)
        filed, done, sealed = pay_tax.perform(books, request)
        book = ReturnsBook(books)
        now = next(each for each in book.filed if each.id == filed.id)
        data: dict[str, Any] = return_data(books, book, book.filed_return(now)) | {"entry": sealed.number}
        return Answer(data, payment_lines(books, filed.period.label, done, sealed.number))


@click.command("unfile", cls=Command, help=act_of_verb("tax unfile").help)
@_PERIOD
@click.option("--why", metavar="TEXT", required=True, help="What was wrong with it.")
@answers
def unfile(session: Session, period: str | None, why: str) -> Answer:
    from ledger.actions import file_tax
    from ledger.commands.return_answers import return_data
    from ledger.taxes.returns import ReturnsBook

    with session.books() as books:
        undone = file_tax.unfile(books, file_tax.UnfileRequest(_period(period), why))
        book = ReturnsBook(books)
        data = return_data(books, book, book.newest_return(undone))
        return Answer(data, [f"The return of {undone.label} is open again."])


TAX_COMMANDS = (worksheet, file, paid, unfile)
