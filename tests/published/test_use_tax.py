"""Use tax on stock that was bought for resale and used instead, against published examples."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import use_untaxed
from ledger.actions.use_untaxed import UseRequest
from ledger.taxes.sales_tax import Rate
from ledger.taxes.use_tax import read_use_tax
from ledger.taxes.use_tax_entry import use_tax_on
from tests.workshop import add_rate, balance_of, begin, spent


def test_stock_used_personally_is_taxed_at_cost_as_in_kansas(tmp_path: Path) -> None:
    """Kansas Department of Revenue, booklet KS-1510 (older edition), example of a filing: stock used personally, at
    cost, 30 and 20; at 5.9 % the tax on it is 2.95."""
    books = begin(tmp_path / "books", opening_cents=100_00)
    add_rate(books, "Kansas", "5.9", date(2026, 1, 1))
    spent(books, "30.00", "batting", "checking", untaxed=True)
    spent(books, "20.00", "backing", "checking", untaxed=True)
    for cents in (30_00, 20_00):
        use_untaxed.perform(books, UseRequest(cents, "used personally", category=None if cents == 20_00 else "batting"))
    told = read_use_tax(books, date(2026, 1, 1), date(2026, 12, 31))
    assert (told.base_cents, told.tax_cents) == (50_00, 2_95)
    assert balance_of(books, "use tax payable") == -2_95
    books.close()


def test_what_is_withdrawn_from_the_stock_for_sale_for_own_use_owes_use_tax(tmp_path: Path) -> None:
    """Illinois Department of Revenue, Q&A 134 (examples of use tax liability): goods that were bought for resale
    without tax, and withdrawn from the stock for own use."""
    books = begin(tmp_path / "books", opening_cents=100_00)
    add_rate(books, "Illinois", "6.25", date(2026, 1, 1))
    spent(books, "80.00", "batting", "checking", untaxed=True)
    used, _ = use_untaxed.perform(books, UseRequest(80_00, "for herself"))
    assert used.tax_cents == 5_00
    books.close()


@pytest.mark.parametrize(
    ("cost", "percent", "tax"),
    [
        # Streamlined Sales and Use Tax Agreement, section 324: up when the third decimal is over four.
        (2_50, "5", 13),
        (2_49, "5", 12),
        (40_00, "5.3", 2_12),
        (18_500_00, "5.3", 980_50),
    ],
)
def test_use_tax_is_rounded_as_sales_tax_is(cost: int, percent: str, tax: int) -> None:
    rates = [Rate(1, "state", "state", Decimal(percent) - 1), Rate(2, "county", "county", Decimal(1))]
    assert sum(each.tax_cents for each in use_tax_on(cost, rates)) == tax
