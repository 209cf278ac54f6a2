"""Commands for jobs before and after pickup: taken in, moved on, deposits, what is still owed."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any, Literal, cast

import click

from ledger.actions.registry import act_of_verb
from ledger.books.books import Books
from ledger.commands.job_answers import job_data, job_lines, read_wanted
from ledger.commands.job_endings import JOB_COMMANDS
from ledger.commands.manners import Answer, Group, Session, amount_in, answers, day_or_none, read_number, read_path
from ledger.jobs.job import STATUSES, Job
from ledger.jobs.payments import WAYS, How
from ledger.jobs.records import read_custody, read_job, read_jobs
from ledger.money import read_amount, read_percent, read_quantity
from ledger.periods import parse_date
from ledger.text import read_name, read_text

_FIRST = ("asked", "booked", "in-hand")
_LINE_HELP = "From the price list; repeat it for each line. QTY where it is not measured, such as hours."


@click.group("job", cls=Group)
def job() -> None:
    """Jobs: the piece, the work, what is held and owed."""


@job.command("new", help=act_of_verb("job new").help)
@click.option("--customer", required=True, help="Whose piece it is; a new name is a new customer.")
@click.option("--piece", required=True, help="What it is.")
@click.option("--width", metavar="N", required=True, help="In inches, or in cm where the books began so.")
@click.option("--length", metavar="N", required=True, help="In the same units.")
@click.option("--value", metavar="AMOUNT", required=True, help="What the customer says it is worth, for the insurance.")
@click.option("--line", "wanted", multiple=True, required=True, metavar='"NAME[=QTY]"', help=_LINE_HELP)
@click.option("--promised", metavar="DATE", help="The day for which it is promised.")
@click.option("--status", type=click.Choice(_FIRST), default="in-hand", show_default=True, help="Where it stands.")
@click.option("--rush", metavar="PERCENT", help="Added to every line, for work that cannot wait.")
@click.option("--minimum", metavar="AMOUNT", help="The least that the whole job comes to.")
@click.option("--condition", metavar="TEXT", help="The state it came in: loose threads, a stain.")
@click.option("--may-collect", metavar="TEXT", help="Who else may fetch it.")
@answers
def new(session: Session, customer: str, piece: str, wanted: tuple[str, ...], status: str, **given: Any) -> Answer:
    from ledger.actions import take_in

    with session.books() as books:
        promised, rush, minimum = given["promised"], given["rush"], given["minimum"]
        request = take_in.TakeInRequest(
            customer=read_name(customer, "customer"),
            piece=piece,
            width=read_quantity(given["width"], "width"),
            length=read_quantity(given["length"], "length"),
            value_cents=read_amount(given["value"], books.currency, "value", zero=True),
            lines=tuple(read_wanted(each) for each in wanted),
            promised=parse_date(promised, "promised") if promised is not None else None,
            status=status,
            rush_percent=read_percent(rush, "rush") if rush is not None else Decimal(0),
            minimum_cents=read_amount(minimum, books.currency, "minimum", zero=True) if minimum is not None else 0,
            condition=given["condition"],
            may_collect=given["may_collect"],
        )
        data = job_data(books, take_in.perform(books, request))
        return Answer(data, job_lines(data))


@job.command("show")
@click.argument("number", type=read_number, metavar="JOB")
@answers
def show(session: Session, number: int) -> Answer:
    """One job: its lines, what is held and owed on it."""
    with session.books() as books:
        data = job_data(books, read_job(books, number))
        return Answer(data, job_lines(data))


@job.command("list")
@click.option("--status", "statuses", type=click.Choice(STATUSES), multiple=True, help="Only these; repeat it.")
@click.option("--csv", "csv_file", metavar="FILE", help="Save them as a CSV file too.")
@answers
def list_jobs(session: Session, statuses: tuple[str, ...], csv_file: str | None) -> Answer:
    """The jobs, and what is in the house."""
    with session.books() as books:
        amount = amount_in(books.currency)
        found = read_jobs(books, statuses or None)
        jobs = [job_data(books, each) for each in found]
        here = read_custody(books, session.today)
        in_house = {
            "pieces": here.pieces,
            "value": amount(here.value_cents),
            "highest": amount(here.highest_cents),
            "highest_on": day_or_none(here.highest_on),
        }
        lines = [
            f"{each['job']:>5}  {each['status']:<10} {each['promised'] or '':<10}  {each['customer']}: {each['piece']}"
            for each in jobs
        ]
        lines.append(
            f"In the house: {here.pieces}, declared at {in_house['value']}; the most ever was {in_house['highest']}."
        )
        data: dict[str, Any] = {"jobs": jobs, "in_house": in_house}
        if csv_file is not None:
            data["csv"] = _save(books, found, csv_file)
            lines.append(f"Saved: {data['csv']}")
        return Answer(data, lines)


def _save(books: Books, jobs: Sequence[Job], csv_file: str) -> str:
    """The file that the jobs were saved in."""
    from ledger.books.kept_lists import keep_list
    from ledger.jobs.job_list import JOB_COLUMNS, every_job_lines

    return str(keep_list(books, read_path(csv_file, "csv"), JOB_COLUMNS, every_job_lines(books, jobs)))


def _event_command(event: Literal["in", "ready", "back"]) -> None:
    @job.command(event, help=act_of_verb(f"job {event}").help)
    @click.argument("number", type=read_number, metavar="JOB")
    @answers
    def move(session: Session, number: int) -> Answer:
        from ledger.actions import move_job

        with session.books() as books:
            data = job_data(books, move_job.perform(books, move_job.MoveRequest(number, event)))
            return Answer(data, [f"Job {number} is {data['status']}."])


_event_command("in")
_event_command("ready")
_event_command("back")


@job.command("deposit", help=act_of_verb("job deposit").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.argument("amount")
@click.option("--paid", type=click.Choice(WAYS), required=True, help="How it came in.")
@click.option("--fee", metavar="AMOUNT", help="What the card company keeps, where it is known.")
@click.option("--number", "reference", metavar="TEXT", help="The check's number, or the transfer's reference.")
@answers
def deposit(session: Session, number: int, amount: str, paid: str, fee: str | None, reference: str | None) -> Answer:
    return _take(session, "deposit", number, amount, paid, fee, reference)


@job.command("pay", help=act_of_verb("job pay").help)
@click.argument("number", type=read_number, metavar="JOB")
@click.argument("amount")
@click.option("--paid", type=click.Choice(WAYS), required=True, help="How it came in.")
@click.option("--fee", metavar="AMOUNT", help="What the card company keeps, where it is known.")
@click.option("--number", "reference", metavar="TEXT", help="The check's number, or the transfer's reference.")
@answers
def pay(session: Session, number: int, amount: str, paid: str, fee: str | None, reference: str | None) -> Answer:
    return _take(session, "pay", number, amount, paid, fee, reference)


def _take(
    session: Session, act: str, number: int, amount: str, paid: str, fee: str | None, reference: str | None
) -> Answer:
    from ledger.actions import take_money

    perform = {"deposit": take_money.take_deposit, "pay": take_money.take_balance}[act]
    with session.books() as books:
        request = take_money.MoneyRequest(
            job=number,
            cents=read_amount(amount, books.currency, "amount"),
            how=cast("How", paid),
            fee_cents=read_amount(fee, books.currency, "fee", zero=True) if fee is not None else 0,
            number=read_text(reference, "number", limit=60) if reference is not None else None,
        )
        after, sealed = perform(books, request)
        data = job_data(books, after, sealed.number)
        said = f"held for job {number}: {data['deposit']}" if act == "deposit" else f"still owed on it: {data['owed']}"
        return Answer(data, [f"Entry {sealed.number}; {said}."])


for _command in JOB_COMMANDS:
    job.add_command(_command)

COMMANDS = (job,)
