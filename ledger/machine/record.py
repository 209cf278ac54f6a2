"""What the books know of the machine: its costs, and what the workshop earned month by month."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from ledger.books.accounts import Accounts
from ledger.books.balances import movements, read_accounts
from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.machine.payback import Month, Payback, payback
from ledger.periods import month_holding

RECENT_DAYS = 90


def add_cost(books: Books, write: Writing, what: str, cents: int, on: date, entry: int | None = None) -> None:
    """A part of the payback cost: a figure that stays, whatever the machine account shows."""
    write.add("machine_cost", what=what, cents=cents, on_date=on.isoformat(), entry=entry)


def read_payback(books: Books) -> Payback:
    """Payback at the end of today."""
    today, accounts = books.today, read_accounts(books)
    all_time = movements(books, books.settings.begun_on, today)
    recent_start = max(books.settings.begun_on, today - timedelta(days=RECENT_DAYS - 1))
    return payback(
        _costs(books, today) + all_time[accounts["loan_interest"].id],
        _taken_in(accounts, all_time),
        _earned(accounts, all_time),
        _earned(accounts, movements(books, recent_start, today)),
        _jobs_picked_up(books, recent_start, today),
        _whole_months(books, accounts, today),
        today,
    )


def _costs(books: Books, on: date) -> int:
    return int(books.value("select coalesce(sum(cents), 0) from machine_cost where on_date <= ?", (on.isoformat(),)))


def _taken_in(accounts: Accounts, moved: Mapping[int, int]) -> int:
    """Job income, net of discount and refunds; no tips, no other income."""
    return -sum(moved[accounts[role].id] for role in ("job_income", "returns_and_allowances"))


def _earned(accounts: Accounts, moved: Mapping[int, int]) -> int:
    """What was taken in, less balances written off and every expense; loan interest is part of the payback cost."""
    expenses = sum(moved[each.id] for each in accounts.of_kind("expense") if each.role != "loan_interest")
    return _taken_in(accounts, moved) - moved[accounts["balances_written_off"].id] - expenses


def _jobs_picked_up(books: Books, start: date, end: date) -> int:
    """Pickups of these days that still stood at their end."""
    return int(
        books.value(
            "select count(*) from job_event where what = 'picked up' and on_date between ?1 and ?2 and not exists "
            "(select 1 from entry as mirror where mirror.reverses = job_event.entry and mirror.date <= ?2)",
            (start.isoformat(), end.isoformat()),
        )
    )


def _whole_months(books: Books, accounts: Accounts, today: date) -> list[Month]:
    first = books.value(
        "select min(on_date) from job_event where what = 'picked up' and on_date <= ?", (today.isoformat(),)
    )
    months: list[Month] = []
    if first is None:
        return months
    month = month_holding(date.fromisoformat(first))
    while month.end <= today:  # a figure of a day is that of its end
        months.append(Month(month.start, _earned(accounts, movements(books, month.start, month.end))))
        month = month_holding(month.end + timedelta(days=1))
    return months
