"""The sums that Schedule C itself prescribes, on a small shop worked out by hand.

Source: Schedule C (Form 1040), Profit or Loss From Business, 2023, parts I to III, the words beside the lines: line 3
is line 1 less line 2; 5 is 3 less 4; 7 is 5 plus 6; 28 adds lines 8 through 27a; 29 is 7 less 28; 31 is 29 less 30; 40
adds lines 35 through 39; 42 is 40 less 41, and goes to line 4. The words of lines 29, 31 and 40 are from memory.
"""

from __future__ import annotations

from ledger.figures.look_up import schedule_c_line
from ledger.results.form import Receipts, Stock, fill

# Receipts 10,000.00, returns 250.00, other income 40.00; stock 600.00 at the beginning and 450.00 at the end, 900.00
# bought; advertising 120.00, supplies 1,310.55, meals that count 30.25; home 500.00.
FILLED = fill(
    Receipts(gross_cents=10_000_00, returns_cents=250_00, other_cents=40_00),
    {"advertising": 120_00, "supplies": 1_310_55, "meals": 30_25, "purchases": 900_00},
    500_00,
    Stock(opening_cents=600_00, closing_cents=450_00),
).cents


def test_part_iii_works_out_the_cost_of_goods_sold() -> None:
    assert FILLED["cost_of_goods_sum"] == 600_00 + 900_00
    assert FILLED["cost_of_goods_total"] == 1_500_00 - 450_00 == 1_050_00
    assert FILLED["cost_of_goods"] == FILLED["cost_of_goods_total"]


def test_part_i_ends_in_the_gross_income() -> None:
    assert FILLED["gross_income"] == 10_000_00 - 250_00 - 1_050_00 + 40_00 == 8_740_00


def test_part_ii_ends_in_the_net_profit() -> None:
    assert FILLED["total_expenses"] == 120_00 + 1_310_55 + 30_25 == 1_460_80
    assert FILLED["tentative_profit"] == 8_740_00 - 1_460_80 == 7_279_20
    assert FILLED["net_profit"] == 7_279_20 - 500_00 == 6_779_20


def test_the_lines_have_the_numbers_that_the_arithmetic_speaks_of() -> None:
    numbers = {
        "gross_receipts": "1",
        "returns": "2",
        "cost_of_goods": "4",
        "other_income": "6",
        "gross_income": "7",
        "total_expenses": "28",
        "tentative_profit": "29",
        "home": "30",
        "net_profit": "31",
        "opening_inventory": "35",
        "cost_of_goods_sum": "40",
        "closing_inventory": "41",
        "cost_of_goods_total": "42",
    }
    assert {key: schedule_c_line(key, 2023, asked_by="a test").number for key in numbers} == numbers
