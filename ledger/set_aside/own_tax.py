"""What a tax year of her own comes to so far, and what of it is paid: on the cash-method profit of the books."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from checklists.choices import income_tax_share
from ledger.books.before_books import read_year_before
from ledger.books.books import Books
from ledger.errors import FigureNotKnown, NotPossible
from ledger.money import Currency, plain_amount, plain_percent, round_half_up
from ledger.periods import estimated_tax_period_holding
from ledger.results.period import read_statement
from ledger.taxes import estimated_tax, self_employment
from ledger.taxes.estimated_tax import EstimatedTaxFigures, LastYear, safe_harbour_cents
from ledger.taxes.income_tax import (
    Left,
    Percentage,
    YearTax,
    left_after,
    tax_before_income_tax,
    tax_by_last_year,
    tax_by_percentage,
    tax_by_return,
)
from ledger.taxes.own_returns import (
    Payment,
    filing_status,
    goes_by_last_year,
    is_settled,
    read_payments,
    total_tax,
    wages_cents,
    withheld_cents,
)
from ledger.taxes.self_employment import FilingStatus, ScheduleSE, SelfEmploymentFigures, schedule_se

_CURRENCY = "USD"
_ESTIMATED_PERIODS = 4
NOT_DOLLARS = "Self-employment tax is worked out for books in US dollars alone: ask your accountant."
_NOTHING = Left(0, 0, 0, 0)


@dataclass(frozen=True)
class OwnTax:
    """A tax year at the end of a day. profit: cash method, so far. percentage: what income tax goes by, if it does.

    notes: the sentences that have to stand beside it.
    """

    tax_year: int
    profit_cents: int
    schedule: ScheduleSE
    tax: YearTax
    percentage: Percentage | None
    last_year: LastYear | None
    withheld_cents: int
    payments: tuple[Payment, ...]
    is_settled: bool
    notes: tuple[str, ...]

    @property
    def paid_cents(self) -> int:
        """Payments and withholding."""
        return self.withheld_cents + sum(each.cents for each in self.payments)

    @property
    def estimated_cents(self) -> int:
        """What was paid on the four dates; not what was paid with the return."""
        return sum(each.cents for each in self.payments if each.period is not None)

    @property
    def left(self) -> Left:
        """What is still owed of it; nothing once its return is settled."""
        return _NOTHING if self.is_settled else left_after(self.tax, self.paid_cents)


def read_own_tax(books: Books, tax_year: int, on: date) -> OwnTax:
    """A tax year's own taxes on what the books hold at the end of a day."""
    end = min(date(tax_year, 12, 31), on)
    profit = _profit(books, tax_year, end)
    figures, figure_notes = _self_employment_figures(books, tax_year)
    schedule = _schedule(books, profit, figures, tax_year, on)
    percentage, last_year = _percentage(books, end, on), total_tax(books, tax_year - 1, on)
    tax = _year_tax(books, schedule, percentage, last_year, tax_year, on)
    notes = [*figure_notes, *tax.notes]
    if schedule.status_is_open:
        notes.append("Additional Medicare tax is by its lowest threshold until you say how you file: «tax filing-as».")
    return OwnTax(
        tax_year=tax_year,
        profit_cents=profit,
        schedule=schedule,
        tax=tax,
        percentage=percentage,
        last_year=last_year,
        withheld_cents=withheld_cents(books, tax_year, on),
        payments=read_payments(books, tax_year, on),
        is_settled=is_settled(books, tax_year, on),
        notes=tuple(dict.fromkeys(notes)),
    )


