"""What a line of work measures and costs: every way of pricing, the minimum, the rush charge, each rounded once."""

from __future__ import annotations

from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.errors import NotPossible
from ledger.jobs.pricing import MEASURES, Measure, Price, Size, measured, price_job, price_line, quantity_text
from ledger.money import Currency
from ledger.taxes.sales_tax import Charge

USD, JPY, KWD = Currency("USD", 2), Currency("JPY", 0), Currency("KWD", 3)
TOP = Size(Decimal(60), Decimal("72.5"), "in")
METRIC = Size(Decimal(150), Decimal(180), "cm")

lengths = st.decimals(min_value=Decimal("0.25"), max_value=200, places=2)
rates = st.decimals(min_value=0, max_value=200, places=4)
charge_lists = st.lists(
    st.builds(Charge, st.sampled_from(["goods", "work"]), st.integers(min_value=0, max_value=10**7)),
    min_size=1,
    max_size=8,
)


def price(by: Measure, rate: str | Decimal, minimum: int = 0, allowance: str = "0") -> Price:
    day = date(2026, 1, 5)
    return Price(1, "Line", by, Decimal(rate), "work", minimum, Decimal(allowance), None, False, day)


@pytest.mark.parametrize(
    ("by", "rate", "allowance", "quantity", "unit", "cents"),
    [
        ("area", "0.02", "0", "4350", "sq in", 87_00),
        ("area", "0.0175", "0", "4350", "sq in", 76_13),  # 76.125: the half goes up
        ("length", "0.20", "0", "265", "in", 53_00),
        ("length", "0.20", "12", "277", "in", 55_40),
        ("inch", "0.45", "8", "80.5", "in", 36_23),  # 36.225
        ("inch", "0.45", "0", "72.5", "in", 32_63),  # 32.625
        ("yard", "12.99", "8", "161/72", "yd", 29_05),  # 80.5 / 36 yards, not 2.24: 29.0471
        ("each", "4.50", "0", "1", "each", 4_50),
        ("flat", "35", "0", "1", "flat", 35_00),
    ],
)
def test_a_line_is_measured_from_the_piece(
    by: Measure, rate: str, allowance: str, quantity: str, unit: str, cents: int
) -> None:
    line = price_line(price(by, rate, allowance=allowance), TOP, USD)
    assert (line.quantity, line.unit, line.cents) == (Fraction(quantity), unit, cents)


def test_a_yard_that_would_be_rounded_costs_something_else() -> None:
    # 74 in are 2.0555... yards; rounded to 2.06 the line would be 20.60 and rounded up to an eighth 21.25.
    line = price_line(price("yard", "10"), Size(Decimal(60), Decimal(74), "in"), USD)
    assert (line.quantity, line.cents) == (Fraction(37, 18), 20_56)


@pytest.mark.parametrize(
    ("by", "allowance", "quantity", "unit"),
    [
        ("area", "0", "27000", "sq cm"),
        ("length", "10", "670", "cm"),
        ("inch", "20", "200", "cm"),
        ("yard", "20", "2500/1143", "yd"),  # 200 cm over 91.44
    ],
)
def test_lengths_in_centimetres_stay_centimetres_and_a_yard_stays_a_yard(
    by: Measure, allowance: str, quantity: str, unit: str
) -> None:
    assert measured(price(by, "1", allowance=allowance), METRIC) == (Fraction(quantity), unit)


@pytest.mark.parametrize("by", MEASURES)
def test_a_quantity_that_is_given_is_taken_as_it_is(by: Measure) -> None:
    line = price_line(
        price(by, "30", allowance="8" if by in ("length", "inch", "yard") else "0"), TOP, USD, Decimal("1.5")
    )
    assert (line.quantity, line.cents) == (Fraction(3, 2), 45_00)


def test_hours_must_be_said() -> None:
    with pytest.raises(NotPossible, match="by the hour"):
        price_line(price("hour", "30"), TOP, USD)
    assert price_line(price("hour", "30"), TOP, USD, Decimal("0.25")).cents == 7_50


def test_a_line_comes_to_its_minimum_at_least() -> None:
    assert price_line(price("area", "0.02", minimum=100_00), TOP, USD).cents == 100_00
    assert price_line(price("area", "0.02", minimum=87_00), TOP, USD).cents == 87_00
    assert price_line(price("area", "0.02", minimum=86_99), TOP, USD).cents == 87_00


@pytest.mark.parametrize(("currency", "cents"), [(USD, 7613), (JPY, 76), (KWD, 76125)])
def test_a_line_is_rounded_to_the_minor_unit_of_the_currency(currency: Currency, cents: int) -> None:
    assert price_line(price("area", "0.0175"), TOP, currency).cents == cents


