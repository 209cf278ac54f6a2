"""Jobs in the books: taken in with their lines, moved on by events, and read back with what they owe."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from ledger.books.before_books import OPENING
from ledger.books.books import Books, Row
from ledger.books.transaction import Writing
from ledger.errors import NotFound, NotPossible
from ledger.jobs.custody import INTO_THE_HOUSE, OUT_OF_THE_HOUSE, Custody, Movement, custody
from ledger.jobs.customers import read_customer
from ledger.jobs.intake import Intake, lengths_text
from ledger.jobs.job import Job, JobLine, NewJob, status_after
from ledger.jobs.pricing import PricedLine, Size, price_job, quantity_text
from ledger.jobs.visits import Happening, VisitDay, visit_days
from ledger.money import plain_decimal
from ledger.taxes.sales_tax import Charge


def add_job(books: Books, write: Writing, new: NewJob) -> int:
    """The number of the new job."""
    job = write.add(
        "job",
        customer=new.customer.id,
        piece=new.piece,
        width=plain_decimal(new.size.width),
        length=plain_decimal(new.size.length),
        value=new.value_cents,
        promised=new.promised.isoformat() if new.promised else None,
        rush_percent=plain_decimal(new.rush_percent),
        minimum=new.minimum_cents,
        on_date=books.today.isoformat(),
    )
    add_lines(write, job, new.lines, first=1)
    return job


def add_lines(write: Writing, job: int, lines: Sequence[PricedLine], first: int) -> None:
    """Lines of work as they were quoted; first: the number of the first of them on the job."""
    for number, line in enumerate(lines, start=first):
        write.add(
            "job_line",
            job=job,
            line=number,
            price=line.price.id,
            name=line.price.name,
            quantity=quantity_text(line.quantity),
            unit=line.unit,
            rate=plain_decimal(line.price.rate),
            cents=line.cents,
            **{"class": line.price.class_name},
            includes_tax=int(line.price.includes_tax),
        )


def add_intake(write: Writing, job: int, intake: Intake) -> None:
    write.add(
        "intake",
        job=job,
        widths=lengths_text(intake.widths),
        lengths=lengths_text(intake.lengths),
        condition=intake.condition,
        may_collect=intake.may_collect,
    )


def read_intake(books: Books, job: int) -> Intake | None:
    """None for a job of which nothing but its size was kept."""
    row = books.row("select * from intake where job = ?", (job,))
    if row is None:
        return None
    widths, lengths = (tuple(Decimal(each) for each in row[name].split()) for name in ("widths", "lengths"))
    return Intake(widths, lengths, row["condition"], row["may_collect"])


def add_event(books: Books, write: Writing, job: int, what: str, entry: int | None = None) -> None:
    write.add("job_event", job=job, what=what, on_date=books.today.isoformat(), entry=entry)


def read_job(books: Books, job: int) -> Job:
    """The job as it stands today. Raises NotFound, also on a day before it was taken in."""
    row = books.row("select * from job where id = ?", (job,))
    if row is None:
        last = books.value("select max(id) from job")
        raise NotFound(
            f"There is no job {job}.", f"Jobs go from 1 to {last}." if last else "Take one in with «job new».", "job"
        )
    if row["on_date"] > books.today.isoformat():
        raise NotFound(f"On {books.today} there was no job {job}.", f"It was taken in on {row['on_date']}.", "on")
    return _job_from_row(books, row)


def read_job_to_act(books: Books, job: int) -> Job:
    """The job, for an act dated today. Raises NotFound, and NotPossible where something later was booked on it."""
    row = books.row(
        "select max(day) from (select max(on_date) as day from job_event where job = ?1 "
        "union all select max(date) from entry where job = ?1)",
        (job,),
    )
    if row is not None and row[0] is not None and row[0] > books.today.isoformat():
        raise NotPossible(
            f"Something on job {job} is dated {row[0]} already.", "Give that day or a later one with --on.", "on"
        )
    return read_job(books, job)


def read_jobs(books: Books, statuses: Sequence[str] | None = None) -> tuple[Job, ...]:
    """Jobs in the order of their numbers, all or those with one of the statuses."""
    jobs = (
        _job_from_row(books, row)
        for row in books.rows("select * from job where on_date <= ? order by id", (books.today.isoformat(),))
    )
    return tuple(job for job in jobs if statuses is None or job.status in statuses)


def status_before_calling_off(books: Books, job: int) -> str:
    """Where a job stood when it was called off."""
    events = [row["what"] for row in books.rows("select what from job_event where job = ? order by id", (job,))]
    last = len(events) - 1 - events[::-1].index("called off")
    return status_after(events[:last])


def read_custody(books: Books, on: date) -> Custody:
    """What is in the house at the end of a day, and the most that ever was by then."""
    moves = sorted(INTO_THE_HOUSE | OUT_OF_THE_HOUSE)
    rows = books.rows(
        "select job_event.on_date, job, what, value from job_event join job on job.id = job_event.job "
        f"where job_event.on_date <= ? and what in ({', '.join('?' for _ in moves)}) "
        "order by job_event.on_date, job_event.id",
        (on.isoformat(), *moves),
    )
    return custody([Movement(date.fromisoformat(row[0]), row[1], row[2], row[3]) for row in rows])


def read_visit_days(books: Books, on: date) -> tuple[VisitDay, ...]:
    """The days by then on which customers came to the house."""
    rows = books.rows(
        "select event.on_date, event.job, job.customer, event.what, event.entry is not null as has_entry, "
        "exists (select 1 from shipment where shipment.job = event.job and shipment.on_date = event.on_date "
        "and shipment.entry is event.entry) as is_posted "
        "from job_event as event join job on job.id = event.job where event.on_date <= ? "
        # What was in the house when the books began had come before.
        f"and not exists (select 1 from entry where entry.number = event.entry and entry.kind = '{OPENING}') "
        "order by event.on_date, event.id",
        (on.isoformat(),),
    )
    return visit_days(
        [
            Happening(
                day=date.fromisoformat(row["on_date"]),
                job=row["job"],
                customer=row["customer"],
                what=row["what"],
                is_posted=row["what"] == "picked up" and bool(row["is_posted"]),
                # A piece that comes in moves no money: an entry beside that is one that undoes a calling off.
                is_undoing=row["what"] == "pickup undone" or (row["what"] == "in" and bool(row["has_entry"])),
            )
            for row in rows
        ]
    )


def _job_from_row(books: Books, row: Row) -> Job:
    job, until = row["id"], books.today.isoformat()
    lines = tuple(
        _line_from_row(each) for each in books.rows("select * from job_line where job = ? order by line", (job,))
    )
    charges = [Charge(each.class_name, each.cents, each.includes_tax) for each in lines]
    rush_percent = Decimal(row["rush_percent"])
    events = books.rows("select what, entry from job_event where job = ? and on_date <= ? order by id", (job, until))
    status = status_after([each["what"] for each in events]) if events else _status_without_events(books, job)
    return Job(
        id=job,
        customer=read_customer(books, row["customer"]),
        piece=row["piece"],
        size=Size(Decimal(row["width"]), Decimal(row["length"]), books.settings.units),
        value_cents=row["value"],
        promised=date.fromisoformat(row["promised"]) if row["promised"] else None,
        taken_on=date.fromisoformat(row["on_date"]),
        status=status,
        lines=lines,
        pricing=price_job(charges, row["minimum"], rush_percent),
        rush_percent=rush_percent,
        deposit_cents=-_job_balance(books, job, "customer_deposits"),
        owed_cents=_job_balance(books, job, "owed_by_customers"),
        sale=next((each["entry"] for each in reversed(events) if each["what"] == "picked up"), None)
        if status == "gone"
        else None,
    )


def _status_without_events(books: Books, job: int) -> str:
    return "gone" if is_before_books(books, job) else "asked"


def is_before_books(books: Books, job: int) -> bool:
    """Whether the piece had left when the books began, so that they know its debt alone."""
    return books.value("select 1 from job_before_books where job = ?", (job,)) is not None


def _line_from_row(row: Row) -> JobLine:
    return JobLine(
        id=row["id"],
        name=row["name"],
        quantity=Fraction(row["quantity"]),
        unit=row["unit"],
        rate=Decimal(row["rate"]),
        cents=row["cents"],
        class_name=row["class"],
        includes_tax=bool(row["includes_tax"]),
    )


def _job_balance(books: Books, job: int, role: str) -> int:
    return int(
        books.value(
            "select coalesce(sum(posting.cents), 0) from entry join posting on posting.entry = entry.number "
            "join account on account.id = posting.account where entry.job = ? and account.role = ? and entry.date <= ?",
            (job, role, books.today.isoformat()),
        )
    )
