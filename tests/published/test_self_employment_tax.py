"""Self-employment tax against published values and printed ones, each year on both sides of the floor and of the cap.

How sure: L printed by a general-purpose tax-policy library (taxcalc 6.8.0), M from memory. Where a value is worked out
here from the published rates and the wage base of the year, its comment says so.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from ledger.taxes.self_employment import FilingStatus, ScheduleSE, filing_figures, schedule_se

pytestmark = pytest.mark.published

YEARS = (2020, 2021, 2022, 2023, 2024, 2025, 2026)
# Contribution and benefit base, Social Security Administration (2020 to 2025), and texts about it (2026).
WAGE_BASE = dict(zip(YEARS, (137700, 142800, 147000, 160200, 168600, 176100, 184500), strict=True))

# L: net profit, self-employment tax, both in dollars; the same in each of these years, since all lie below the cap.
BELOW_THE_CAP = [
    ("433.13", "0"),
    ("434", "61.3222"),
    ("12000", "1695.546"),
    ("30000", "4238.865"),
    ("50000", "7064.775"),
]

# L: by year, the tax on 150,000, 200,000 and 250,000, and on 30,000 beside wages of 130,000, 180,000 and 195,000.
AROUND_THE_CAP = {
    2020: ("21092.025", "22431.1", "23770.175", "1758.245", "803.445", "803.445"),
    2021: ("21194.325", "23063.5", "24402.575", "2390.645", "803.445", "803.445"),
    2022: ("21194.325", "23584.3", "24923.375", "2911.445", "803.445", "803.445"),
    2023: ("21194.325", "25221.1", "26560.175", "4238.865", "803.445", "803.445"),
    2024: ("21194.325", "26262.7", "27601.775", "4238.865", "803.445", "803.445"),
    2025: ("21194.325", "27192.7", "28531.775", "4238.865", "803.445", "803.445"),
    2026: ("21194.325", "28234.3", "29573.375", "4238.865", "1361.445", "803.445"),
}
SITUATIONS = ((150_000, 0), (200_000, 0), (250_000, 0), (30_000, 130_000), (30_000, 180_000), (30_000, 195_000))
# L, the same in each year: net profit, wages, and additional Medicare tax of a single person.
ADDITIONAL = [(200_000, 0, "0"), (250_000, 0, "277.875"), (30_000, 180_000, "69.345"), (250_000, 50_000, "727.875")]


def worked_out(
    dollars: str | Fraction, year: int, wages: int = 0, status: FilingStatus | None = "single"
) -> ScheduleSE:
    figures = filing_figures(year, asked_by="the test")
    return schedule_se(Fraction(dollars) * 100, figures, wages_cents=wages * 100, status=status)


def cents_of(dollars: str) -> Fraction:
    return Fraction(dollars) * 100


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(("profit", "tax"), BELOW_THE_CAP)
def test_the_tax_below_the_cap_is_the_printed_one(year: int, profit: str, tax: str) -> None:
    # Printed to four decimals of a dollar, a hundredth of a cent.
    assert abs(worked_out(profit, year).tax - cents_of(tax)) < Fraction(1, 100)


@pytest.mark.parametrize("year", YEARS)
def test_the_tax_around_the_cap_and_beside_wages_is_the_printed_one(year: int) -> None:
    for (profit, wages), tax in zip(SITUATIONS, AROUND_THE_CAP[year], strict=True):
        assert worked_out(Fraction(profit), year, wages).tax == cents_of(tax), (profit, wages)


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize(("profit", "wages", "tax"), ADDITIONAL)
def test_additional_medicare_tax_is_the_printed_one(year: int, profit: int, wages: int, tax: str) -> None:
    assert worked_out(Fraction(profit), year, wages).additional_medicare == cents_of(tax)


@pytest.mark.parametrize("year", YEARS)
def test_the_floor_of_400_lies_on_net_earnings_and_is_owed_at_400_itself(year: int) -> None:
    """Schedule SE, part I: if line 4c is less than 400, no self-employment tax is owed; at 400 it is."""
    at_floor = Fraction(400) / Fraction("0.9235")
    assert worked_out(at_floor, year).tax == Fraction(400_00) * Fraction("0.153")
    assert worked_out(at_floor - Fraction(1, 100), year).tax == 0


@pytest.mark.parametrize("year", YEARS)
def test_above_the_cap_only_medicare_goes_on(year: int) -> None:
    """Worked out from the year's wage base: 12.4 % ends there, 2.9 % does not."""
    at_cap = Fraction(WAGE_BASE[year]) / Fraction("0.9235")
    full = Fraction(WAGE_BASE[year] * 100) * Fraction("0.153")
    assert worked_out(at_cap, year).tax == full
    below, above = worked_out(at_cap - 1000, year).tax, worked_out(at_cap + 1000, year).tax
    assert full - below == Fraction(1000_00) * Fraction("0.9235") * Fraction("0.153")
    assert above - full == Fraction(1000_00) * Fraction("0.9235") * Fraction("0.029")


def test_half_of_the_tax_on_50000_is_the_printed_3532_3875() -> None:
    """L."""
    assert worked_out("50000", 2026).deductible == cents_of("3532.3875")


def test_own_wages_above_the_cap_leave_medicare_alone() -> None:
    """L: 30,000 with wages of 180,000 in 2025."""
    assert worked_out("30000", 2025, wages=180_000).tax == cents_of("803.445")


@pytest.mark.parametrize("year", YEARS)
def test_own_wages_take_up_a_part_of_the_wage_base(year: int) -> None:
    """Schedule SE, line 9: the wage base less the wages. Worked out: 10,000 of room is left."""
    wages = WAGE_BASE[year] - 10_000
    found = worked_out("30000", year, wages=wages)
    assert found.social_security == Fraction(10_000_00) * Fraction("0.124")
    assert found.medicare == Fraction(30_000_00) * Fraction("0.9235") * Fraction("0.029")


@pytest.mark.parametrize(
    ("status", "above"),
    [("single", 200_000), ("joint", 250_000), ("separate", 125_000)],  # M: Form 8959, thresholds
)
def test_additional_medicare_tax_begins_above_its_threshold_less_wages(status: FilingStatus, above: int) -> None:
    """Form 8959, part II: 0.9 % of net earnings above the threshold, which wages have used up first."""
    at_threshold = Fraction(above) / Fraction("0.9235")
    assert worked_out(at_threshold, 2026, status=status).additional_medicare == 0
    assert worked_out((above + 10_000) / Fraction("0.9235"), 2026, status=status).additional_medicare == 9_000
    with_wages = worked_out(at_threshold, 2026, wages=50_000, status=status)
    assert with_wages.additional_medicare == Fraction(50_000_00) * Fraction("0.009")


def test_additional_medicare_tax_is_a_line_of_its_own() -> None:
    found = worked_out("400000", 2026)
    assert found.additional_medicare > 0
    assert found.tax == found.social_security + found.medicare
