"""Depreciation by the published tables, and the worked lines of a published worksheet.

The columns themselves, each adding to 100.00 %, are held by test_figures_values.py: IRS Publication 946, How To
Depreciate Property, appendix A, tables A-1 to A-5 (as texts about it give them). The worksheet lines: IRS Publication
583, Starting a Business and Keeping Records, sample record system, depreciation worksheet (a stored copy; whole
dollars). The rule of 40 %: Publication 946, chapter 4, which convention applies.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from ledger.figures.look_up import depreciation_column_name, latest_column
from ledger.machine.depreciation import CLASSES, Purchase, whole_dollars, years_of
from ledger.machine.depreciation_record import convention_on, table

pytestmark = pytest.mark.published


@pytest.mark.parametrize(
    ("cost", "class_years", "at", "percent", "dollars"),
    [(3_000, 7, 0, "14.29", 429), (8_000, 5, 0, "20.00", 1_600), (30_000, 5, 0, "20.00", 6_000)],
)
def test_the_lines_of_the_worksheet(cost: int, class_years: int, at: int, percent: str, dollars: int) -> None:
    placed = date(2025, 5, 1)
    line = years_of(cost * 100, table(class_years, placed, "half-year").percents, placed)[at]
    assert f"{line.percent:.2f}" == percent
    assert whole_dollars(line.cents) == dollars


@pytest.mark.parametrize("class_years", CLASSES)
@pytest.mark.parametrize("month", [2, 5, 8, 11])
@pytest.mark.parametrize("mid_quarter", [False, True])
def test_every_column_adds_to_a_hundred_and_gives_the_whole_cost(
    class_years: int, month: int, mid_quarter: bool
) -> None:
    placed = date(2025, month, 15)
    name = depreciation_column_name(class_years, placed, mid_quarter=mid_quarter)
    percents = latest_column(name, placed, asked_by="a test").percents
    assert sum(percents) == Decimal("100.00")
    years = years_of(10_000_00, percents, placed)
    assert [each.cents for each in years] == [int(percent * 10_000) for percent in percents]
    assert sum(each.cents for each in years) == 10_000_00
    assert [each.year for each in years] == list(range(2025, 2025 + class_years + 1))


@pytest.mark.parametrize(
    ("early", "late", "convention"),
    [(60_00, 40_00, "half-year"), (59_99, 40_00, "mid-quarter"), (100_00, 0, "half-year"), (0, 1, "mid-quarter")],
)
def test_over_forty_percent_in_the_last_three_months_is_mid_quarter(early: int, late: int, convention: str) -> None:
    purchases = [Purchase(date(2025, 9, 30), early), Purchase(date(2025, 10, 1), late)]
    assert convention_on([each for each in purchases if each.basis_cents], date(2025, 10, 1)) == convention
