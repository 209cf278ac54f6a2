"""What changes a loan and books nothing: a month skipped with the lender's leave, and a new rate from a day on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.machine.loan_record import Loan, keep_event, last_event, loan_numbered
from ledger.machine.schedule import What


@dataclass(frozen=True)
class SkipRequest:
    """loan: its number, None for the only one that runs. takes_back: the last month skipped was none."""

    loan: int | None = None
    takes_back: bool = False


@dataclass(frozen=True)
class RateRequest:
    """percent: a year, None where the last new rate is taken back. from_date: today unless given."""

    percent: Decimal | None
    from_date: date | None = None
    loan: int | None = None


@dataclass(frozen=True)
class ScheduleRequest:
    """Which loan is looked at: its number, None for the only one that runs."""

    loan: int | None = None


def skip(books: Books, request: SkipRequest) -> Loan:
    """The loan with the month skipped, or without the last that was. Raises NotFound, NotPossible."""
    with books.writing() as write:
        loan = loan_numbered(books, request.loan)
        if request.takes_back:
            _take_back(books, write, loan, "skipped", "No month was skipped")
        else:
            _check_runs(loan)
            keep_event(write, loan.id, "skipped", books.today)
        return loan_numbered(books, loan.id)


def set_rate(books: Books, request: RateRequest) -> Loan:
    """The loan at its new rate, or without the last that was entered. Raises NotFound, NotPossible."""
    with books.writing() as write:
        loan = loan_numbered(books, request.loan)
        if request.percent is None:
            _take_back(books, write, loan, "rate", "No new rate was entered")
        else:
            _check_runs(loan)
            keep_event(write, loan.id, "rate", request.from_date or books.today, percent=request.percent)
        return loan_numbered(books, loan.id)


def _check_runs(loan: Loan) -> None:
    if loan.is_paid_off:
        raise NotPossible(f"Nothing is left of {loan.words}.", "Say which one is meant with --loan.", "loan")


def _take_back(books: Books, write: Writing, loan: Loan, what: What, none: str) -> None:
    last = last_event(books, loan, what)
    if last is None:
        raise NotPossible(f"{none} on {loan.words}.", "There is nothing to take back.", "loan")
    percent = Decimal(last["percent"]) if last["percent"] is not None else None
    day = date.fromisoformat(last["on_date"])
    keep_event(write, last["loan"], what, day, percent=percent, takes_back=last["id"])
