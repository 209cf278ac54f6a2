"""The figures that come with the program, against the published values, each with its source and how sure it is.

How sure: S seen in the source's own text (a stored copy), 2 seen in a text about it, L printed by a tax-policy
library, M from memory. The second entry of each row is one of these, and the shipped status must not claim more.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from ledger.figures import column, figure, schedule_c_line, shipped_library

pytestmark = pytest.mark.published

STATUS = {"S": {"official"}, "2": {"second_hand"}, "L": {"second_hand"}, "M": {"from_memory"}}

# Social Security Administration, Automatic Determinations, contribution and benefit base (2019 to 2025: S; 2026: 2).
WAGE_BASE = [
    (2019, "S", "132900"),
    (2020, "S", "137700"),
    (2021, "S", "142800"),
    (2022, "S", "147000"),
    (2023, "S", "160200"),
    (2024, "S", "168600"),
    (2025, "S", "176100"),
    (2026, "2", "184500"),
]

# Internal Revenue Service, standard mileage rates, business, cents a mile: the page of that name (2019, 2020),
# IR-2022-124 (2022), the 2023 Instructions for Schedule C; Notices 2021-02, 2024-08, 2025-05 and 2026-10, and
# Announcement 2026-11, which raised the rate from 1 July 2026 on.
MILEAGE = [
    (date(2019, 1, 1), date(2019, 12, 31), "S", "58"),
    (date(2020, 1, 1), date(2020, 12, 31), "S", "57.5"),
    (date(2021, 1, 1), date(2021, 12, 31), "2", "56"),
    (date(2022, 1, 1), date(2022, 6, 30), "S", "58.5"),
    (date(2022, 7, 1), date(2022, 12, 31), "S", "62.5"),
    (date(2023, 1, 1), date(2023, 12, 31), "S", "65.5"),
    (date(2024, 1, 1), date(2024, 12, 31), "2", "67"),
    (date(2025, 1, 1), date(2025, 12, 31), "2", "70"),
    (date(2026, 1, 1), date(2026, 6, 30), "2", "72.5"),
    (date(2026, 7, 1), date(2026, 12, 31), "2", "76"),
]

IN_2026 = [
    # Schedule SE (Form 1040): the share of net profit that is net earnings from self-employment.
    ("self_employment_base_percent", "L", "92.35"),
    # Internal Revenue Code, sections 6017, 1401(a), 1401(b)(1), 164(f), 1401(b)(2).
    ("self_employment_least_net_earnings", "S", "400"),
    ("self_employment_social_security_percent", "S", "12.4"),
    ("self_employment_medicare_percent", "S", "2.9"),
    ("self_employment_deductible_percent", "S", "50"),
    ("additional_medicare_percent", "S", "0.9"),
    ("additional_medicare_above_single", "S", "200000"),
    ("additional_medicare_above_joint", "S", "250000"),
    ("additional_medicare_above_separate", "S", "125000"),
    # Internal Revenue Code, section 6654(d) and (e).
    ("estimated_tax_least_owed", "2", "1000"),
    ("estimated_tax_instalment_percent", "S", "25"),
    ("estimated_tax_this_year_percent", "S", "90"),
    ("estimated_tax_last_year_percent", "S", "100"),
    ("estimated_tax_last_year_high_income_percent", "S", "110"),
    ("estimated_tax_high_income_above", "S", "150000"),
    ("estimated_tax_high_income_above_separate", "2", "75000"),
    # Revenue Procedure 2013-13, simplified option for the home office.
    ("home_simplified_rate", "S", "5.00"),
    ("home_simplified_most_area", "S", "300"),
    # Public Law 119-21, sections 70433 and 70432.
    ("contractor_payments_reported_from", "2", "2000"),
    ("payment_app_reported_above", "2", "20000"),
    ("payment_app_reported_above_count", "2", "200"),
    # Publication 946: the mid-quarter convention. Internal Revenue Code, section 195: costs of starting up.
    ("mid_quarter_above_percent", "2", "40"),
    ("start_up_most_in_first_year", "S", "5000"),
    ("start_up_reduced_above", "S", "50000"),
    ("start_up_rest_over", "S", "180"),
    # Public Law 119-21: property acquired after 19 January 2025.
    ("bonus_percent_acquired_after_2025_01_19", "2", "100"),
    # Internal Revenue Code, section 168(k)(6), for property acquired before.
    ("bonus_percent", "2", "20"),
    # Revenue Procedure 2025-32, section 179 property; Internal Revenue Code, section 274(n)(1).
    ("section_179_limit", "M", "2560000"),
    ("section_179_reduced_above", "M", "4090000"),
    ("meals_percent", "M", "50"),
    # Notice 2015-82, de minimis safe harbor, an item.
    ("de_minimis_item_limit", "2", "2500"),
]

OTHER_DAYS = [
    # Form 1099-NEC until the end of 2025.
    ("contractor_payments_reported_from", date(2025, 12, 31), "2", "600"),
    # Section 179: Revenue Procedures 2022-38 and 2023-34; Public Law 119-21.
    ("section_179_limit", date(2023, 6, 1), "2", "1160000"),
    ("section_179_reduced_above", date(2023, 6, 1), "2", "2890000"),
    ("section_179_reduced_above", date(2024, 6, 1), "M", "3050000"),
    ("section_179_reduced_above", date(2025, 6, 1), "2", "4000000"),
    ("section_179_limit", date(2024, 6, 1), "2", "1220000"),
    ("section_179_limit", date(2025, 6, 1), "2", "2500000"),
    # Section 168(k): 2023 Instructions for Schedule C (2022, 2023), section 168(k)(6) (2024, 2025).
    ("bonus_percent", date(2022, 6, 1), "S", "100"),
    ("bonus_percent", date(2023, 6, 1), "S", "80"),
    ("bonus_percent", date(2024, 6, 1), "2", "60"),
    ("bonus_percent", date(2025, 6, 1), "2", "40"),
    # 2023 Instructions for Schedule C, what's new: business meals at 50 percent again from 1 January 2023 on.
    ("meals_percent", date(2023, 1, 1), "S", "50"),
    ("meals_percent", date(2024, 12, 31), "S", "50"),
    ("meals_percent", date(2025, 1, 1), "2", "50"),
]

# Publication 946, appendix A, tables, 200 percent declining balance (2: several copies of each table).
COLUMNS = {
    "depreciation_5_year_half_year": "20.00 32.00 19.20 11.52 11.52 5.76",
    "depreciation_7_year_half_year": "14.29 24.49 17.49 12.49 8.93 8.92 8.93 4.46",
    "depreciation_5_year_mid_quarter_1": "35.00 26.00 15.60 11.01 11.01 1.38",
    "depreciation_5_year_mid_quarter_2": "25.00 30.00 18.00 11.37 11.37 4.26",
    "depreciation_5_year_mid_quarter_3": "15.00 34.00 20.40 12.24 11.30 7.06",
    "depreciation_5_year_mid_quarter_4": "5.00 38.00 22.80 13.68 10.94 9.58",
    "depreciation_7_year_mid_quarter_1": "25.00 21.43 15.31 10.93 8.75 8.74 8.75 1.09",
    "depreciation_7_year_mid_quarter_2": "17.85 23.47 16.76 11.97 8.87 8.87 8.87 3.34",
    "depreciation_7_year_mid_quarter_3": "10.71 25.51 18.22 13.02 9.30 8.85 8.86 5.53",
    "depreciation_7_year_mid_quarter_4": "3.57 27.55 19.68 14.06 10.04 8.73 8.73 7.64",
}

# Schedule C (Form 1040), parts I to III (2; the line of other expenses in 2023: S).
LINES = {
    "gross_receipts": "1",
    "returns": "2",
    "cost_of_goods": "4",
    "gross_income": "7",
    "advertising": "8",
    "car": "9",
    "commissions_and_fees": "10",
    "contract_labor": "11",
    "depreciation": "13",
    "insurance": "15",
    "interest_mortgage": "16a",
    "interest_other": "16b",
    "legal_and_professional": "17",
    "office": "18",
    "rent_equipment": "20a",
    "rent_property": "20b",
    "repairs": "21",
    "supplies": "22",
    "taxes_and_licenses": "23",
    "travel": "24a",
    "meals": "24b",
    "utilities": "25",
    "wages": "26",
    "total_expenses": "28",
    "tentative_profit": "29",
    "home": "30",
    "net_profit": "31",
    "opening_inventory": "35",
    "purchases": "36",
    "materials": "38",
    "cost_of_goods_other": "39",
    "cost_of_goods_sum": "40",
    "closing_inventory": "41",
    "cost_of_goods_total": "42",
}


@pytest.mark.parametrize(("year", "sure", "value"), WAGE_BASE)
def test_the_wage_base_of_a_year_is_the_published_one(year: int, sure: str, value: str) -> None:
    for day in (date(year, 1, 1), date(year, 12, 31)):
        check("social_security_wage_base", day, sure, value)


@pytest.mark.parametrize(("first", "last", "sure", "value"), MILEAGE)
def test_the_mileage_rate_holds_from_its_first_day_to_its_last(first: date, last: date, sure: str, value: str) -> None:
    for day in (first, last):
        check("business_mileage_rate", day, sure, value)


@pytest.mark.parametrize(("name", "sure", "value"), IN_2026)
def test_a_figure_in_force_today_is_the_published_one(name: str, sure: str, value: str) -> None:
    check(name, date(2026, 11, 25), sure, value)


@pytest.mark.parametrize(("name", "day", "sure", "value"), OTHER_DAYS)
def test_a_figure_of_an_earlier_day_is_the_published_one(name: str, day: date, sure: str, value: str) -> None:
    check(name, day, sure, value)


@pytest.mark.parametrize("name", sorted(COLUMNS))
def test_a_column_is_the_published_one_and_adds_to_a_hundred(name: str) -> None:
    percents = column(name, date(2026, 11, 25), asked_by="a test").percents
    assert [f"{percent:.2f}" for percent in percents] == COLUMNS[name].split()
    assert sum(percents) == Decimal("100.00")


def test_no_figure_and_no_column_is_kept_unchecked() -> None:
    checked = {("social_security_wage_base", date(year, 1, 1)) for year, _, _ in WAGE_BASE}
    checked |= {("business_mileage_rate", first) for first, _, _, _ in MILEAGE}
    checked |= {(name, date(2026, 11, 25)) for name, _, _ in IN_2026}
    checked |= {(name, day) for name, day, _, _ in OTHER_DAYS}
    tables = {(name, figure(name, day, asked_by="a test").from_date) for name, day in checked}
    kept = {(name, value.from_date) for name, values in shipped_library().figures.items() for value in values}
    assert tables == kept
    assert set(shipped_library().columns) == set(COLUMNS)


@pytest.mark.parametrize("year", [2023, 2024, 2025, 2026])
def test_the_lines_of_the_form_are_the_published_ones(year: int) -> None:
    assert {key: schedule_c_line(key, year, asked_by="a test").number for key in LINES} == LINES


@pytest.mark.parametrize(("year", "number"), [(2023, "27a"), (2024, "27b"), (2025, "27b")])
def test_other_expenses_moved_to_another_line(year: int, number: str) -> None:
    """2023: S, page of the Internal Revenue Service on the use of a home; 2024 and 2025: 2, texts about the form."""
    line = schedule_c_line("other_expenses", year, asked_by="a test")
    assert (line.number, line.confirmed) == (number, True)


def check(name: str, day: date, sure: str, value: str) -> None:
    found = figure(name, day, asked_by="a test")
    assert found.value == Decimal(value)
    assert found.status in STATUS[sure]
    assert found.source.title