def work_out_schedule(
    books: Books, tax_year: int, profit_cents: int | None, wages: int | None, status: FilingStatus | None
) -> ScheduleSE:
    """Schedule SE as a filing figure, on what the books hold unless it is given.

    Raises NoFigure for a year that is not kept, NotPossible in another currency.
    """
    if books.currency.code != _CURRENCY:
        raise NotPossible(NOT_DOLLARS, "Begin books in USD for it.", "currency")
    figures = self_employment.filing_figures(tax_year, asked_by="Schedule SE")
    if profit_cents is None:
        end = min(date(tax_year, 12, 31), books.today)
        profit_cents = _profit(books, tax_year, max(end, date(tax_year, 1, 1)))
    if wages is None:
        wages = wages_cents(books, tax_year, books.today)
    return schedule_se(profit_cents, figures, wages_cents=wages, status=status or filing_status(books, books.today))


def estimated_figures(books: Books, tax_year: int, on: date) -> EstimatedTaxFigures | None:
    """The published figures of estimated tax; None in another currency, and for a year before those that are kept."""
    if books.currency.code != _CURRENCY:
        return None
    try:
        return estimated_tax.set_aside_figures(tax_year, separate=filing_status(books, on) == "separate")
    except FigureNotKnown:
        return None


def high_income_limit(figures: EstimatedTaxFigures, currency: Currency) -> str:
    """The sentence that tells where the higher part of last year's tax is asked for."""
    above = plain_amount(round_half_up(figures.high_income_above_cents), currency)
    part = plain_percent(Decimal(round_half_up(figures.last_year_high_income_part * 100)))
    return f"High income: last year's adjusted gross income was above {above}; then {part} % of its tax is asked for."


def _profit(books: Books, tax_year: int, end: date) -> int:
    """Net profit on the cash method, with what the year had before the books."""
    in_the_books = read_statement(books, date(tax_year, 1, 1), end).net_cents()
    return in_the_books + read_year_before(books, tax_year).net_cents


def _self_employment_figures(books: Books, tax_year: int) -> tuple[SelfEmploymentFigures | None, tuple[str, ...]]:
    if books.currency.code != _CURRENCY:
        return None, (NOT_DOLLARS,)
    try:
        figures = self_employment.set_aside_figures(tax_year)
    except FigureNotKnown as refused:
        return None, (refused.what,)
    return figures, figures.notes


def _schedule(
    books: Books, profit_cents: int, figures: SelfEmploymentFigures | None, tax_year: int, on: date
) -> ScheduleSE:
    if figures is None:
        nothing = Fraction(0)
        return ScheduleSE(Fraction(profit_cents), nothing, nothing, nothing, nothing, nothing, status_is_open=False)
    wages, status = wages_cents(books, tax_year, on), filing_status(books, on)
    return schedule_se(profit_cents, figures, wages_cents=wages, status=status)


def _percentage(books: Books, end: date, on: date) -> Percentage | None:
    """The one that held at the year's end or, where there was none yet, holds now."""
    share = income_tax_share(books, end) or income_tax_share(books, on)
    if share is None:
        return None
    return Percentage(share.percent, share.includes_self_employment, share.includes_state)


def _year_tax(
    books: Books,
    schedule: ScheduleSE,
    percentage: Percentage | None,
    last_year: LastYear | None,
    tax_year: int,
    on: date,
) -> YearTax:
    made = total_tax(books, tax_year, on)
    if made is not None:
        return tax_by_return(schedule, made.total_tax_cents)
    if percentage is not None:
        return tax_by_percentage(schedule, percentage)
    figures = estimated_figures(books, tax_year, on)
    if last_year is None or figures is None or not goes_by_last_year(books, on):
        return tax_before_income_tax(schedule)
    whole = safe_harbour_cents(last_year, figures)
    if whole is None:
        before = tax_before_income_tax(schedule)
        return replace(before, notes=(*before.notes, "Last year was no full twelve months, so its tax does not count."))
    return tax_by_last_year(schedule, whole * _quarters_begun(tax_year, on) // _ESTIMATED_PERIODS)


def _quarters_begun(tax_year: int, on: date) -> int:
    """How many of the year's four periods have begun: as many quarters of last year's tax are kept back."""
    return estimated_tax_period_holding(on).number if on.year == tax_year else _ESTIMATED_PERIODS
