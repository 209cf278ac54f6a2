"""Prices with the tax in them, against worked examples that states and towns have published.

How sure: S seen in the source's own text (a stored copy). Facts only are taken from them.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.money import percent_of, round_half_up
from ledger.quarter.sales_tax import read_sales_tax
from ledger.taxes.sales_tax import Charge, Rate, SlipTax, TaxRules, tax_on
from tests.workshop import FIRST_DAY, add_rate, add_to_price_list, answer, begin, job_for, picked_up

pytestmark = pytest.mark.published


def parted(cents: int, *percents: str) -> SlipTax:
    rates = tuple(Rate(place, f"levy {place}", "state", Decimal(each)) for place, each in enumerate(percents))
    return tax_on([Charge("work", cents, includes_tax=True)], TaxRules(rates, {"work": True}))


@pytest.mark.parametrize(
    ("price", "percents", "base", "taxes"),
    [
        # S: Town of Paradise Valley, Arizona, "Tax Factoring".
        (100_00, ["9.68"], 91_17, [8_83]),
        # S: City of Mesa, Arizona, "Factoring", transaction privilege tax, retail sale: state and county 6.3, city 2.0.
        (1_000_00, ["6.3", "2.0"], 923_36, [58_17, 18_47]),
        # S: the same, an earlier edition: state and county 6.3, city 1.75.
        (100_00, ["6.3", "1.75"], 92_55, [5_83, 1_62]),
        # S: Arizona Administrative Code R15-5-2210.01, Factoring (1993).
        (105_00, ["5"], 100_00, [5_00]),
        # S: Washington Administrative Code 458-20-244, example of tax in gross: Seattle 10.1, Spokane 8.9.
        (2_500_00, ["10.1"], 2_270_66, [229_34]),
        (3_000_00, ["8.9"], 2_754_82, [245_18]),
        # S: Idaho Administrative Code 35.01.02.058, sales through vending machines, above one dollar.
        (1_000_00, ["6"], 943_40, [56_60]),
        # S: Kansas Department of Revenue, booklet KS-1510, older edition: receipts with the tax in the till.
        (10_893_93, ["5.9"], 10_287_00, [606_93]),
    ],
)
def test_base_and_tax_are_those_of_the_published_example(
    price: int, percents: list[str], base: int, taxes: list[int]
) -> None:
    slip = parted(price, *percents)
    assert slip.base_cents == base
    assert [each.tax_cents for each in slip.taxes] == taxes
    assert slip.base_cents + slip.tax_cents == price


@pytest.mark.parametrize(
    ("percent", "factor"),
    [
        # S: California Department of Tax and Fee Administration, Publication 118, sales tax factors, 100 % taxable.
        ("7.250", "93.2401"),
        ("7.750", "92.8074"),
        ("7.975", "92.6140"),
        ("8.225", "92.4001"),
        ("8.250", "92.3788"),
        ("8.875", "91.8485"),
        ("9.475", None),  # not in the table, worked out from its formula: 100 / 1.09475
        ("9.500", "91.3242"),
        ("10.250", "90.7029"),
        ("10.750", "90.2935"),
    ],
)
def test_the_base_is_the_published_factor_of_the_price(percent: str, factor: str | None) -> None:
    base = parted(10_000_00, percent).base_cents
    wanted = Decimal(factor) if factor else (Decimal(100) / Decimal("1.09475")).quantize(Decimal("0.0001"))
    assert base == int(wanted * 10_000)


class TestKansasBooklet:
    """S: Kansas Department of Revenue, booklet KS-1510, older edition, a whole filing at 5.9 percent.

    Receipts 14,588.93, of which 2,045.00, 1,500.00 and 150.00 are not taxed; the rest has the tax in it.
    """

    @pytest.fixture
    def books(self, tmp_path: Path) -> Iterator[Books]:
        opened = begin(tmp_path / "books")
        add_rate(opened, "Kansas state", "5.9")
        answer(opened, "goods", True)
        answer(opened, "other", False)
        add_to_price_list(opened, "Till", "flat", "10893.93", "goods", includes_tax=True)
        for number, amount in enumerate(("2045", "1500", "150"), start=1):
            add_to_price_list(opened, f"Not taxed {number}", "flat", amount, "other")
        lines = ["Till", "Not taxed 1", "Not taxed 2", "Not taxed 3"]
        picked_up(opened, job_for(opened, lines=lines), "cash")
        yield opened
        opened.close()

    def test_gross_taxable_and_tax_are_the_published_ones(self, books: Books) -> None:
        found = read_sales_tax(books, FIRST_DAY, FIRST_DAY)
        assert found.gross_cents == 13_982_00
        assert found.not_taxed_cents == 3_695_00
        assert found.taxable_cents == 10_287_00
        assert found.collected_cents == 606_93

    def test_the_till_holds_the_receipts(self, books: Books) -> None:
        arrived = books.value("select sum(cents) from payment")
        assert arrived == 14_588_93

    def test_with_stock_used_at_cost_the_tax_is_that_of_the_booklet(self) -> None:
        # Stock used personally, 30.00 and 20.00 at cost: 10,337.00 in all, tax 609.88, of which 2.95 is use tax.
        rate = Decimal("5.9")
        assert round_half_up(percent_of(10_287_00 + 30_00 + 20_00, rate)) == 609_88
        assert round_half_up(percent_of(50_00, rate)) == 2_95
        assert 606_93 + 2_95 == 609_88