def test_an_amount_beyond_all_measure_is_refused() -> None:
    huge = Size(Decimal(1_000_000), Decimal(1_000_000), "in")
    with pytest.raises(NotPossible, match="any piece of work"):
        price_line(price("area", "1000000"), huge, USD)


@given(lengths, lengths, rates)
def test_the_area_line_agrees_with_decimal_half_up(width: Decimal, length: Decimal, rate: Decimal) -> None:
    cents = (width * length * rate * 100).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    assert price_line(price("area", rate), Size(width, length, "in"), USD).cents == cents


@given(lengths, lengths, st.decimals(min_value=0, max_value=20, places=2))
def test_a_piece_turned_by_a_quarter_costs_the_same(width: Decimal, length: Decimal, allowance: Decimal) -> None:
    for by in ("area", "length", "inch", "yard"):
        one = price(by, "0.37", allowance=str(allowance) if by != "area" else "0")
        assert measured(one, Size(width, length, "in")) == measured(one, Size(length, width, "in"))


@given(lengths, lengths)
def test_a_quantity_as_it_is_kept_is_the_exact_one(width: Decimal, length: Decimal) -> None:
    for by in ("area", "length", "inch", "yard"):
        quantity, _ = measured(price(by, "1"), Size(width, length, "in"))
        assert Fraction(quantity_text(quantity)) == quantity


class TestWholeJob:
    def test_a_minimum_tops_the_lines_up_in_proportion(self) -> None:
        pricing = price_job([Charge("work", 30_00), Charge("goods", 10_00)], 60_00, Decimal(0))
        assert [each.cents for each in pricing.charges] == [45_00, 15_00]
        assert (pricing.top_up_cents, pricing.rush_cents) == (20_00, 0)

    def test_a_rush_charge_comes_on_top_of_the_minimum_and_is_spread_the_same_way(self) -> None:
        pricing = price_job([Charge("work", 30_00), Charge("goods", 10_00)], 60_00, Decimal(25))
        assert [each.cents for each in pricing.charges] == [56_25, 18_75]
        assert (pricing.top_up_cents, pricing.rush_cents) == (20_00, 15_00)

    def test_a_job_above_its_minimum_is_left_as_it_is(self) -> None:
        charges = [Charge("work", 30_00), Charge("goods", 10_00, includes_tax=True)]
        assert price_job(charges, 40_00, Decimal(0)).charges == tuple(charges)

    def test_the_rush_charge_is_rounded_once_on_the_whole(self) -> None:
        # 3 x 0.33 at 50 %: 0.495 is 0.50; line by line it would be 3 x 0.17.
        pricing = price_job([Charge("work", 33)] * 3, 0, Decimal(50))
        assert (pricing.rush_cents, sum(each.cents for each in pricing.charges)) == (50, 1_49)

    def test_lines_that_cost_nothing_share_the_minimum_equally(self) -> None:
        pricing = price_job([Charge("work", 0), Charge("goods", 0)], 25_01, Decimal(0))
        assert [each.cents for each in pricing.charges] == [12_51, 12_50]

    @given(charge_lists, st.integers(min_value=0, max_value=10**8), st.decimals(min_value=0, max_value=100, places=2))
    def test_the_charges_are_the_lines_the_top_up_and_the_rush_and_no_cent_more(
        self, charges: list[Charge], minimum: int, rush: Decimal
    ) -> None:
        pricing = price_job(charges, minimum, rush)
        quoted = sum(each.cents for each in charges)
        topped = max(quoted, minimum)
        assert pricing.top_up_cents == topped - quoted
        assert pricing.rush_cents == (topped * rush / 100).quantize(Decimal(1), rounding=ROUND_HALF_UP)
        assert sum(each.cents for each in pricing.charges) == topped + pricing.rush_cents
        assert all(after.cents >= before.cents for before, after in zip(charges, pricing.charges, strict=True))

    @given(charge_lists.filter(lambda charges: sum(each.cents for each in charges) > 0), st.integers(0, 10**8))
    def test_each_class_bears_its_share_of_the_top_up_to_the_cent(self, charges: list[Charge], minimum: int) -> None:
        pricing = price_job(charges, minimum, Decimal(0))
        quoted = sum(each.cents for each in charges)
        for before, after in zip(charges, pricing.charges, strict=True):
            exact = Fraction(before.cents * (quoted + pricing.top_up_cents), quoted)
            assert abs(after.cents - exact) < 1
