"""Each figure opens into its parts, down to the entries."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import own_tax_choices, pay_estimated
from ledger.books.books import Books
from ledger.set_aside.owed import read_set_aside
from ledger.set_aside.part import Part
from ledger.set_aside.parts import named_parts, parts_of
from tests import workshop as w

DAY = date(2026, 2, 10)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = w.on_day(w.begin_taxed(tmp_path / "books", opening_cents=1_000_00), DAY)
    own_tax_choices.say_income_tax(opened, own_tax_choices.IncomeTaxRequest(Decimal(10), "Ann"))
    w.picked_up(opened, w.job_for(opened, "10000.00"), "check")  # entry 2
    w.spent(opened, "400.00", "thread", "workshop card")  # entry 3
    w.deposit(opened, w.job_for(opened, "80.00"), "30.00")  # entry 4
    yield opened
    opened.close()


def named(books: Books, name: str) -> Part:
    return named_parts(books, read_set_aside(books))[name]


def entries_below(part: Part) -> set[int]:
    """The entries that a figure rests on."""
    own = {part.entry} if part.entry is not None else set()
    return own.union(*(entries_below(each) for each in part.opened()))


@pytest.mark.parametrize(
    ("name", "entries"),
    [
        ("sales_tax", {2}),
        ("cards", {3}),
        ("deposits", {4}),
        ("self_employment", {2, 3, 4}),
        ("income_tax", {2, 3, 4}),
        ("money", {1, 2, 4}),
        ("held", set()),
    ],
)
def test_a_figure_opens_down_to_its_entries(books: Books, name: str, entries: set[int]) -> None:
    assert entries_below(named(books, name)) == entries


def test_sales_tax_opens_by_month_and_each_month_into_its_entries(books: Books) -> None:
    w.picked_up(w.on_day(books, date(2026, 3, 1)), w.job_for(books, "100.00"), "check")
    (february, march) = named(w.on_day(books, date(2026, 3, 2)), "sales_tax").opened()
    assert (february.words, february.cents, march.words, march.cents) == ("February 2026", 530_00, "March 2026", 5_30)
    (sale,) = february.opened()
    assert (sale.cents, sale.entry) == (530_00, 2)


def test_self_employment_tax_opens_into_its_working_and_the_profit(books: Books) -> None:
    (year,) = named(books, "self_employment").opened()
    assert (year.words, year.cents) == ("Tax year 2026", 1_360_68)
    worked, profit, *_ = year.opened()
    assert [each.cents for each in worked.opened()] == [1_102_77, 257_91, 8_893_31]
    assert (profit.cents, profit.adds) == (9_630_00, False)
    assert [(each.words, each.cents) for each in profit.opened()] == [
        ("job income", 10_000_00),
        ("Deposits received, less used", 30_00),
        ("thread", -400_00),
    ]


def test_a_year_opens_into_its_four_dates_and_says_how_far_they_are_paid(books: Books) -> None:
    pay_estimated.perform(books, pay_estimated.EstimatedTaxRequest(100_00, "checking"))
    later = w.on_day(books, date(2026, 4, 20))
    (year,) = named(later, "self_employment").opened()
    dates = next(each for each in year.opened() if each.words == "estimated tax wanted on the four dates")
    told = {each.words: each.cents for each in dates.opened() if each.cents}
    # 90 % of 1,360.68 and 963.00.
    assert dates.cents == 2_091_31
    assert told["2026-04-15, period 1 of 4"] == 522_83
    assert (told["paid towards the dates"], told["behind"]) == (100_00, 422_83)
    assert "ahead" not in told


def test_what_was_paid_is_a_part_of_its_own(books: Books) -> None:
    pay_estimated.perform(books, pay_estimated.EstimatedTaxRequest(1_500_00, "checking"))
    (year,) = named(books, "income_tax").opened()
    whole, covered, *_ = year.opened()
    assert (year.cents, whole.cents, covered.cents) == (823_68, 963_00, -139_32)
    (payment,) = covered.opened()
    assert (payment.cents, payment.entry, payment.adds) == (1_500_00, 5, False)


def test_the_lines_of_the_room_leave_out_what_is_zero_but_the_three_taxes(books: Books) -> None:
    words = [each.words for each in parts_of(books, read_set_aside(books))]
    assert "Use tax" not in words
    assert words[:2] == ["Sales tax, held in trust", "Deposits held"]
    assert "Income tax" in words
    assert words[-1] == "Free to draw"
    w.transferred(books, "draw", "11000.00")
    assert parts_of(books, read_set_aside(books))[-1].words == "Short by"


def test_income_tax_that_nobody_told_is_called_so(tmp_path: Path) -> None:
    bare = w.on_day(w.begin_taxed(tmp_path / "bare"), DAY)
    assert "Income tax, not known" in [each.words for each in parts_of(bare, read_set_aside(bare))]
