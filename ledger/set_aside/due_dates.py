"""The year's strip: every day in the next twelve months on which something is due, and what it will take."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from ledger.books.books import Books
from ledger.periods import EstimatedTaxPeriod, Period, estimated_tax_periods
from ledger.set_aside.due_soon import SoonDue
from ledger.set_aside.estimated import EstimatedYear, read_estimated
from ledger.set_aside.own_tax import OwnTax
from ledger.taxes.filed_returns import credit_left
from ledger.taxes.filing_periods import period_holding, periods_from
from ledger.taxes.filing_rules import due_date
from ledger.taxes.returns import ReturnsBook

Kind = Literal["sales tax", "estimated tax", "income tax return", "bill"]
STRIP_DAYS = 365
_DAY = timedelta(days=1)
_NOT_BEGUN = "not begun"


@dataclass(frozen=True)
class Due:
    """short: `what` in fewer words. cents: what it will take as far as is known today, None where nothing can be said
    yet. note: what to know of it. is_late: its day has passed, and it is not settled."""

    kind: Kind
    what: str
    short: str
    day: date
    cents: int | None
    note: str = ""
    is_late: bool = False


def strip(books: Books, years: Sequence[OwnTax], soon: Sequence[SoonDue], on: date) -> tuple[Due, ...]:
    """Everything that is late or falls due within a year of a day, in the order of the days."""
    bills = (Due("bill", each.what, each.what, each.day, each.cents, each.note, each.day < on) for each in soon)
    found = [*_sales_tax(books, on), *_own_tax(books, years, on), *bills]
    last = on + timedelta(days=STRIP_DAYS)
    return tuple(sorted((each for each in found if each.day <= last), key=lambda due: (due.day, due.what)))


def next_due(dues: Sequence[Due], on: date) -> Due | None:
    """The first from a day on that takes money, or wants a return all the same, as sales tax does without sales."""
    return next((each for each in dues if each.day >= on and (each.cents or each.kind == "sales tax")), None)


def _sales_tax(books: Books, on: date) -> Iterator[Due]:
    """Returns that are filed and not paid, those to be filed, and those of the periods to come.

    None before she said how often she files. A credit of earlier returns is used up by the oldest ones first.
    """
    book = ReturnsBook(books)
    for filed in book.filed:
        if not filed.is_claimed and filed.to_pay_on(on) > 0:
            yield _return_of(
                filed.period, filed.due_on, filed.to_pay_on(on), "filed, not paid", is_late=filed.due_on < on
            )
    if not book.rules:
        return
    credit = credit_left(book.filed)
    for each in book.open_returns():
        owed = each.worksheet.total_cents + each.worksheet.carried_cents
        used = max(0, min(credit, owed))
        credit -= used
        if each.due_on is not None:
            running = "so far" if each.period.end >= on else ""
            yield _return_of(each.period, each.due_on, max(0, owed - used), running, is_late=each.due_on < on)
    running_period = period_holding(book.rules, on)
    for period in periods_from(book.rules, running_period.end + _DAY, on + timedelta(days=STRIP_DAYS)):
        day = due_date(books, period)
        if day is not None:
            yield _return_of(period, day, None, _NOT_BEGUN)


def _return_of(period: Period, day: date, cents: int | None, note: str, *, is_late: bool = False) -> Due:
    return Due("sales tax", f"Sales tax, {period.label}", f"Sales tax {period.label}", day, cents, note, is_late)


def _own_tax(books: Books, years: Sequence[OwnTax], on: date) -> Iterator[Due]:
    """The dates of estimated tax, and the return of each year that is not settled, which takes what the dates leave.

    None of them where no published figure applies: in another currency than the US dollar, and before those kept.
    """
    for year in years:
        estimated = read_estimated(books, year, on)
        if year.is_settled or estimated.required is None:
            continue
        taken = 0
        for due in _instalments(estimated, on):
            taken += due.cents or 0
            yield due
        rest = max(0, year.left.total_cents - taken)
        due_on = estimated_tax_periods(year.tax_year + 1)[0].due
        if rest or due_on >= on:
            yield _return_due(year.tax_year, due_on, rest, on)
        if year.tax_year == on.year:
            for period in estimated_tax_periods(on.year + 1):
                yield _estimated_tax_of(period, None, _NOT_BEGUN)


def _return_due(tax_year: int, day: date, cents: int, on: date) -> Due:
    what, short = f"Income tax return {tax_year}", f"Income tax {tax_year}"
    so_far = "on the profit so far" if on.year == tax_year else ""
    return Due("income tax return", what, short, day, cents, so_far, is_late=day < on)


def _instalments(estimated: EstimatedYear, on: date) -> Iterator[Due]:
    """The dates to come. What earlier dates still want is due at once, and stands with the next of them."""
    behind = estimated.behind_cents(on)
    for each in estimated.instalments:
        if each.period.due >= on:
            note = "some of it from earlier dates" if behind else ""
            yield _estimated_tax_of(each.period, each.left_cents + behind, note)
            behind = 0


def _estimated_tax_of(period: EstimatedTaxPeriod, cents: int | None, note: str) -> Due:
    what = f"Estimated tax {period.tax_year}, {period.number} of 4"
    return Due("estimated tax", what, f"Estimated tax {period.number}/4", period.due, cents, note)
