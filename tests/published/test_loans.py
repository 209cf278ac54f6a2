"""Payments and schedules of loans against published examples.

numpy-financial, documentation of `pmt` and of `ppmt` (fixed values; the library is no part of this program): 200,000 at
7.5 % over 15 years, and 2,500 at 8.24 % over 12 months. The schedules in cents: the same formula, the interest of each
month rounded half up and the last payment closing the loan, worked out by hand with a pocket calculator's rules.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from ledger.machine.loan import Terms, level_payment
from ledger.machine.schedule import schedule

pytestmark = pytest.mark.published


@pytest.mark.parametrize(
    ("amount", "percent", "months", "payment"),
    [(200_000, "7.5", 180, 1854.0247200054619), (2_500, "8.24", 12, 217.74859035344943)],
)
def test_the_level_payment_is_the_documented_one(amount: int, percent: str, months: int, payment: float) -> None:
    assert float(level_payment(amount, Decimal(percent), months)) == pytest.approx(payment, rel=1e-12)


@pytest.mark.parametrize(
    ("percent", "months", "payment", "last", "interest"),
    [("8", 60, 202_76, 203_08, 2_165_92), ("6", 36, 304_22, 304_18, 951_88)],
)
def test_a_loan_of_ten_thousand_closes_to_the_cent(
    percent: str, months: int, payment: int, last: int, interest: int
) -> None:
    found = schedule(Terms(10_000_00, Decimal(percent), months, date(2026, 1, 5), date(2026, 2, 5)))
    assert (found.payment_cents, found.last_payment_cents, found.interest_cents) == (payment, last, interest)
    assert {row.payment_cents for row in found.rows[:-1]} == {payment}
    assert [row.number for row in found.rows] == list(range(1, months + 1))
    assert sum(row.principal_cents for row in found.rows) == 10_000_00
