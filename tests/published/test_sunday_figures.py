"""The mileage log at published rates, and the two rates of 2022.

Rates, US cents a mile: IRS Notice 2022-03 (2022, to 30 June: 58.5), Announcement 2022-13 (2022, from 1 July: 62.5),
Notice 2024-08 (2024: 67), Notice 2025-5 (2025: 70). `ledger/figures/mileage.toml` says of each how it was read.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from ledger.spending.mileage import Trip, rated

pytestmark = pytest.mark.published


def trips(*days: tuple[date, str]) -> list[Trip]:
    return [Trip(number, day, Decimal(miles), "there", "why") for number, (day, miles) in enumerate(days, start=1)]


def test_a_year_with_two_rates_is_reckoned_at_both() -> None:
    found = rated(trips((date(2022, 6, 30), "100"), (date(2022, 7, 1), "100")))
    assert [(each.rate, each.cents) for each in found] == [(Decimal("58.5"), 5850), (Decimal("62.5"), 6250)]
    assert all(each.is_known for each in found)


@pytest.mark.parametrize(("day", "cents"), [(date(2024, 5, 5), 6700), (date(2025, 5, 5), 7000)])
def test_a_hundred_miles_at_the_rate_of_the_year(day: date, cents: int) -> None:
    assert [each.cents for each in rated(trips((day, "100")))] == [cents]


def test_miles_are_added_up_before_they_are_rounded() -> None:
    """Rounded once: three times 0.25 mile at 70 cents is 52.5, 53 cents, and not three times 18."""
    found = rated(trips(*[(date(2025, 5, 5), "0.25")] * 3))
    assert [each.cents for each in found] == [53]


def test_a_year_whose_rate_is_not_published_yet_says_so() -> None:
    assert [each.is_known for each in rated(trips((date(2031, 1, 1), "10")))] == [False]
