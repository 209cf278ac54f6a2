"""Estimated tax against the rules as published in section 6654 of the Internal Revenue Code.

How sure: 2 seen in a text about it, S seen in the source's own text.
"""

from __future__ import annotations

from datetime import date

import pytest

from ledger.periods import estimated_tax_periods
from ledger.taxes.estimated_tax import LastYear, filing_figures, instalments, required_payment

pytestmark = pytest.mark.published

YEARS = (2020, 2021, 2022, 2023, 2024, 2025, 2026)


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(
    ("this_year", "last_year", "required"),
    [
        (20_000_00, LastYear(10_000_00), 10_000_00),  # S, (d)(1)(B)(ii): 100 % of last year's
        (20_000_00, LastYear(10_000_00, has_high_income=True), 11_000_00),  # S, (d)(1)(C)(i): 110 % above 150,000
        (10_000_00, LastYear(20_000_00), 9_000_00),  # S, (d)(1)(B)(i): 90 % of this year's, the lesser
        (20_000_00, LastYear(10_000_00, is_twelve_months=False), 18_000_00),  # S, (d)(1)(B): twelve months
        (999_99, LastYear(5_000_00), 0),  # 2, (e)(1): under 1,000
        (1_000_00, LastYear(5_000_00), 900_00),
    ],
)
def test_the_required_annual_payment(year: int, this_year: int, last_year: LastYear, required: int) -> None:
    figures = filing_figures(year, asked_by="the test")
    assert required_payment(this_year, last_year, 0, figures).cents == required
    assert figures.high_income_above_cents == 150_000_00


@pytest.mark.parametrize("year", YEARS)
def test_each_instalment_is_a_quarter_of_it(year: int) -> None:
    """S, (d)(1)(A): 25 percent of the required annual payment, by the days of (c)(2), whatever the period earned."""
    found = instalments(8_000_00, 0, estimated_tax_periods(year))
    assert [each.wanted_cents for each in found] == [2_000_00] * 4
    assert found[0].period.end == date(year, 3, 31)
    assert found[1].period.end == date(year, 5, 31), "the second period has two months"
