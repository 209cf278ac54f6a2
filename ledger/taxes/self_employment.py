"""Self-employment tax as Schedule SE works it out, and the additional Medicare tax beside it, from dated figures.

Source: Schedule SE (Form 1040), part I, and Form 8959, part II; Internal Revenue Code, sections 1401, 1402 and 6017.
Amounts are exact fractions of cents of the US dollar; who shows or keeps one rounds it once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal

from ledger.figures.look_up import figure, latest_figure
from ledger.figures.published import Figure

FilingStatus = Literal["single", "joint", "separate"]
STATUSES: Final[tuple[FilingStatus, ...]] = ("single", "joint", "separate")
_CENTS = 100


@dataclass(frozen=True)
class SelfEmploymentFigures:
    """The published figures of a tax year. Parts of one; amounts in cents. notes: what has to stand beside them."""

    tax_year: int
    base_part: Fraction
    least_net_earnings_cents: Fraction
    social_security_part: Fraction
    medicare_part: Fraction
    deductible_part: Fraction
    wage_base_cents: Fraction
    additional_part: Fraction
    additional_above_cents: dict[FilingStatus, Fraction]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class ScheduleSE:
    """The lines of the schedule, in exact cents. net_earnings: the profit times 92.35 %, or zero under the floor.

    status_is_open: nobody said how she files, so that additional Medicare tax goes by the lowest threshold.
    """

    profit: Fraction
    net_earnings: Fraction
    social_security: Fraction
    medicare: Fraction
    deductible: Fraction
    additional_medicare: Fraction
    status_is_open: bool

    @property
    def tax(self) -> Fraction:
        """Self-employment tax, without the additional Medicare tax, which is a line of its own."""
        return self.social_security + self.medicare


def schedule_se(
    profit_cents: int | Fraction,
    figures: SelfEmploymentFigures,
    *,
    wages_cents: int = 0,
    status: FilingStatus | None = None,
) -> ScheduleSE:
    """The tax on a year's net profit. wages_cents: what her own wages elsewhere came to, from which it was withheld.

    Nothing is owed on a loss, nor under net earnings of 400. Without a filing status the lowest threshold of the
    additional Medicare tax is taken, so that it is never too little.
    """
    profit = Fraction(profit_cents)
    earnings = max(Fraction(0), profit * figures.base_part)
    if earnings < figures.least_net_earnings_cents:
        earnings = Fraction(0)
    room = max(Fraction(0), figures.wage_base_cents - wages_cents)
    social_security = min(earnings, room) * figures.social_security_part
    medicare = earnings * figures.medicare_part
    thresholds = figures.additional_above_cents
    above = min(thresholds.values()) if status is None else thresholds[status]
    additional = max(Fraction(0), earnings - max(Fraction(0), above - wages_cents)) * figures.additional_part
    return ScheduleSE(
        profit=profit,
        net_earnings=earnings,
        social_security=social_security,
        medicare=medicare,
        deductible=(social_security + medicare) * figures.deductible_part,
        additional_medicare=additional,
        status_is_open=status is None and additional > 0,
    )


def filing_figures(tax_year: int, *, asked_by: str) -> SelfEmploymentFigures:
    """The figures for a filing or a packet. Raises NoFigure for a year that is not kept, with the file to add it to."""
    return _figures(tax_year, lambda name, on: figure(name, on, asked_by=asked_by))


def set_aside_figures(tax_year: int) -> SelfEmploymentFigures:
    """The figures for the set-aside: after the last year kept those of that one, marked. Raises NoFigure before it."""
    return _figures(tax_year, lambda name, on: latest_figure(name, on))


def _figures(tax_year: int, look_up: Callable[[str, date], Figure]) -> SelfEmploymentFigures:
    on = date(tax_year, 12, 31)
    read: list[Figure] = []

    def value(name: str) -> Fraction:
        read.append(look_up(name, on))
        return Fraction(read[-1].value)

    return SelfEmploymentFigures(
        tax_year=tax_year,
        # Asked for first: the one that is published anew each year is the one that a refusal should name.
        wage_base_cents=value("social_security_wage_base") * _CENTS,
        base_part=value("self_employment_base_percent") / 100,
        least_net_earnings_cents=value("self_employment_least_net_earnings") * _CENTS,
        social_security_part=value("self_employment_social_security_percent") / 100,
        medicare_part=value("self_employment_medicare_percent") / 100,
        deductible_part=value("self_employment_deductible_percent") / 100,
        additional_part=value("additional_medicare_percent") / 100,
        additional_above_cents={each: value(f"additional_medicare_above_{each}") * _CENTS for each in STATUSES},
        notes=late_notes(read),
    )


def late_notes(figures: list[Figure]) -> tuple[str, ...]:
    """The sentence that no figure is published yet, once, where one of them was taken from an earlier year."""
    return tuple(dict.fromkeys(note for each in figures if each.beyond_known for note in each.notes[-1:]))
