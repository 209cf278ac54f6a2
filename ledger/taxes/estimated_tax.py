"""Estimated tax: what the year wants in all, a quarter of it on each of the four dates, and how far it is paid.

The required annual payment is the lesser of 90 % of this year's and 100 or 110 % of last year's total tax, the latter
only where last year was a full twelve months; less withholding, which counts as paid evenly. Each date wants a quarter
of it, whatever the period earned. None is wanted where less than 1,000 is owed after withholding. Source: Internal
Revenue Code, section 6654(c), (d), (e) and (g). Amounts in cents of the US dollar.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from ledger.figures.look_up import figure, latest_figure
from ledger.figures.published import Figure
from ledger.money import round_half_up, split_in_proportion
from ledger.periods import EstimatedTaxPeriod
from ledger.taxes.self_employment import late_notes

_CENTS = 100


@dataclass(frozen=True)
class EstimatedTaxFigures:
    """The published figures of a tax year. Parts of one; amounts in cents."""

    least_owed_cents: Fraction
    this_year_part: Fraction
    last_year_part: Fraction
    last_year_high_income_part: Fraction
    high_income_above_cents: Fraction
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class LastYear:
    """Last year's return: its total tax; whether its adjusted gross income was above 150,000 (75,000 filing
    separately); and whether it was a full twelve months."""

    total_tax_cents: int
    has_high_income: bool = False
    is_twelve_months: bool = True


@dataclass(frozen=True)
class RequiredPayment:
    """by_this_year, by_last_year: the two figures of which the lesser holds, None for one that is not known or does not
    count. withheld: taken off. cents: what the four dates want together."""

    by_this_year_cents: int | None
    by_last_year_cents: int | None
    withheld_cents: int
    cents: int

    @property
    def annual_cents(self) -> int:
        """The required annual payment, before withholding."""
        known = [each for each in (self.by_this_year_cents, self.by_last_year_cents) if each is not None]
        return min(known, default=0)


@dataclass(frozen=True)
class Instalment:
    """What one of the four dates wants, and how much of it is covered by what was paid for the year."""

    period: EstimatedTaxPeriod
    wanted_cents: int
    covered_cents: int

    @property
    def left_cents(self) -> int:
        return self.wanted_cents - self.covered_cents


def safe_harbour_cents(last_year: LastYear, figures: EstimatedTaxFigures) -> int | None:
    """100 or 110 % of last year's total tax; None where last year was no full twelve months."""
    if not last_year.is_twelve_months:
        return None
    part = figures.last_year_high_income_part if last_year.has_high_income else figures.last_year_part
    return round_half_up(last_year.total_tax_cents * part)


def required_payment(
    this_year_cents: int | None, last_year: LastYear | None, withheld_cents: int, figures: EstimatedTaxFigures
) -> RequiredPayment:
    """What a year's dates want together. this_year_cents: this year's total tax as far as it is known, else None."""
    by_this_year = None if this_year_cents is None else round_half_up(this_year_cents * figures.this_year_part)
    by_last_year = None if last_year is None else safe_harbour_cents(last_year, figures)
    is_small = this_year_cents is not None and this_year_cents - withheld_cents < figures.least_owed_cents
    required = RequiredPayment(by_this_year, by_last_year, withheld_cents, 0)
    return required if is_small else replace(required, cents=max(0, required.annual_cents - withheld_cents))


def instalments(required_cents: int, paid_cents: int, periods: Sequence[EstimatedTaxPeriod]) -> tuple[Instalment, ...]:
    """A quarter for each date, in whole cents that add up; what was paid for the year covers the earliest first."""
    found = []
    for period, wanted in zip(periods, split_in_proportion(required_cents, [1] * len(periods)), strict=True):
        covered = min(wanted, max(0, paid_cents))
        found.append(Instalment(period, wanted, covered))
        paid_cents -= covered
    return tuple(found)


def behind_cents(found: Sequence[Instalment], today: date) -> int:
    """What the dates that have passed still want."""
    return sum(each.left_cents for each in found if each.period.due < today)


def ahead_cents(found: Sequence[Instalment], paid_cents: int, today: date) -> int:
    """What was paid beyond the dates that have passed."""
    return max(0, paid_cents - sum(each.wanted_cents for each in found if each.period.due < today))


def filing_figures(tax_year: int, *, asked_by: str, separate: bool = False) -> EstimatedTaxFigures:
    """The figures for a packet. Raises NoFigure for a year that is not kept, with the file to add it to."""
    return _figures(tax_year, lambda name, on: figure(name, on, asked_by=asked_by), separate=separate)


def set_aside_figures(tax_year: int, *, separate: bool = False) -> EstimatedTaxFigures:
    """The figures for the set-aside: after the last year kept those of that one, marked. Raises NoFigure before it."""
    return _figures(tax_year, lambda name, on: latest_figure(name, on), separate=separate)


def _figures(tax_year: int, look_up: Callable[[str, date], Figure], *, separate: bool) -> EstimatedTaxFigures:
    on = date(tax_year, 12, 31)
    read: list[Figure] = []

    def value(name: str) -> Fraction:
        read.append(look_up(name, on))
        return Fraction(read[-1].value)

    above = "estimated_tax_high_income_above" + ("_separate" if separate else "")
    return EstimatedTaxFigures(
        least_owed_cents=value("estimated_tax_least_owed") * _CENTS,
        this_year_part=value("estimated_tax_this_year_percent") / 100,
        last_year_part=value("estimated_tax_last_year_percent") / 100,
        last_year_high_income_part=value("estimated_tax_last_year_high_income_percent") / 100,
        high_income_above_cents=value(above) * _CENTS,
        notes=late_notes(read),
    )
