"""Figures that must tie to each other in any books: entries to settlements, jobs to their rows, months to sums."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.jobs.records import read_jobs
from ledger.quarter.checks import run_checks
from ledger.results.period import owed_charge, read_statement
from tests.workshop import FIRST_DAY, crossing_sum, purse_sums


def check_settlement(books: Books, entry: int, settled: Any) -> None:
    """The lines less the discount, the tax, the tip, and what came in for them, in the settlement and in its entry."""
    slip, paid = settled.slip, settled.paid
    assert slip.subtotal_cents - slip.discount_cents == sum(each.base_cents for each in slip.tax.charges)
    assert settled.total_cents == slip.charge_cents + slip.tax_cents + settled.tip_cents
    gifts = sum(each.cents for each in settled.gifts)
    assert settled.total_cents == settled.deposit_cents + gifts + paid.cents + paid.owed_cents
    assert settled.owed_charge_cents + settled.owed_tax_cents == paid.owed_cents
    assert min(settled.owed_charge_cents, settled.owed_tax_cents) >= 0
    assert slip.tax_cents == sum(each.tax_cents for each in slip.tax.taxes)
    assert in_entry(books, entry, "job_income") == -slip.charge_cents
    assert in_entry(books, entry, "tips") == -settled.tip_cents
    assert in_entry(books, entry, "sales_tax_payable") == -slip.tax_cents
    assert in_entry(books, entry, "customer_deposits") == settled.deposit_cents + settled.deposit_back_cents
    assert in_entry(books, entry, "gift_certificates") == gifts
    assert in_entry(books, entry, "owed_by_customers") == paid.owed_cents
    assert books.value("select sum(cents) from slip_line where entry = ?", (entry,)) == slip.charge_cents
    arrived = sum(in_entry(books, entry, role) for role in ("cash_box", "checking", "card_settlements", "card_fees"))
    assert arrived == paid.cents - settled.deposit_back_cents
    owed = books.row("select charge, tax from owed_part where entry = ?", (entry,))
    wanted = (settled.owed_charge_cents, settled.owed_tax_cents)
    assert (tuple(owed) if owed else (0, 0)) == wanted
    check_owed_share(settled)


def check_owed_share(settled: Any) -> None:
    """What stays owed has its tax in the proportion of charge and tax that were due, to the cent (without a tip)."""
    covered = settled.deposit_cents + sum(each.cents for each in settled.gifts)
    charge = max(0, settled.slip.charge_cents - covered)
    tax = min(settled.slip.tax_cents, settled.slip.charge_cents + settled.slip.tax_cents - covered)
    if not settled.tip_cents and charge + tax:
        exact = settled.paid.owed_cents * tax / (charge + tax)
        assert abs(settled.owed_tax_cents - exact) < 1


def check_balance(books: Books) -> None:
    assert purse_sums(books) == {"business": 0, "personal": 0}
    assert crossing_sum(books) == 0
    uneven = books.rows("select entry, purse from posting group by entry, purse having sum(cents) <> 0")
    assert uneven == []
    months = "select account, month, sum(cents) from ({}) group by 1, 2 having sum(cents) <> 0 order by 1, 2"
    posted = "select account, substr(date, 1, 7) as month, cents from posting join entry on number = entry"
    kept = books.rows(months.format("select account, month, cents from month_total"))
    assert [tuple(row) for row in kept] == [tuple(row) for row in books.rows(months.format(posted))]
    assert prove(books).findings == ()


def check_jobs(books: Books) -> None:
    """Each job holds and owes what its rows say, never less than nothing, and nothing is owed on what is here."""
    for job in read_jobs(books):
        row = books.row(
            "select coalesce(sum(charge), 0), coalesce(sum(tax), 0) from owed_part where job = ?", (job.id,)
        )
        assert row is not None
        assert row[0] + row[1] == job.owed_cents
        assert min(row[0], row[1], job.deposit_cents) >= 0
        assert job.owed_cents or (row[0], row[1]) == (0, 0)
        assert sum(each.cents for each in job.charges) == (
            sum(line.cents for line in job.lines) + job.pricing.top_up_cents + job.pricing.rush_cents
        )


def check_months(books: Books, last: date) -> None:
    """Month by month and in sum: the checks pass, and cash income is what came in less the tax in it."""
    year_start, day, sums = FIRST_DAY.replace(day=1), FIRST_DAY.replace(day=1), [0, 0]
    while day <= last:
        end = (day + timedelta(31)).replace(day=1) - timedelta(1)
        assert [each.name for each in run_checks(books, day, end) if not each.ok] == []
        month = read_statement(books, day, end)
        sums = [sums[0] + month.income_cents(), sums[1] + month.income_cents(accrual=True)]
        so_far = read_statement(books, year_start, end)
        assert sums == [so_far.income_cents(), so_far.income_cents(accrual=True)]
        assert so_far.income_cents() == received_without_tax(books, end)
        held = -sum(up_to(books, end, role) for role in ("customer_deposits", "gift_certificates"))
        assert so_far.income_cents(accrual=True) - so_far.income_cents() == owed_charge(books, end) - held
        day = end + timedelta(1)


MONEY = ("cash_box", "checking", "card_settlements", "card_fees", "bank_charges")
# Entries with customers: what else moves these accounts is no income on any method.
WITHOUT_A_JOB = "select number from entry where kind in ('gift', 'payout')"
WITH_CUSTOMERS = f"(job is not null or number in ({WITHOUT_A_JOB}) or reverses in ({WITHOUT_A_JOB}))"


def received_without_tax(books: Books, day: date) -> int:
    """What customers paid by a day, less the tax on what they took home, but for the tax that they still owe."""
    paid = sum(up_to(books, day, role, WITH_CUSTOMERS) for role in MONEY)
    taxed = -sum(up_to(books, day, role, WITH_CUSTOMERS) for role in ("sales_tax_payable", "licenses_and_taxes"))
    owed_tax = books.value(
        "select coalesce(sum(tax), 0) from owed_part join entry on entry.number = entry where date <= ?",
        (day.isoformat(),),
    )
    return paid - taxed + int(owed_tax)


def up_to(books: Books, day: date, role: str, entries: str = "true") -> int:
    """What the entries of a kind have put on an account by the end of a day."""
    sql = (
        "select coalesce(sum(cents), 0) from posting join account on account.id = account "
        f"join entry on entry.number = entry where role = ? and date <= ? and {entries}"
    )
    return int(books.value(sql, (role, day.isoformat())))


def in_entry(books: Books, entry: int, role: str) -> int:
    return int(
        books.value(
            "select coalesce(sum(cents), 0) from posting join account on account.id = account "
            "where entry = ? and role = ?",
            (entry, role),
        )
    )
