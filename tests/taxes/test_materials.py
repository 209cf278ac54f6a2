"""The materials test: work that is taxed only where the materials in it are worth more than a share of the charge.

Source of the rule that is tried: California, annotation 435.0755 (S, seen in its own text): embroidery on used clothing
is not taxed unless the thread is worth over 10 percent of the charge, or is charged on its own.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.taxes.materials_test import MaterialsTest
from ledger.taxes.rules import answer_class, rules_on
from tests.taxes.filings import OFFICE, sheet_of
from tests.workshop import (
    FIRST_DAY,
    add_rate,
    add_to_price_list,
    answer,
    begin,
    choose_filing,
    job_for,
    on_day,
    picked_up,
)

pytestmark = pytest.mark.published


def ten_percent(*, hidden: str, when_apart: bool) -> MaterialsTest:
    return MaterialsTest(Decimal(10), Decimal(hidden), when_apart)


@pytest.mark.parametrize(
    ("hidden", "when_apart", "slip", "is_taxed"),
    [
        ("4", True, [("work", 100_00)], False),
        ("10", True, [("work", 100_00)], False),  # not over 10 percent
        ("10.01", True, [("work", 100_00)], True),
        ("4", True, [("work", 100_00), ("goods", 1_00)], True),  # charged on its own
        ("4", False, [("work", 100_00), ("goods", 1_00)], False),  # 5.00 of 101.00
        ("0", False, [("work", 90_00), ("goods", 10_00)], False),  # just 10 percent
        ("0", False, [("work", 90_00), ("goods", 10_01)], True),
        ("0", True, [("work", 100_00), ("delivery", 50_00)], False),
        ("0", False, [("work", 0)], False),
    ],
)
def test_a_slip_tells_whether_its_work_is_taxed(
    hidden: str, when_apart: bool, slip: list[tuple[str, int]], is_taxed: bool
) -> None:
    assert ten_percent(hidden=hidden, when_apart=when_apart).is_taxed("work", slip) is is_taxed


class TestOnJobs:
    @pytest.fixture
    def books(self, tmp_path: Path) -> Books:
        opened = begin(tmp_path / "books")
        add_rate(opened, "California state", "7.25")
        answer(opened, "goods", True)
        choose_filing(opened, "quarterly", 31)
        add_to_price_list(opened, "Embroidery", "flat", "112.00")
        add_to_price_list(opened, "Thread", "flat", "4.00", "goods")
        self.told(opened, FIRST_DAY, "4")
        return opened

    def told(self, books: Books, day: date, hidden: str) -> None:
        test = ten_percent(hidden=hidden, when_apart=True)
        with books.writing() as write:
            answer_class(books, write, "work", True, OFFICE, day, materials=test)

    def tax(self, books: Books, day: date, *lines: str) -> int:
        then = on_day(books, day)
        return picked_up(then, job_for(then, lines=lines), "cash").settlement.slip.tax_cents

    def test_little_thread_is_not_taxed_and_thread_charged_apart_taxes_all_of_it(self, books: Books) -> None:
        assert self.tax(books, FIRST_DAY, "Embroidery") == 0
        assert self.tax(books, FIRST_DAY, "Embroidery", "Thread") == 8_41  # 116.00 at 7.25 percent

    def test_another_reckoning_holds_from_its_day(self, books: Books) -> None:
        self.told(books, date(2026, 2, 1), "12")
        assert self.tax(books, date(2026, 1, 31), "Embroidery") == 0
        assert self.tax(books, date(2026, 2, 1), "Embroidery") == 8_12

    def test_a_plain_answer_ends_the_test(self, books: Books) -> None:
        answer(books, "work", True, date(2026, 2, 1))
        assert rules_on(books, date(2026, 2, 1)).materials == {}
        assert self.tax(books, date(2026, 2, 1), "Embroidery") == 8_12

    def test_the_worksheet_has_what_was_not_taxed_by_it(self, books: Books) -> None:
        self.tax(books, FIRST_DAY, "Embroidery")
        self.tax(books, FIRST_DAY, "Embroidery", "Thread")
        sheet = sheet_of(books, "2026-Q1")
        assert (sheet.gross_cents, sheet.taxable_cents, sheet.collected_cents) == (228_00, 116_00, 8_41)
        assert [(each.reason, each.cents) for each in sheet.not_taxed] == [("work", 112_00)]
