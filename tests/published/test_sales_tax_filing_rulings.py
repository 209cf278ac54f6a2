"""The differing rulings on quilting and sewing, each as what was entered, and the return that comes of it.

The sources stand beside the rulings in `test_is_quilting_taxed`. The slip: quilting 112.00 as work; batting 39.60 and
thread 4.00 as goods; 155.60 in all. Nothing here says what any state holds today.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.published.test_is_quilting_taxed import RULINGS
from tests.taxes.filings import file, pay_return, sheet_of
from tests.workshop import (
    add_rate,
    add_to_price_list,
    answer,
    balance_of,
    begin,
    choose_filing,
    job_for,
    on_day,
    picked_up,
)

pytestmark = pytest.mark.published

CHARGED = {"work": 112_00, "goods": 43_60}
APRIL = date(2026, 4, 10)


@pytest.mark.parametrize("name", RULINGS)
def test_a_ruling_gives_its_own_return(name: str, tmp_path: Path) -> None:
    ruling, books = RULINGS[name], begin(tmp_path / "books", opening_cents=100_00)
    for jurisdiction, percent in ruling.rates:
        add_rate(books, jurisdiction, percent)
    for class_name, taxed in ruling.taxed.items():
        answer(books, class_name, taxed)
    choose_filing(books, "quarterly", 31)
    add_to_price_list(books, "Edge-to-edge", "area", "0.02")
    add_to_price_list(books, "Batting", "inch", "0.45", "goods")
    add_to_price_list(books, "Thread", "flat", "4.00", "goods")
    lines = ["Edge-to-edge", "Batting", "Thread"]
    picked_up(books, job_for(books, lines=lines, width="70", length="80"), "check")
    sheet = sheet_of(books, "2026-Q1")
    assert sheet.gross_cents == 155_60
    assert sheet.taxable_cents == sum(cents for each, cents in CHARGED.items() if ruling.taxed[each])
    assert {each.reason: each.cents for each in sheet.not_taxed} == {
        each: cents for each, cents in CHARGED.items() if not ruling.taxed[each]
    }
    assert sheet.collected_cents == sheet.total_cents == ruling.tax_cents
    file(books, APRIL, "2026-Q1")
    if ruling.tax_cents:
        pay_return(books, APRIL, "2026-Q1")
    assert balance_of(on_day(books, APRIL), "sales tax payable") == 0
    books.close()
