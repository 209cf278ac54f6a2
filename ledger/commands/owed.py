"""Commands for what customers owe: who and since when, money towards several jobs, an account on paper."""

from __future__ import annotations

from typing import Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Group, Session, amount_in, answers, read_path
from ledger.jobs.payments import WAYS, How
from ledger.money import read_amount
from ledger.text import read_text


@click.group("owed", cls=Group)
def owed() -> None:
    """What customers owe for pieces that are gone."""


@owed.command("list")
@click.option("--who", metavar="TEXT", help="Of one customer.")
@answers
def list_owed(session: Session, who: str | None) -> Answer:
    """Every job that is not paid, the oldest first."""
    from ledger.jobs.customers import customer_named
    from ledger.jobs.debts import read_owed_jobs

    with session.books() as books:
        amount = amount_in(books.currency)
        customer = customer_named(books, who).id if who is not None else None
        found = read_owed_jobs(books, customer)
        jobs: list[dict[str, Any]] = [
            {
                "job": each.job,
                "customer": each.customer.name,
                "piece": each.piece,
                "since": each.since.isoformat(),
                "days": (session.today - each.since).days,
                "owed": amount(each.cents),
            }
            for each in found
        ]
        total = amount(sum(each.cents for each in found))
        lines = [f"job {each['job']:<5} {each['owed']:>10}  since {each['since']}  {each['customer']}" for each in jobs]
        return Answer({"jobs": jobs, "total": total}, [*lines, f"Owed in all: {total}."])


@owed.command("pay", help=act_of_verb("owed pay").help)
@click.argument("customer", metavar="CUSTOMER")
@click.argument("amount", metavar="AMOUNT")
@click.option("--paid", type=click.Choice(WAYS), required=True, help="How it is paid.")
@click.option("--fee", metavar="AMOUNT", help="What the card company keeps, where it is known.")
@click.option("--number", "reference", metavar="TEXT", help="The check's number, or the transfer's reference.")
@answers
def pay(session: Session, customer: str, amount: str, paid: str, fee: str | None, reference: str | None) -> Answer:
    from ledger.actions import take_owed

    with session.books() as books:
        request = take_owed.OwedMoneyRequest(
            customer=customer,
            cents=read_amount(amount, books.currency, "amount"),
            how=cast("How", paid),
            fee_cents=read_amount(fee, books.currency, "fee", zero=True) if fee is not None else 0,
            number=read_text(reference, "number", limit=60) if reference is not None else None,
        )
        done = take_owed.perform(books, request)
        entries = [{"job": job, "entry": sealed.number} for job, sealed in done]
        return Answer({"entries": entries}, [f"Entry {each['entry']} for job {each['job']}." for each in entries])


@owed.command("statement", help=act_of_verb("owed statement").help)
@click.argument("customer", metavar="CUSTOMER")
@click.option("--to", metavar="FOLDER", help="The folder for the two files; the receipts folder unless given.")
@answers
def statement(session: Session, customer: str, to: str | None) -> Answer:
    from ledger.jobs.customers import customer_named
    from ledger.jobs.printing import keep_in, print_account, receipts_folder

    with session.books() as books:
        printed = print_account(books, customer_named(books, customer))
        folder = read_path(to, "to") if to is not None else receipts_folder(books)
        keep_in(folder, printed)
        pdf, text = printed.pdf_in(folder), printed.text_in(folder)
        data = {"customer": customer, "pdf": str(pdf), "text": str(text)}
        return Answer(data, [*printed.text.splitlines(), "", f"For paper: {pdf}", f"As text: {text}"])


COMMANDS = (owed,)
