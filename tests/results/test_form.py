"""The form's lines add up as the form says, whatever stands on them, and the quarters of a year make the year."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from ledger.results.form import GOODS_LINES, Receipts, Stock, fill
from ledger.results.home import SimplifiedRate, figure_cents, simplified_cents

KEYS = ("advertising", "supplies", "insurance", "taxes_and_licenses", "meals", "other_expenses", *GOODS_LINES)
amounts = st.integers(-50_000_00, 500_000_00)


@given(
    st.builds(Receipts, amounts, st.integers(0, 10_000_00), amounts),
    st.dictionaries(st.sampled_from(KEYS), amounts),
    st.integers(0, 20_000_00),
    st.none() | st.builds(Stock, st.integers(0, 9_000_00), st.integers(0, 9_000_00)),
)
def test_every_line_is_made_of_the_lines_that_the_form_names(
    receipts: Receipts, expenses: dict[str, int], home_cents: int, stock: Stock | None
) -> None:
    line = fill(receipts, expenses, home_cents, stock).cents
    spent = sum(cents for key, cents in expenses.items() if key not in GOODS_LINES)

    def at(key: str) -> int:
        return line.get(key, 0)

    assert at("gross_income") == at("gross_receipts") - at("returns") - at("cost_of_goods") + at("other_income")
    assert at("total_expenses") == spent
    assert at("tentative_profit") == at("gross_income") - at("total_expenses")
    assert at("net_profit") == at("tentative_profit") - at("home")
    assert at("home") <= max(0, at("tentative_profit"))
    if stock is None:
        assert at("cost_of_goods") == 0
    else:
        bought = sum(expenses.get(key, 0) for key in GOODS_LINES)
        assert at("cost_of_goods_sum") == at("opening_inventory") + bought
        assert at("cost_of_goods_total") == at("cost_of_goods_sum") - at("closing_inventory") == at("cost_of_goods")


def test_a_part_of_the_home_makes_no_loss() -> None:
    filled = fill(Receipts(1_000_00, 0, 0), {"supplies": 900_00}, 1_500_00, None)
    assert filled.cents["home"] == 100_00
    assert filled.net_profit_cents == 0
    assert fill(Receipts(500_00, 0, 0), {"supplies": 900_00}, 1_500_00, None).net_profit_cents == -400_00


def test_lines_that_are_never_empty_stand_there_with_nothing_on_them() -> None:
    assert set(fill(Receipts(0, 0, 0), {}, 0, None).cents) == {
        *("gross_receipts", "gross_income", "total_expenses", "tentative_profit", "net_profit")
    }


class TestHome:
    RATE = SimplifiedRate(Fraction(5_00), Fraction(300))

    def test_the_simplified_method_stops_at_the_largest_area(self) -> None:
        """IRS, Simplified option for home office deduction (Revenue Procedure 2013-13): 360 is 1,500, 150 is 750."""
        assert simplified_cents(Fraction(360), 12, self.RATE) == 1_500_00
        assert simplified_cents(Fraction(150), 12, self.RATE) == 750_00

    @given(st.integers(1, 400), st.integers(0, 12))
    def test_the_quarters_of_a_year_add_to_it(self, square_feet: int, months: int) -> None:
        so_far = [simplified_cents(Fraction(square_feet), each, self.RATE) for each in (0, 3, 6, 9, 12)]
        quarters = [after - before for before, after in zip(so_far, so_far[1:], strict=False)]
        assert sum(quarters) == so_far[-1]
        assert all(each >= 0 for each in quarters)

    def test_an_accountants_figure_is_borne_by_the_months(self) -> None:
        assert [figure_cents(1_000_00, months) for months in (0, 3, 12)] == [0, 250_00, 1_000_00]
