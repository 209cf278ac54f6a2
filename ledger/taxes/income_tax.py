"""A year's own taxes: self-employment tax, and income tax by what somebody said, never by a guess.

Income tax is her accountant's percentage of net profit with its two answers, or last year's total tax of the whole
return under the safe-harbour rule, which has self-employment tax in it; or what the return itself came to, once that is
known. Without any of these there is no income tax in the figure, and it says so. Amounts in cents, each line rounded
once. Source of the safe harbour: Internal Revenue Code, section 6654(d)(1).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from ledger.money import percent_of, round_half_up
from ledger.taxes.self_employment import ScheduleSE

Basis = Literal["percentage", "last year's tax", "the return", "nobody"]

ASK_ACCOUNTANT = "Before income tax: ask your accountant what percentage of net profit to keep back."


@dataclass(frozen=True)
class Percentage:
    """Her accountant's percentage of net profit, and what it includes."""

    percent: Decimal
    includes_self_employment: bool
    includes_state: bool


@dataclass(frozen=True)
class YearTax:
    """What a tax year comes to so far. The three lines add up to `total_cents`. notes: what to say beside them."""

    self_employment_cents: int
    additional_medicare_cents: int
    income_tax_cents: int
    basis: Basis
    notes: tuple[str, ...] = ()

    @property
    def total_cents(self) -> int:
        return self.self_employment_cents + self.additional_medicare_cents + self.income_tax_cents

    @property
    def is_before_income_tax(self) -> bool:
        return self.basis == "nobody"


def tax_by_percentage(schedule: ScheduleSE, percentage: Percentage) -> YearTax:
    """The percentage of net profit; where it includes self-employment tax, what is beyond that tax is income tax."""
    own, additional = _own_lines(schedule)
    whole = round_half_up(max(Fraction(0), percent_of(1, percentage.percent) * schedule.profit))
    notes = [] if percentage.includes_state else ["State income tax is not in it: ask your accountant."]
    if not percentage.includes_self_employment:
        return YearTax(own, additional, whole, "percentage", tuple(notes))
    if whole < own:
        notes.append("The percentage includes self-employment tax, but is less than that tax alone: ask about it.")
    return YearTax(own, additional, max(0, whole - own), "percentage", tuple(notes))


def tax_by_last_year(schedule: ScheduleSE, kept_back_cents: int) -> YearTax:
    """By last year's total tax, of which so much is to be kept back by now, self-employment tax among it."""
    own, additional = _own_lines(schedule)
    notes = ["By last year's tax: what the return itself comes to may be more, or less."]
    if kept_back_cents < own + additional:
        notes.append("Self-employment tax on this year's profit is above that already.")
    income = max(0, kept_back_cents - own - additional)
    return YearTax(own, additional, income, "last year's tax", tuple(notes))


def tax_by_return(schedule: ScheduleSE, total_tax_cents: int) -> YearTax:
    """What the return came to: its total tax, with as much of it as there is shown as self-employment tax."""
    own, additional = _own_lines(schedule)
    own = min(own, total_tax_cents)
    additional = min(additional, total_tax_cents - own)
    return YearTax(own, additional, total_tax_cents - own - additional, "the return")


def tax_before_income_tax(schedule: ScheduleSE) -> YearTax:
    """Self-employment tax alone, since nobody said anything about income tax."""
    return YearTax(*_own_lines(schedule), 0, "nobody", (ASK_ACCOUNTANT,))


def _own_lines(schedule: ScheduleSE) -> tuple[int, int]:
    return round_half_up(schedule.tax), round_half_up(schedule.additional_medicare)


@dataclass(frozen=True)
class Left:
    """What of a year's tax is still owed, line by line, after what was paid and withheld. over: paid beyond it."""

    self_employment_cents: int
    additional_medicare_cents: int
    income_tax_cents: int
    over_cents: int

    @property
    def total_cents(self) -> int:
        return self.self_employment_cents + self.additional_medicare_cents + self.income_tax_cents


def left_after(tax: YearTax, paid_cents: int) -> Left:
    """Payments are taken off self-employment tax first, then off the lines after it; never below zero."""
    lines: list[int] = []
    for line in (tax.self_employment_cents, tax.additional_medicare_cents, tax.income_tax_cents):
        taken = max(0, min(line, paid_cents))
        lines.append(line - taken)
        paid_cents -= taken
    own, additional, income = lines
    return Left(own, additional, income, over_cents=max(0, paid_cents))
