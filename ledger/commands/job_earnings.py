"""Commands for what a job earns: by kind of work and by customer, and the hours that she logs at one."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import click

from ledger.actions.registry import act_of_verb
from ledger.commands.manners import Answer, Command, Session, amount_in, answers, read_number
from ledger.money import plain_decimal, read_quantity, round_half_up
from ledger.periods import parse_period, year_holding

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from ledger.machine.job_earnings import Earning, JobEarnings

SPREAD = "Receipts name no job: material is spread by what was sold and by the area quilted. Before other expenses."


@click.command("earnings", cls=Command)
@click.argument("period", required=False, metavar="PERIOD")
@answers
def earnings(session: Session, period: str | None) -> Answer:
    """What a job earns, by kind of work and by customer.

    Income less material and card fees, for each logged hour and for a thousand square inches. PERIOD is such as 2026,
    2026-Q1 or 2026-03; this year unless given.
    """
    from ledger.machine.job_earnings_record import read_job_earnings

    with session.books() as books:
        amount = amount_in(books.currency)
        days = parse_period(period) if period is not None else year_holding(session.today)
        found = read_job_earnings(books, days.start, min(days.end, session.today))
        data = {
            "period": days.label,
            "by_kind": [_earning_data(each, amount) for each in found.by_kind],
            "by_customer": [_earning_data(each, amount) for each in found.by_customer],
            "fastest": _fastest_data(found),
        }
        return Answer(data, [*_lines(found, amount), SPREAD])


@click.command("hours", cls=Command, help=act_of_verb("hours").help)
@click.argument("job", type=read_number, metavar="JOB")
@click.argument("hours", metavar="[HOURS]", required=False)
@click.option("--take-back", is_flag=True, help="Take back what was logged last at the job.")
@answers
def log(session: Session, job: int, hours: str | None, take_back: bool) -> Answer:
    from ledger.actions import log_hours

    if take_back == (hours is not None):
        raise click.UsageError("Give the HOURS, or --take-back without them.")
    with session.books() as books:
        read = read_quantity(hours, "hours") if hours is not None else None
        total = log_hours.perform(books, log_hours.HoursRequest(job, read))
        return Answer({"job": job, "hours": plain_decimal(total)}, [f"Job {job}: {plain_decimal(total)} hours in all."])


def _earning_data(each: Earning, amount: Callable[[int], str]) -> dict[str, Any]:
    return {
        "what": each.what,
        "jobs": each.jobs,
        "income": amount(each.income_cents),
        "material": amount(each.material_cents),
        "fee": amount(each.fee_cents),
        "left": amount(each.left_cents),
        "hours": _number(each.hours) if each.hours else None,
        "an_hour": None if each.an_hour_cents is None else amount(each.an_hour_cents),
        "square_inches": _number(each.square_inches),
        "a_thousand_square_inches": (
            None if each.a_thousand_inches_cents is None else amount(each.a_thousand_inches_cents)
        ),
    }


def _fastest_data(found: JobEarnings) -> dict[str, Any] | None:
    fastest = found.fastest
    return None if fastest is None else {"what": fastest.kind, "by": fastest.by, "jobs_left": fastest.jobs}


def _lines(found: JobEarnings, amount: Callable[[int], str]) -> Iterator[str]:
    if not found.by_kind:
        yield "No job was sold in these days."
        return
    yield from _table("By kind of work", found.by_kind, amount)
    yield from _table("By customer", found.by_customer, amount)
    fastest = found.fastest
    if fastest is not None:
        by = "for each hour logged" if fastest.by == "hour" else "for the area, with which the time at the frame grows"
        yield f"«{fastest.kind}» pays the machine off fastest: it leaves the most {by}."
        if fastest.jobs:
            yield f"With such lines alone it would take {fastest.jobs} more, before other expenses."


def _table(title: str, rows: Sequence[Earning], amount: Callable[[int], str]) -> Iterator[str]:
    yield f"{title:26}{'jobs':>5}{'income':>11}{'material':>11}{'fees':>9}{'left':>11}{'an hour':>9}{'1000 sq in':>11}"
    for each in rows:
        an_hour = "" if each.an_hour_cents is None else amount(each.an_hour_cents)
        inches = "" if each.a_thousand_inches_cents is None else amount(each.a_thousand_inches_cents)
        yield (
            f"{each.what[:25]:26}{each.jobs:>5}{amount(each.income_cents):>11}{amount(each.material_cents):>11}"
            f"{amount(each.fee_cents):>9}{amount(each.left_cents):>11}{an_hour:>9}{inches:>11}"
        )


def _number(value: Fraction) -> str:
    """With two decimals at most."""
    return plain_decimal(Decimal(round_half_up(value * 100)) / 100)


COMMANDS = (earnings, log)
