"""Lists of jobs: what is on the bench, and all that left it, however many, without going through each of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ledger.books.books import Books
from ledger.jobs.bench import GONE_EVENTS
from ledger.jobs.job import Job
from ledger.lists.listing import Column, Line, ShownAs, Value

_STATE, _JOB, _PROMISED, _GONE, _WHOSE, _PIECE = range(6)
# Whether painted or only written into files: the same columns for every list of jobs.
JOB_COLUMNS = (
    Column("State", 0),
    Column("Job", 0, "number"),
    Column("Promised", 0, "due"),
    Column("Gone", 0, "day"),
    Column("Whose", 0),
    Column("Piece", 0),
    Column("Declared", 0, "amount"),
    Column("Deposit held", 0, "amount"),
    Column("Owed", 0, "amount"),
)
_BALANCES = (
    "select entry.job, account.role, sum(posting.cents) as cents from account "
    "join posting on posting.account = account.id join entry on entry.number = posting.entry "
    "where account.role in ('customer_deposits', 'owed_by_customers') and entry.job is not null and entry.date <= ? "
    "group by entry.job, account.role having sum(posting.cents) <> 0"
)
_GONE_JOBS = (
    f"with gone (job, on_date, event, what) as ({GONE_EVENTS}) "
    "select job.id, job.piece, job.promised, job.value, gone.on_date, gone.what, detail.name from gone "
    "join job on job.id = gone.job join customer on customer.id = job.customer join party_detail as detail "
    "on detail.id = (select max(id) from party_detail where party = customer.party) "
    "order by gone.on_date desc, gone.event desc"
)


def _painted(**widths: int) -> tuple[Column, ...]:
    return tuple(each._replace(width=widths.get(each.label.casefold(), 0)) for each in JOB_COLUMNS)


BENCH_COLUMNS = _painted(state=9, job=4, promised=11, whose=19, piece=23)
GONE_COLUMNS = _painted(state=12, job=4, gone=12, whose=17, piece=23)


def job_line(job: Job, gone_on: date | None = None, state: str | None = None) -> Line:
    """A job as a line. state: how its status is shown, where not by its word."""
    status = job.status
    values: tuple[Value, ...] = (
        ShownAs(status, state) if state is not None else status,
        job.id,
        job.promised,
        gone_on,
        job.customer.name,
        job.piece,
        job.value_cents,
        job.deposit_cents,
        job.owed_cents,
    )
    return Line(job.id, values)


def read_gone_lines(books: Books) -> tuple[Line, ...]:
    """Every job that was picked up or called off, the latest first, paid or not."""
    today = books.today.isoformat()
    balances = {(row["job"], row["role"]): row["cents"] for row in books.rows(_BALANCES, (today,))}
    lines = []
    for row in books.rows(_GONE_JOBS, (today,)):
        job, status = row["id"], "gone" if row["what"] == "picked up" else "called-off"
        owed = balances.get((job, "owed_by_customers"), 0)
        values: tuple[Value, ...] = (
            ShownAs(status, "$ owes" if owed else f"  {status.replace('-', ' ')}"),
            job,
            date.fromisoformat(row["promised"]) if row["promised"] else None,
            date.fromisoformat(row["on_date"]),
            row["name"],
            row["piece"],
            row["value"],
            -balances.get((job, "customer_deposits"), 0),
            owed,
        )
        lines.append(Line(job, values))
    return tuple(lines)


def every_job_lines(books: Books, jobs: Sequence[Job]) -> tuple[Line, ...]:
    """The jobs as lines, each with the day it went."""
    gone = {line.key: line.values[_GONE] for line in read_gone_lines(books)}
    return tuple(job_line(each, gone_on=on if isinstance(on := gone.get(each.id), date) else None) for each in jobs)
