"""The depreciation memo: by the tables from what is in the books, for her accountant, and nothing of it posted."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.actions import add_machine_cost, bring_in, sell_machine, share_machine
from ledger.books.books import Books
from ledger.errors import FigureNotKnown, NotPossible
from ledger.machine.depreciation import Purchase, basis, convention_of, late_percent, years_of
from ledger.machine.depreciation_record import Memo, limits_on, read_memo, table
from ledger.machine.depreciation_sheet import memo_lines
from tests.workshop import begin_taxed, cents, on_day

JANUARY = date(2026, 1, 5)
HALF_YEAR = [Decimal(each) for each in ["20.00", "32.00", "19.20", "11.52", "11.52", "5.76"]]


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=40_000_00)
    yield opened
    opened.close()


def bought(books: Books, amount: str, day: date = JANUARY, **more: Any) -> None:
    request = {"what": "Longarm", "paid_from": "checking"} | more
    add_machine_cost.perform(on_day(books, day), add_machine_cost.CostRequest(cents(amount), **request))


def memo(books: Books, year: int, today: date = date(2027, 2, 1)) -> Memo:
    return read_memo(on_day(books, today), year)


def shown(found: Memo) -> str:
    return "\n".join(memo_lines(found, lambda amount: f"{amount / 100:.2f}"))


@settings(deadline=None, max_examples=100)
@given(st.integers(1, 10**12), st.dates(date(2000, 1, 1), date(2050, 1, 1)))
def test_the_years_add_to_the_basis_whatever_it_is(cost: int, placed: date) -> None:
    years = years_of(cost, HALF_YEAR, placed)
    assert sum(each.cents for each in years) == cost
    assert [each.percent for each in years] == HALF_YEAR


def test_what_is_private_or_expensed_is_no_basis_and_the_parts_add_to_the_cost() -> None:
    found = basis(10_000_00, Decimal(90), 1_000_00, Decimal(40))
    assert (found.private_cents, found.bonus_cents, found.cents) == (1_000_00, 3_200_00, 4_800_00)
    with pytest.raises(NotPossible) as refused:
        basis(10_000_00, Decimal(90), 9_000_01, Decimal(0))
    assert refused.value.field == "section_179"


def test_without_purchases_the_half_year_applies() -> None:
    assert late_percent([]) == 0
    assert convention_of([], Decimal(40)) == "half-year"
    a_third = [Purchase(date(2026, 12, 31), 1_00), Purchase(date(2026, 9, 30), 2_00)]
    assert late_percent(a_third) == Fraction(100, 3)


def test_a_machine_of_the_spring_has_the_half_year_tables(books: Books) -> None:
    bought(books, "10000")
    (line,) = memo(books, 2026).lines
    assert line.convention == "half-year"
    assert [(of, year.cents) for of, year in line.years if year] == [(5, 2_000_00), (7, 1_429_00)]
    assert [memo(books, 2027).total_cents(of) for of in (5, 7)] == [3_200_00, 2_449_00]


def test_most_of_it_late_in_the_year_has_the_mid_quarter_tables_and_each_part_the_column_of_its_quarter(
    books: Books,
) -> None:
    bought(books, "5000")
    bought(books, "5000", date(2026, 11, 2), what="Frame", kind="upgrade")
    first, second = memo(books, 2026).lines
    assert (first.convention, second.convention) == ("mid-quarter", "mid-quarter")
    assert [year.percent for _, year in (*first.years, *second.years) if year] == [
        Decimal("35.00"),
        Decimal("25.00"),
        Decimal("5.00"),
        Decimal("3.57"),
    ]


def test_the_day_of_business_use_counts_and_not_the_day_of_payment(books: Books) -> None:
    bought(books, "10000", placed_on=date(2026, 12, 1))
    assert memo(books, 2026, date(2026, 11, 30)).lines == ()
    (line,) = memo(books, 2026).lines
    assert line.convention == "mid-quarter"


def test_training_interest_and_what_came_back_are_no_part_of_it(books: Books) -> None:
    bought(books, "10000")
    bought(books, "300", what="Two days with the maker", kind="training")
    sell_machine.perform(on_day(books, date(2026, 8, 1)), sell_machine.SellRequest(7_000_00))
    found = memo(books, 2026)
    assert [each.part.what for each in found.lines] == ["Longarm"]
    assert [each.cents for each in found.came_back] == [-7_000_00]
    assert "gain or loss" in shown(found)
    assert memo(books, 2027).came_back == ()


def test_the_workshops_share_of_its_use_is_that_of_the_years_end(books: Books) -> None:
    bought(books, "10000")
    for percent, day in (("80", JANUARY), ("60", date(2027, 1, 1))):
        share_machine.perform(books, share_machine.MachineShareRequest(Decimal(percent), "hours", day))
    assert [memo(books, year).total_cents(5) for year in (2026, 2027)] == [1_600_00, 1_920_00]
    assert "80.00 %. Does it hold?" in shown(memo(books, 2026))


def test_what_was_hers_first_stands_at_the_lesser_and_the_memo_asks_about_it(books: Books) -> None:
    bring_in.perform(books, bring_in.BringInRequest("Longarm", 18_500_00, 9_000_00))
    found = memo(books, 2026)
    assert found.lines[0].basis_cents == 9_000_00
    assert "Is section 179 open to it?" in shown(found)


def test_once_it_is_written_down_the_memo_says_so(books: Books) -> None:
    bought(books, "400", what="Ruler base", paid_from=None, kind="attachments", placed_on=date(2020, 5, 1))
    (line,) = memo(books, 2026).lines
    assert [year is None for _, year in line.years] == [True, False]
    assert "written down" in shown(found := memo(books, 2028, date(2028, 2, 1)))
    assert [found.total_cents(of) for of in (5, 7)] == [0, 0]


def test_the_memo_is_for_the_accountant_and_writes_nothing(books: Books) -> None:
    bought(books, "10000")
    before = books.value("select count(*) from record"), books.value("select count(*) from entry")
    said = shown(memo(books, 2026))
    assert said.startswith("For your accountant. Nothing is posted.")
    assert "deductible" not in said
    assert before == (books.value("select count(*) from record"), books.value("select count(*) from entry"))
    assert "Nothing that a machine cost" in shown(memo(books, 2025))


def test_limits_are_those_of_the_year_and_where_none_is_kept_that_is_said() -> None:
    found = limits_on(date(2025, 6, 1))
    assert found.section_179 is not None
    assert found.section_179.value == 2_500_000
    assert [(words, str(figure.value)) for words, figure in found.bonus] == [
        ("acquired by 2025-01-19", "40"),
        ("acquired after that", "100"),
    ]
    assert [len(limits_on(date(year, 6, 1)).bonus) for year in (2020, 2022)] == [0, 1]
    assert limits_on(date(2020, 6, 1)).section_179 is None


def test_beyond_the_last_published_year_the_table_is_marked_and_before_the_first_there_is_none() -> None:
    assert table(5, date(2031, 1, 1), "half-year").notes[-1] == "no published figure for 2031 yet"
    with pytest.raises(FigureNotKnown):
        table(5, date(1980, 1, 1), "half-year")
