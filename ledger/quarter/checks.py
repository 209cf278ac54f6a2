"""The checks that tie a period's totals to the books: each passes, or fails by an amount that is shown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from ledger.books.balances import balances, movements, read_accounts
from ledger.books.before_books import STOOD_BEFORE
from ledger.books.books import Books
from ledger.jobs.payouts import card_money
from ledger.machine.loan_record import loan_difference_cents, owed_on_account, read_loans
from ledger.quarter.sales_tax import read_sales_tax
from ledger.taxes.tax_payable import tax_payable_off_cents


@dataclass(frozen=True)
class Check:
    """off_cents: by how much the two sides differ, zero where it passed. fault: what is wrong that is no amount."""

    name: str
    off_cents: int = 0
    fault: str = ""

    @property
    def ok(self) -> bool:
        return self.off_cents == 0 and not self.fault


def run_checks(books: Books, start: date, end: date) -> tuple[Check, ...]:
    """The checks of a period, for the days from start to end, both included."""
    accounts = read_accounts(books)
    moved = movements(books, start, end)
    at_end = {each.account.id: each.cents for each in balances(books, end, accounts)}
    purse_sums = [
        (purse, sum(at_end[each.id] for each in accounts.all if each.purse == purse))
        for purse in ("business", "personal")
    ]
    slips = _sum(books, _SLIPS, start, end)
    income = moved[accounts["job_income"].id] + moved[accounts["returns_and_allowances"].id]
    charges = _sum(books, _CHARGES, start, end)
    collected = read_sales_tax(books, start, end).collected_cents
    payable = _sum(books, _PAYABLE_BY_SALES, start, end)
    open_deposits = _sum(books, _BY_JOB.format(role="customer_deposits"), end)
    owed_parts = _sum(books, _OWED, end)
    card = at_end[accounts["card_settlements"].id]
    crossing = sum(at_end[each.id] for each in accounts.all if each.crosses)
    return (
        *(Check(f"the {purse} purse adds to zero", off) for purse, off in purse_sums),
        Check("job income equals the slips", income + slips + charges),
        Check("sales tax collected equals what its account took in", payable + collected),
        Check("deposits held equal those of the jobs", at_end[accounts["customer_deposits"].id] - open_deposits),
        Check("owed by customers equals the open balances", at_end[accounts["owed_by_customers"].id] - owed_parts),
        Check(
            "gift certificates equal their list", at_end[accounts["gift_certificates"].id] + _sum(books, _GIFTS, end)
        ),
        Check(
            "card money equals the payments not paid out",
            card - sum(each.cents for each in card_money(books, end, end)),
        ),
        Check("the workshop mirror equals the crossing accounts", crossing),
        Check("tax payable equals the returns not filed or not paid", tax_payable_off_cents(books, end)),
        *_loan_check(books, end),
    )


def _loan_check(books: Books, end: date) -> Iterator[Check]:
    """Only where there is a loan, or something stands on its account."""
    if read_loans(books, end) or owed_on_account(books, end):
        yield Check("the machine loan equals its schedules", loan_difference_cents(books, end))


# What sales and refunds put on the account; paying the state is no sale and has no tax lines.
_PAYABLE_BY_SALES = (
    "select coalesce(sum(posting.cents), 0) from posting join account on account.id = posting.account "
    "join entry on entry.number = posting.entry where account.role = 'sales_tax_payable' and date between ? and ? "
    f"and exists (select 1 from tax_line where tax_line.entry = entry.number) and not {STOOD_BEFORE}"
)
_SLIPS = (
    "select coalesce(sum(slip_line.cents), 0) from slip_line join entry on entry.number = slip_line.entry "
    f"where date between ? and ? and not {STOOD_BEFORE}"
)
# A charge for a returned payment has a slip, and is other income.
_CHARGES = (
    "select coalesce(sum(posting.cents), 0) from posting join account on account.id = posting.account "
    "join entry on entry.number = posting.entry where account.role = 'other_income' and date between ? and ? "
    "and exists (select 1 from slip_line where slip_line.entry = entry.number)"
)
_GIFTS = (
    "select coalesce(sum(gift_movement.cents), 0) from gift_movement "
    "join entry on entry.number = gift_movement.entry where date <= ?"
)
_BY_JOB = (
    "select coalesce(sum(posting.cents), 0) from posting join account on account.id = posting.account "
    "join entry on entry.number = posting.entry where account.role = '{role}' and date <= ? and entry.job is not null"
)
_OWED = (
    "select coalesce(sum(charge + tax), 0) from owed_part join entry on entry.number = owed_part.entry where date <= ?"
)


def _sum(books: Books, sql: str, *days: date) -> int:
    return int(books.value(sql, tuple(day.isoformat() for day in days)))
