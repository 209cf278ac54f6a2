"""Commands for what customers owe: who and since when, money towards several jobs, an account on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.books.entries import read_entry
from ledger.commands.manners import Answer, Group, Session, amount_in, answers, read_path
from ledger.jobs.payments import WAYS, How
from ledger.jobs.records import read_job
from ledger.money import read_amount
from ledger.text import read_text

if TYPE_CHECKING:
    from ledger.jobs.account_sheet import CustomerAccount
    from ledger.jobs.debts import OwedJob


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
        jobs = [_owed_job(books, each) for each in found]
        total = amount(sum(each.cents for each in found))
        lines = [f"job {each['job']:<5} {each['owed']:>10}  since {each['since']}  {each['customer']}" for each in jobs]
        return Answer({"jobs": jobs, "total": total}, [*lines, f"Owed in all: {total}."])


@owed.command("pay", help=act_of_verb("owed pay").help)
@click.argument("customer", metavar="NAME")
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
        shown = amount_in(books.currency)
        entries = [
            {
                "job": job,
                "entry": sealed.number,
                "amount": shown(_paid(books, sealed.number)),
                "owed": shown(read_job(books, job).owed_cents),
            }
            for job, sealed in done
        ]
        lines = [
            f"Entry {each['entry']}: {each['amount']} for job {each['job']}, owed {each['owed']}." for each in entries
        ]
        return Answer({"entries": entries}, lines)


def _paid(books: Books, entry: int) -> int:
    """What an entry took off what is owed, in cents."""
    lines = read_entry(books, entry).postings
    return -sum(each.cents for each in lines if each.account.role == "owed_by_customers")


@owed.command("statement", help=act_of_verb("owed statement").help)
@click.argument("customer", metavar="NAME")
@click.option("--to", metavar="FOLDER", help="The folder for the two files; the receipts folder unless given.")
@answers
def statement(session: Session, customer: str, to: str | None) -> Answer:
    from ledger.jobs.account_sheet import read_account
    from ledger.jobs.customers import customer_named
    from ledger.jobs.printing import keep_in, print_account, receipts_folder

    with session.books() as books:
        account = read_account(books, customer_named(books, customer))
        printed = print_account(books, account.customer)
        folder = read_path(to, "to") if to is not None else receipts_folder(books)
        keep_in(folder, printed)
        pdf, text = printed.pdf_in(folder), printed.text_in(folder)
        data = {**_account(books, account), "pdf": str(pdf), "text": str(text)}
        return Answer(data, [*printed.text.splitlines(), "", f"For paper: {pdf}", f"As text: {text}"])


def _account(books: Books, account: CustomerAccount) -> dict[str, Any]:
    amount = amount_in(books.currency)
    return {
        "customer": account.customer.name,
        "code": account.customer.code,
        "date": account.day.isoformat(),
        "lines": [
            {
                "date": each.day.isoformat(),
                "entry": each.entry,
                "job": each.job,
                "what": each.text,
                "amount": amount(each.cents),
            }
            for each in account.lines
        ],
        "jobs": [_owed_job(books, each) for each in account.owed],
        "owed": amount(account.owed_cents),
    }


def _owed_job(books: Books, owed_job: OwedJob) -> dict[str, Any]:
    return {
        "job": owed_job.job,
        "customer": owed_job.customer.name,
        "piece": owed_job.piece,
        "since": owed_job.since.isoformat(),
        "days": (books.today - owed_job.since).days,
        "owed": amount_in(books.currency)(owed_job.cents),
    }


COMMANDS = (owed,)
