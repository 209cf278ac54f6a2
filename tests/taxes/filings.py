"""Returns filed and paid in the small workshop, for the tests of sales tax returns."""

from __future__ import annotations

from datetime import date
from typing import Any

from ledger.actions import file_tax, pay_tax
from ledger.books.books import Books
from ledger.periods import Period, parse_period
from ledger.taxes import filing_rules
from ledger.taxes.filed_return import FiledReturn
from ledger.taxes.filing_rules import filing_period
from ledger.taxes.return_entries import ReturnPaid
from ledger.taxes.returns import Return, returns_book
from ledger.taxes.worksheet import Worksheet
from tests.workshop import cents, job_for, on_day, picked_up

OFFICE = "the revenue office"
QUARTER = "2026-Q1"
APRIL = date(2026, 4, 10)
JULY = date(2026, 7, 10)


def sold(books: Books, amount: str, day: date, *paid: str, **more: Any) -> int:
    """A job of one line of work, taken in and picked up on a day; its number."""
    then = on_day(books, day)
    return picked_up(then, job_for(then, amount, **more), *(paid or ("cash",))).settlement.job.id


def period_of(books: Books, text: str | None) -> Period:
    return filing_period(books, parse_period(text) if text is not None else None)


def worked_out(books: Books, period: str | None = None) -> Return:
    """The return of a period: the last one that was filed, or the open one."""
    wanted = period_of(books, period)
    return returns_book(books, wanted).newest_return(wanted)


def sheet_of(books: Books, period: str | None = None) -> Worksheet:
    return worked_out(books, period).worksheet


def open_sheet(books: Books, period: str) -> Worksheet:
    """What is still to be filed of a period, an amended return among it."""
    wanted = period_of(books, period)
    return returns_book(books, wanted).open_return(wanted).worksheet


def file(books: Books, day: date, period: str = QUARTER, *, is_amended: bool = False) -> file_tax.ToFile:
    request = file_tax.FileRequest(parse_period(period), is_amended)
    return file_tax.perform(on_day(books, day), request)[0]


def unfile(books: Books, day: date, period: str = QUARTER) -> None:
    file_tax.unfile(on_day(books, day), file_tax.UnfileRequest(parse_period(period), "typed twice"))


def pay_return(
    books: Books, day: date, period: str = QUARTER, amount: str | None = None, from_name: str = "checking"
) -> tuple[FiledReturn, ReturnPaid, int]:
    """The return as it was before, what the payment settled, and the number of its entry."""
    request = pay_tax.PayRequest(parse_period(period), cents(amount) if amount is not None else None, from_name)
    filed, paid, sealed = pay_tax.perform(on_day(books, day), request)
    return filed, paid, sealed.number


def told_basis(books: Books, basis: Any, day: date) -> None:
    with on_day(books, day).writing() as write:
        filing_rules.choose_basis(books, write, basis, OFFICE, day)


def told_corrections(books: Books, corrections: Any, day: date) -> None:
    with books.writing() as write:
        filing_rules.choose_corrections(on_day(books, day), write, corrections, OFFICE)


def told_below_zero(books: Books, below_zero: Any, day: date) -> None:
    with books.writing() as write:
        filing_rules.choose_below_zero(on_day(books, day), write, below_zero, OFFICE)


def told_allowance(books: Books, allowance: Any, day: date) -> None:
    with books.writing() as write:
        filing_rules.choose_allowance(on_day(books, day), write, allowance)
