"""Commands for what goes out, and for what passes between accounts and between the purses."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from ledger.actions.registry import act_of_verb
from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.books.documents import odd_file
from ledger.books.entries import read_entry
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number, read_path
from ledger.errors import NotUnderstood
from ledger.jobs.records import read_job
from ledger.money import read_amount
from ledger.periods import parse_date
from ledger.spending.spend import Spent
from ledger.text import shown

_Call = TypeVar("_Call", bound=Callable[..., Any])


def _account(option: str, usual: str, purse: str) -> Callable[[_Call], _Call]:
    """--from or --to of a purse, with the account that it usually is."""
    name = f"{option.removeprefix('--')}_account"
    said = f"An account of the {purse}."
    return click.option(option, name, metavar="ACCOUNT", default=usual, show_default=True, help=said)


@click.command("spend", cls=Command, help=act_of_verb("spend").help)
@click.argument("amount")
@click.option("--category", metavar="NAME", required=True, help="What it was for, such as thread.")
@click.option("--from", "paid_from", required=True, metavar="ACCOUNT", help="What it was paid from, of either purse.")
@click.option("--who", metavar="NAME", required=True, help="The shop, or whoever was paid.")
@click.option("--home", metavar="AMOUNT", help="The part of the receipt that was for the household.")
@click.option("--also", multiple=True, metavar="CATEGORY=AMOUNT", help="A further category on the receipt; it repeats.")
@click.option("--tax", metavar="AMOUNT", help="Its sales tax, where the parts were read off before tax.")
@click.option("--back", "is_back", is_flag=True, help="The shop gives it back.")
@click.option("--contributed", is_flag=True, help="Paid by the household as a contribution, whatever you chose.")
@click.option("--owed", is_flag=True, help="Paid by the household, and the workshop owes it back.")
@click.option("--untaxed", is_flag=True, help="Stock bought without sales tax; the program keeps track of it.")
@click.option("--document", metavar="FILE", help="A photograph or scan to keep with the entry.")
@click.option("--why", metavar="TEXT", help="A few words for the entry.")
@click.option("--belongs-on", metavar="DATE", help="The receipt's own day, where that period is closed by now.")
@answers
def spend(session: Session, amount: str, also: tuple[str, ...], **given: Any) -> Answer:
    from ledger.actions import spend as act

    if given["owed"] and given["contributed"]:
        raise click.UsageError("--owed and --contributed exclude each other.")
    with session.books() as books:
        home, tax, document = given["home"], given["tax"], given["document"]
        request = act.SpendRequest(
            amount_cents=read_amount(amount, books.currency, "amount"),
            category=given["category"],
            paid_from=given["paid_from"],
            who=given["who"],
            home_cents=read_amount(home, books.currency, "home", zero=True) if home is not None else 0,
            owed=True if given["owed"] else False if given["contributed"] else None,
            untaxed=given["untaxed"],
            why=given["why"],
            document=read_path(document, "document") if document is not None else None,
            also=tuple(_also(each, books) for each in also),
            tax_cents=read_amount(tax, books.currency, "tax", zero=True) if tax is not None else 0,
            is_back=given["is_back"],
            belongs_on=parse_date(given["belongs_on"], "belongs_on") if given["belongs_on"] is not None else None,
        )
        spent, sealed = act.perform(books, request)
        return _with_remark(tell_spent(books, spent, sealed.number, request.paid_from), request.document)


def _with_remark(told: Answer, document: Path | None) -> Answer:
    """What was booked, and what is odd about the name of the document."""
    remark = odd_file(document) if document is not None else None
    return Answer({**told.data, "remark": remark}, [*told.lines, *([remark] if remark else [])])


def tell_spent(books: Books, spent: Spent, entry: int, paid_from: str) -> Answer:
    amount_of = amount_in(books.currency)
    crossing = {"kind": spent.crossing.kind, "amount": amount_of(spent.crossing.cents)} if spent.crossing else None
    data = {
        "entry": entry,
        "business": amount_of(spent.business_cents),
        "personal": amount_of(spent.personal_cents),
        "crossing": crossing,
        "parts": [{"category": each.category.name, "amount": amount_of(each.cents)} for each in spent.parts],
    }
    lines = [f"Entry {entry}: workshop {data['business']}, household {data['personal']}."]
    lines += [f"Between the purses: {crossing['kind']} {crossing['amount']}."] if crossing else []
    return Answer(data, [*lines, *overdrawn(books, paid_from)])


def _also(text: str, books: Books) -> tuple[str, int]:
    name, equals, amount = text.partition("=")
    if not equals:
        raise NotUnderstood(f"«{shown(text)[:40]}» has no amount.", "Say --also CATEGORY=AMOUNT.", "also")
    return name, read_amount(amount, books.currency, "also")


@click.command(
    "household-pays",
    cls=Command,
    help=act_of_verb("household-pays").help,
)
@click.argument("choice", metavar="HOW", type=click.Choice(["owed", "contribution"]))
@answers
def household_pays(session: Session, choice: str) -> Answer:
    from ledger.actions.spend import choose_what_household_pays

    with session.books() as books:
        choose_what_household_pays(books, choice)
        said = "is owed back to you" if choice == "owed" else "is a contribution"
        return Answer({"household_pays": choice}, [f"From now on, what the household pays for the workshop {said}."])


@click.command("open-household", cls=Command, help=act_of_verb("open-household").help)
@click.argument("amount")
@click.option(
    "--account",
    metavar="ACCOUNT",
    default="household checking",
    show_default=True,
    help="Or the personal card, with what is owed on it.",
)
@answers
def open_household(session: Session, amount: str, account: str) -> Answer:
    from ledger.actions import open_household as act

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount")
        sealed = act.perform(books, act.HouseholdOpeningRequest(cents, account))
        data = {"entry": sealed.number, "amount": amount_in(books.currency)(cents)}
        return Answer(data, [f"Entry {sealed.number}: «{account}» begins with {data['amount']}."])


@click.command("move", cls=Command, help=act_of_verb("move").help)
@click.argument("amount")
@click.argument("from_account", metavar="FROM")
@click.argument("to_account", metavar="TO")
@click.option("--why", metavar="TEXT", help="A few words for the entry.")
@answers
def move(session: Session, amount: str, from_account: str, to_account: str, why: str | None) -> Answer:
    return _transfer(session, "move", amount, from_account, to_account, why)


@click.command("draw", cls=Command, help=act_of_verb("draw").help)
@click.argument("amount")
@_account("--from", "checking", "workshop")
@_account("--to", "household checking", "household")
@click.option("--why", metavar="TEXT", help="A few words for the entry.")
@answers
def draw(session: Session, amount: str, from_account: str, to_account: str, why: str | None) -> Answer:
    return _transfer(session, "draw", amount, from_account, to_account, why)


@click.command("put-in", cls=Command, help=act_of_verb("put-in").help)
@click.argument("amount")
@_account("--from", "household checking", "household")
@_account("--to", "checking", "workshop")
@click.option("--why", metavar="TEXT", help="A few words for the entry.")
@answers
def put_in(session: Session, amount: str, from_account: str, to_account: str, why: str | None) -> Answer:
    return _transfer(session, "put-in", amount, from_account, to_account, why)


@click.command("pay-back", cls=Command, help=act_of_verb("pay-back").help)
@click.argument("amount", required=False)
@_account("--from", "checking", "workshop")
@_account("--to", "household checking", "household")
@answers
def pay_back(session: Session, amount: str | None, from_account: str, to_account: str) -> Answer:
    return _transfer(session, "pay-back", amount, from_account, to_account, None)


@click.command("let-go", cls=Command, help=act_of_verb("let-go").help)
@click.argument("amount", required=False)
@click.option("--why", metavar="TEXT", help="A few words for the entry.")
@answers
def let_go(session: Session, amount: str | None, why: str | None) -> Answer:
    from ledger.actions import let_go as act

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount") if amount is not None else None
        sealed = act.perform(books, act.LetGoRequest(cents, why))
        moved = max(each.cents for each in read_entry(books, sealed.number).postings)
        data = {"entry": sealed.number, "amount": amount_in(books.currency)(moved)}
        return Answer(
            data, [f"Entry {sealed.number}: {data['amount']} is a contribution now, and owed to you no more."]
        )


@click.command("reverse", cls=Command, help=act_of_verb("reverse").help)
@click.argument("entry", type=read_number)
@click.option("--why", metavar="TEXT", required=True, help="What was wrong.")
@answers
def reverse(session: Session, entry: int, why: str) -> Answer:
    from ledger.actions import reverse as act

    with session.books() as books:
        sealed = act.perform(books, act.ReverseRequest(entry, why))
        lines = [f"Entry {sealed.number} reverses entry {entry}."]
        job = read_entry(books, entry).job
        lines += [f"Job {job} is {read_job(books, job).status} now."] if job is not None else []
        return Answer({"entry": sealed.number, "reverses": entry}, lines)


def _transfer(
    session: Session, kind: Any, amount: str | None, from_account: str, to_account: str, why: str | None
) -> Answer:
    from ledger.actions import transfer

    with session.books() as books:
        cents = read_amount(amount, books.currency, "amount") if amount is not None else None
        sealed = transfer.perform(books, transfer.TransferRequest(kind, cents, from_account, to_account, why))
        moved = max(each.cents for each in read_entry(books, sealed.number).postings)
        data = {"entry": sealed.number, "amount": amount_in(books.currency)(moved)}
        said = f"Entry {sealed.number}: {data['amount']} from {from_account} to {to_account}."
        return Answer(data, [said, *overdrawn(books, from_account)])


def overdrawn(books: Books, name: str) -> list[str]:
    """A sentence where an account that holds money holds less than none; a card may."""
    account = read_accounts(books).named(name)
    if account.kind != "asset" or balance(books, account.role or "", books.today) >= 0:
        return []
    return [f"«{account.name}» is below zero now: is the amount right, or is something not entered yet?"]


COMMANDS = (spend, household_pays, open_household, move, draw, put_in, pay_back, let_go, reverse)
