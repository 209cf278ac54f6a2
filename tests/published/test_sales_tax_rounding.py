"""The rounding rule of sales tax against the texts that state it.

How sure: S seen in the source's own text (a stored copy), 2 seen in a text about it. Facts only are taken from them.

S  Streamlined Sales and Use Tax Agreement, section 324 (rounding rule), as enacted in Rhode Island General Laws
   44-18.1-25 (2006), North Dakota Century Code 57-39.4-25, Kansas Statutes 79-3676 (2003): carried to the third decimal
   place; up to the next cent where the third decimal is greater than four; on an item or an invoice basis, as the
   seller chooses; state and local tax may be aggregated.
S  Revised Code of Washington 82.08.054 (2003): the same, and the rule is applied to the aggregated state and local tax.
S  Massachusetts General Laws, chapter 64I, section 5: the same third-decimal rule, item or invoice.
S  North Dakota Administrative Code 81-04.1-01-29: four or less goes down, more than four goes up.
2  Florida Department of Revenue, Tax Information Publication 21A01-02 (2021): the same, in place of brackets.
S  Codified ordinances of Vienna, West Virginia, 754 (2014), of Parkersburg, 778 (2014), and of Fayetteville, 777.05
   (2021): four or less goes down; the chosen basis is used throughout the reporting period.
"""

from __future__ import annotations

from datetime import date
from decimal import ROUND_DOWN, Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.money import round_half_up
from ledger.taxes.sales_tax import Charge, Method, Rate, TaxRules, tax_on
from tests.workshop import add_rate, answer, begin, choose_method, job_for, on_day, picked_up

pytestmark = pytest.mark.published


def tax(cents: int | list[int], *percents: str, method: Method = "slip") -> int:
    rates = tuple(Rate(place, f"levy {place}", "state", Decimal(each)) for place, each in enumerate(percents))
    charges = [Charge("work", each) for each in (cents if isinstance(cents, list) else [cents])]
    return tax_on(charges, TaxRules(rates, {"work": True}, method)).tax_cents


def third_decimal_rule(exact_dollars: Decimal) -> int:
    """Section 324 to the letter: cut after the third decimal, look at it alone. Cents."""
    carried = exact_dollars.quantize(Decimal("0.001"), rounding=ROUND_DOWN)
    cents, third = divmod(int(carried * 1000), 10)
    return cents + (1 if third > 4 else 0)


@pytest.mark.parametrize(
    ("cents", "percent", "rounded"),
    [
        (250, "5", 13),  # 0.125: half-even would leave 0.12
        (249, "5", 12),  # 0.1245 is carried to 0.124
        (750, "5", 38),  # 0.375
        (94, "9", 8),  # 8.46 cents: the third decimal is 4; rounded to 8.5 first it would come to 9
        (1_00, "4.4", 4),
        (1_00, "4.5", 5),
        (1_00, "4.49", 4),
        (10, "5", 1),  # half a cent
        (9, "5", 0),
    ],
)
def test_it_goes_up_where_the_third_decimal_is_greater_than_four(cents: int, percent: str, rounded: int) -> None:
    assert tax(cents, percent) == rounded


@pytest.mark.parametrize("third", range(10))
def test_each_third_decimal_goes_where_the_rule_says(third: int) -> None:
    # 1.00 at 4.0 to 4.9 percent is 0.040 to 0.049.
    assert tax(1_00, f"4.{third}") == (4 if third <= 4 else 5)


@given(st.integers(0, 10**8), st.decimals(min_value=0, max_value=20, places=4))
def test_the_exact_value_rounded_half_up_is_the_third_decimal_rule_to_the_letter(cents: int, percent: Decimal) -> None:
    exact = Decimal(cents) * percent / 10_000
    assert tax(cents, str(percent)) == third_decimal_rule(exact) == round_half_up(Fraction(exact) * 100)


def test_it_may_be_worked_out_by_item_or_by_invoice() -> None:
    items = [1_10] * 3  # at 4.1 percent: 0.0451 each, 0.1353 in all
    assert tax(items, "4.1", method="line") == 15
    assert tax(items, "4.1", method="slip") == 14


def test_the_rule_is_applied_to_state_and_local_tax_together() -> None:
    # 0.70 at three times 0.7 percent: 0.49 cents each, nothing; together 1.47, so 1.
    assert tax(70, "0.7", "0.7", "0.7") == 1
    # 1.10 at twice 0.5 percent: 0.55 cents each, two cents; together 1.1, so 1.
    assert tax(1_10, "0.5", "0.5") == 1


def test_the_basis_stays_the_same_throughout_a_reporting_period(tmp_path: Path) -> None:
    books = begin(tmp_path / "books")
    add_rate(books, "Wood county", "4.1")
    answer(books, "work", True)
    picked_up(books, job_for(books, "1.10"), "cash")
    assert choose_method(on_day(books, date(2026, 2, 1)), "line") == date(2026, 4, 1)
    books.close()
