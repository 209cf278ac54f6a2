"""Her own taxes: the four payments of each year, and in April the return of the year before, told, paid and settled."""

from __future__ import annotations

from datetime import timedelta

from ledger.actions import own_tax_choices, pay_estimated
from ledger.books.balances import balance
from ledger.books.books import Books
from ledger.example.data_files import cents, read
from ledger.example.diary import Act, Diary
from ledger.example.working_days import WorkingDays
from ledger.periods import EstimatedTaxPeriod, estimated_tax_periods
from ledger.set_aside.own_tax import read_own_tax
from ledger.taxes import own_returns

PAYMENTS = 4


def own_taxes(diary: Diary, days: WorkingDays) -> None:
    """Write returns and payments into the diary, the return of a year before the first payment of the next."""
    told = read("own_tax")
    first, last = days.first.year, days.last.year
    for year in range(first, last):
        day = estimated_tax_periods(year + 1)[0].due - timedelta(days=told["return_before"])
        if day <= days.last:
            diary.write(days.on_or_after(day), _return(year, is_first=year == first))
    for period in (each for year in range(first, last + 1) for each in estimated_tax_periods(year)):
        day = period.due - timedelta(days=told["payment_before"])
        if days.first <= day <= days.last:
            diary.write(days.on_or_after(day), _payment(period))


def _return(tax_year: int, *, is_first: bool) -> Act:
    def act(books: Books) -> None:
        told = read("own_tax")
        year = read_own_tax(books, tax_year, books.today)
        by_the_books = year.tax.total_cents // 1_00 * 1_00
        total = cents(told["first_total"]) if is_first else max(cents(told["least"]), by_the_books)
        own_tax_choices.say_last_year(books, own_tax_choices.LastYearRequest(total, tax_year=tax_year))
        # That of the first year was for the most part on wages, and withheld.
        if not is_first:
            _pay(books, total - year.paid_cents, tax_year, None)
        own_tax_choices.settle_year(books, own_tax_choices.SettledRequest(tax_year))

    return act


def _payment(period: EstimatedTaxPeriod) -> Act:
    """A fourth of what last year's return came to, as her accountant says; nothing while none is known."""

    def act(books: Books) -> None:
        last_year = own_returns.total_tax(books, period.tax_year - 1, books.today)
        if last_year is not None:
            fourth, step = last_year.total_tax_cents // PAYMENTS, cents(read("own_tax")["step"])
            _pay(books, -(-fourth // step) * step, period.tax_year, period.number)

    return act


def _pay(books: Books, amount: int, tax_year: int, period: int | None) -> None:
    """From tax savings, as far as they reach."""
    amount = min(amount, balance(books, "tax_savings", books.today))
    if amount > 0:
        request = pay_estimated.EstimatedTaxRequest(
            amount, tax_year=tax_year, period=period, with_return=period is None
        )
        pay_estimated.perform(books, request)
