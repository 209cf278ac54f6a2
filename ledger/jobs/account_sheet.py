"""A customer's account on paper: what was charged, paid and given back, entry by entry, and what is owed now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.jobs.customers import Customer
from ledger.jobs.debts import OwedJob, read_owed_jobs
from ledger.paper.locales import LocalForms
from ledger.paper.sheet import Column, Facts, Heading, Notes, Row, Sheet, Table, Title, Total, Totals


@dataclass(frozen=True)
class AccountLine:
    """cents: above zero what is owed more, below zero what was paid or taken off."""

    day: date
    entry: int
    job: int
    text: str
    cents: int


@dataclass(frozen=True)
class CustomerAccount:
    workshop: str
    day: date
    customer: Customer
    lines: tuple[AccountLine, ...]
    owed: tuple[OwedJob, ...]

    @property
    def owed_cents(self) -> int:
        return sum(each.cents for each in self.owed)


def read_account(books: Books, customer: Customer) -> CustomerAccount:
    """Everything that moved what the customer owes, by the end of today."""
    rows = books.rows(
        "select entry.date, entry.number, entry.job, entry.text, posting.cents from posting "
        "join entry on entry.number = posting.entry join account on account.id = posting.account "
        "join job on job.id = entry.job "
        "where account.role = 'owed_by_customers' and job.customer = ? and entry.date <= ? order by entry.number",
        (customer.id, books.today.isoformat()),
    )
    lines = tuple(AccountLine(date.fromisoformat(row[0]), row[1], row[2], row[3], row[4]) for row in rows)
    return CustomerAccount(books.settings.name, books.today, customer, lines, read_owed_jobs(books, customer.id))


def account_name(account: CustomerAccount) -> str:
    """The name of its files."""
    return f"account-{account.customer.code}-{account.day.isoformat()}"


def account_sheet(account: CustomerAccount, forms: LocalForms) -> Sheet:
    """The account with every figure as its place writes it."""
    day = forms.day(account.day)
    return Sheet(
        letterhead=(account.workshop,),
        about=f"{account.workshop}: account of {account.customer.name}",
        blocks=(
            Title("Statement of account", day),
            Facts((("For", account.customer.name),)),
            Table(
                (Column("Day"), Column("What"), Column("Amount", is_amount=True)),
                tuple(
                    Row((forms.day(each.day), f"Job {each.job}: {each.text}", forms.amount(each.cents)))
                    for each in account.lines
                ),
            ),
            Totals((Total(f"Owed on {day}", forms.amount(account.owed_cents), is_sum=True),)),
            Heading("Open"),
            Notes(tuple(_open_lines(account, forms)) or ("Nothing is owed.",)),
        ),
    )


def _open_lines(account: CustomerAccount, forms: LocalForms) -> Iterator[str]:
    for each in account.owed:
        yield f"Job {each.job}, {each.piece}: {forms.amount(each.cents)} since {forms.day(each.since)}."
