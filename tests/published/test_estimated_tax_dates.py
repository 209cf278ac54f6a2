"""The due dates of estimated tax, tax years 2022 to 2026.

Source: Internal Revenue Service, page on estimated taxes (15 April, 15 June, 15 September, 15 January after; seen in
the source's own text); Internal Revenue Code, section 6654(c)(2), and section 7503 for Saturdays, Sundays and legal
holidays in the District of Columbia. The dates below were worked out from these rules, on paper.
"""

from __future__ import annotations

from datetime import date

import pytest

from ledger.periods import estimated_tax_periods

pytestmark = pytest.mark.published

DUE = {
    2022: [date(2022, 4, 18), date(2022, 6, 15), date(2022, 9, 15), date(2023, 1, 17)],
    2023: [date(2023, 4, 18), date(2023, 6, 15), date(2023, 9, 15), date(2024, 1, 16)],
    2024: [date(2024, 4, 15), date(2024, 6, 17), date(2024, 9, 16), date(2025, 1, 15)],
    2025: [date(2025, 4, 15), date(2025, 6, 16), date(2025, 9, 15), date(2026, 1, 15)],
    2026: [date(2026, 4, 15), date(2026, 6, 15), date(2026, 9, 15), date(2027, 1, 15)],
}


@pytest.mark.parametrize("tax_year", sorted(DUE))
def test_the_four_payments_of_a_tax_year_are_due_on_the_published_days(tax_year: int) -> None:
    assert [period.due for period in estimated_tax_periods(tax_year)] == DUE[tax_year]


def test_the_periods_are_not_calendar_quarters() -> None:
    months = [(period.start.month, period.end.month) for period in estimated_tax_periods(2026)]
    assert months == [(1, 3), (4, 5), (6, 8), (9, 12)]
