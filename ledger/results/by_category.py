"""Expenses by category, the largest first, each with its share of the whole and its line of Schedule C."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final

from ledger.figures.published import FormLine
from ledger.money import round_half_up, split_in_proportion
from ledger.results.statement import Line

LINES_NOT_CONFIRMED: Final = "The numbers of the lines are those of the last form that was seen."
_TENTHS = 1000


@dataclass(frozen=True)
class CategoryShare:
    """share_percent: with one decimal; None where the whole is not above zero. cents: below zero where more came back
    than was spent."""

    category: str
    line: FormLine
    cents: int
    share_percent: Decimal | None


@dataclass(frozen=True)
class ExpensesByCategory:
    """before_books: what was told of the part of the year before them, in cents; it stands in no share and no sum."""

    shares: tuple[CategoryShare, ...]
    before_books_cents: int = 0

    @property
    def total_cents(self) -> int:
        return sum(each.cents for each in self.shares)


def expenses_by_category(
    found: Sequence[Line], lines: Mapping[str, FormLine], before_books_cents: int = 0
) -> ExpensesByCategory:
    """lines: the line of the form by the name of the category."""
    largest_first = sorted(found, key=lambda each: (-each.cents, each.account.name))
    shares = _shares([each.cents for each in largest_first])
    return ExpensesByCategory(
        tuple(
            CategoryShare(each.account.name, lines[each.account.name], each.cents, share)
            for each, share in zip(largest_first, shares, strict=True)
        ),
        before_books_cents,
    )


def _shares(amounts: Sequence[int]) -> list[Decimal | None]:
    """In percent: they add up to 100, but where an amount below zero keeps them from it each is rounded by itself."""
    total = sum(amounts)
    if total <= 0:
        return [None] * len(amounts)
    if min(amounts) >= 0:
        tenths = split_in_proportion(_TENTHS, amounts)
    else:
        tenths = [round_half_up(Fraction(each * _TENTHS, total)) for each in amounts]
    return [Decimal(each) / 10 for each in tenths]
