"""Say what her own taxes go by: the accountant's percentage, last year's return, wages elsewhere, years settled."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ledger.actions.answers import AnswerRequest
from ledger.actions.answers import perform as answer
from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.money import plain_decimal
from ledger.taxes.own_returns import (
    go_by_last_year,
    say_due_within,
    say_filing_status,
    say_settled,
    say_total_tax,
    say_wages,
    total_tax,
    wages_cents,
    withheld_cents,
)
from ledger.taxes.self_employment import FilingStatus

ITEM = "income_tax_percent"
_WHOLE = Decimal(100)


@dataclass(frozen=True)
class IncomeTaxRequest:
    """percent of net profit with its two answers, as the accountant said; None goes by last year's total tax."""

    percent: Decimal | None
    asked: str
    with_self_employment: bool = False
    with_state: bool = False


@dataclass(frozen=True)
class LastYearRequest:
    """What a year's whole return came to. high_income: its adjusted gross income was above 150,000, or above 75,000 for
    her who files separately. part_year: it was no full twelve months. tax_year: last year unless given."""

    total_cents: int
    high_income: bool = False
    part_year: bool = False
    tax_year: int | None = None


@dataclass(frozen=True)
class WagesRequest:
    """Her own wages elsewhere in a year, and what is withheld towards her own taxes. tax_year: this year unless given.

    None leaves what she said before. status: how she files.
    """

    wages_cents: int | None
    withheld_cents: int | None = None
    tax_year: int | None = None
    status: FilingStatus | None = None


@dataclass(frozen=True)
class SettledRequest:
    """A year's return, filed and paid; settled=False takes that back."""

    tax_year: int
    settled: bool = True


def check_percent(percent: Decimal) -> None:
    """Raises NotUnderstood beyond 100 %, which no reader lets pass, and below zero."""
    if not 0 <= percent <= _WHOLE:
        raise NotUnderstood(
            f"{plain_decimal(percent)} % is no share of net profit.", "Give a percent from 0 to 100.", "percent"
        )


def say_income_tax(books: Books, request: IncomeTaxRequest) -> None:
    """Keep what income tax goes by from today. The percentage is the answer of an item of the set-up list.

    Raises NotFound where last year's tax is to be gone by and is not known, NotUnderstood, NotPossible.
    """
    with books.all_or_nothing() as together, together.writing() as write:
        if request.percent is not None:
            check_percent(request.percent)
            two = ("yes" if each else "no" for each in (request.with_self_employment, request.with_state))
            value = ", ".join((plain_decimal(request.percent), *two))
            answer(together, AnswerRequest(ITEM, value, request.asked))
            return
        _check_last_year(books)
        answer(together, AnswerRequest(ITEM, "by last year's tax", request.asked, state="does not apply"))
        go_by_last_year(together, write, request.asked, wanted=True)


def _check_last_year(books: Books) -> None:
    year = books.today.year - 1
    said = total_tax(books, year, books.today)
    if said is None:
        raise NotFound(
            f"What the return of {year} came to is not known.",
            "Say it with «twopurse tax last-year AMOUNT».",
            "percent",
        )
    if not said.is_twelve_months:
        raise NotPossible(
            f"The return of {year} was no full twelve months.", "Ask your accountant for a percentage.", "percent"
        )


def say_last_year(books: Books, request: LastYearRequest) -> int:
    """Keep what a year's return came to; the tax year. Raises NotPossible for a year that is not over."""
    year = books.today.year - 1 if request.tax_year is None else request.tax_year
    with books.writing() as write:
        say_total_tax(
            books, write, year, request.total_cents, high_income=request.high_income, part_year=request.part_year
        )
    return year


def say_own_wages(books: Books, request: WagesRequest) -> int:
    """Keep her wages elsewhere, and how she files; the tax year. Raises NotPossible."""
    year = books.today.year if request.tax_year is None else request.tax_year
    if year > books.today.year:
        raise NotPossible(f"The tax year {year} has not begun.", "Check the year.", "year")
    wages = wages_cents(books, year, books.today) if request.wages_cents is None else request.wages_cents
    withheld = withheld_cents(books, year, books.today) if request.withheld_cents is None else request.withheld_cents
    if withheld > wages:
        raise NotPossible("More is withheld than the wages are.", "Check both amounts.", "withheld")
    with books.writing() as write:
        say_wages(books, write, year, wages, withheld)
        if request.status is not None:
            say_filing_status(books, write, request.status)
    return year


def say_filing_as(books: Books, status: FilingStatus) -> None:
    with books.writing() as write:
        say_filing_status(books, write, status)


def settle_year(books: Books, request: SettledRequest) -> None:
    """Mark a year's return as filed and paid, or take that back. Raises NotPossible for a year that is not over."""
    with books.writing() as write:
        say_settled(books, write, request.tax_year, settled=request.settled)


def say_due_soon_days(books: Books, days: int) -> None:
    """Keep how many days ahead a bill counts as owed. Raises NotPossible."""
    with books.writing() as write:
        say_due_within(books, write, days)
