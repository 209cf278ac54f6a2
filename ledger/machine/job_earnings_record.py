"""What the books know of what jobs earn: lines sold, material bought, card fees, and hours that were logged."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction

from ledger.books.balances import movements, read_accounts
from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.errors import NotFound
from ledger.machine.job_earnings import MATERIALS, JobEarnings, LineSold, Material, job_earnings
from ledger.machine.payback_record import read_payback
from ledger.money import plain_decimal

_CM_AN_INCH = Fraction("2.54")
_LINES = f"""
    select entry.job, coalesce(job_line.name, slip_line.class) as work, sum(slip_line.cents) as cents,
        job.width, job.length, slip_line.class, max(price.kind = 'batting') as is_batting,
        max(price.by_measure = 'area') as is_by_area,
        (select name from party_detail where party = customer.party order by id desc limit 1) as customer
    from entry
    join slip_line on slip_line.entry = entry.number
    join job on job.id = entry.job
    join customer on customer.id = job.customer
    left join job_line on job_line.id = slip_line.job_line
    left join price on price.id = job_line.price
    where entry.date between ? and ? and not {STOOD_BEFORE} and not exists (
        select 1 from posting join account on account.id = posting.account
        where posting.entry = entry.number and account.role = 'other_income'
    )
    group by entry.job, work, slip_line.class
"""
_FEES = """
    select payment.job, sum(payment.fee) as fee from payment join entry on entry.number = payment.entry
    where payment.job is not null and entry.date between ? and ? group by payment.job
"""


def read_job_earnings(books: Books, start: date, end: date) -> JobEarnings:
    """What the jobs sold in these days earned, both included; the hours are all that was logged at them."""
    days = (start.isoformat(), end.isoformat())
    lines = [
        LineSold(
            job=row["job"],
            customer=row["customer"],
            kind=row["work"],
            cents=row["cents"],
            square_inches=_square_inches(books, row["width"], row["length"]),
            is_batting=bool(row["is_batting"]),
            is_goods=row["class"] == "goods",
            is_by_area=bool(row["is_by_area"]),
        )
        for row in books.rows(_LINES, days)
    ]
    fees = {row["job"]: row["fee"] for row in books.rows(_FEES, days)}
    left = read_payback(books).left_cents
    hours = {job: Fraction(each) for job, each in hours_by_job(books, end).items()}
    return job_earnings(lines, _materials(books, start, end), fees, hours, left)


def hours_by_job(books: Books, on: date) -> dict[int, Decimal]:
    """The hours that were logged by the end of a day and not taken back."""
    hours: dict[int, Decimal] = defaultdict(Decimal)
    for row in books.rows(
        "select job, hours from job_hours where on_date <= ?1 and takes_back is null and not exists "
        "(select 1 from job_hours as later where later.takes_back = job_hours.id and later.on_date <= ?1)",
        (on.isoformat(),),
    ):
        hours[row["job"]] += Decimal(row["hours"])
    return dict(hours)


def log_hours(books: Books, write: Writing, job: int, hours: Decimal) -> int:
    """The number under which the hours are kept."""
    return write.add("job_hours", job=job, hours=plain_decimal(hours), on_date=books.today.isoformat())


def take_hours_back(books: Books, write: Writing, job: int) -> Decimal:
    """Take the hours that were logged last at a job back; how many they were. Raises NotFound where there are none."""
    row = books.row(
        "select * from job_hours where job = ? and takes_back is null "
        "and id not in (select takes_back from job_hours where takes_back is not null) order by id desc limit 1",
        (job,),
    )
    if row is None:
        raise NotFound(f"No hours are logged at job {job}.", "Look at the number of the job.", "job")
    write.add("job_hours", job=job, hours=row["hours"], on_date=books.today.isoformat(), takes_back=row["id"])
    return Decimal(row["hours"])


def _materials(books: Books, start: date, end: date) -> Mapping[Material, int]:
    moved, accounts = movements(books, start, end), read_accounts(books)
    spent: dict[Material, int] = {}
    for name in MATERIALS:
        own = accounts[name]
        spent[name] = sum(moved[each.id] for each in accounts.all if accounts.counted_under(each) == own)
    return spent


def _square_inches(books: Books, width: str, length: str) -> Fraction:
    area = Fraction(width) * Fraction(length)
    return area if books.settings.units == "in" else area / _CM_AN_INCH**2
