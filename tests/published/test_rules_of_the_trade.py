"""Rules of thumb of the trade: common practice, no source. Held here so that nobody bends them by accident."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.jobs.job import JobLine
from tests.workshop import add_to_price_list, begin, job_for


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books")
    yield opened
    opened.close()


def line_of(books: Books, name: str, width: str, length: str) -> JobLine:
    return job_for(books, lines=[name], width=width, length=length).lines[0]


def test_batting_for_a_top_of_70_by_80_is_cut_at_88_off_the_roll(books: Books) -> None:
    # Common practice, no source: at least 4 in larger on every side, so 70 x 80 wants 78 x 88.
    add_to_price_list(books, "Batting", "inch", "0.45", "goods")
    line = line_of(books, "Batting", "70", "80")
    assert (line.quantity, line.cents) == (88, 39_60)


def test_backing_of_78_by_88_is_88_inches_too_where_it_has_the_same_allowance(books: Books) -> None:
    add_to_price_list(books, "Backing", "yard", "12.00", "goods", allowance=Decimal(8))
    line = line_of(books, "Backing", "70", "80")
    assert (line.quantity, line.cents) == (Fraction(22, 9), 29_33)


def test_the_binding_of_a_top_of_56_by_72_is_256_inches(books: Books) -> None:
    # Common practice, no source: the perimeter.
    add_to_price_list(books, "Binding", "length", "0.15")
    line = line_of(books, "Binding", "56", "72")
    assert (line.quantity, line.unit, line.cents) == (256, "in", 38_40)


def test_the_area_of_a_top_is_its_width_times_its_length(books: Books) -> None:
    add_to_price_list(books, "Edge-to-edge", "area", "0.02")
    assert line_of(books, "Edge-to-edge", "56", "72").quantity == 4032


@pytest.mark.parametrize(
    ("rate", "cents"),
    [("0.01", 56_00), ("0.0175", 98_00), ("0.02", 112_00), ("0.03", 168_00), ("0.12", 672_00)],
)
def test_work_is_priced_by_the_square_inch(books: Books, rate: str, cents: int) -> None:
    # Common practice, no source: edge-to-edge about 1 to 3 cents a square inch, custom work 3 to 12.
    add_to_price_list(books, "Quilting", "area", rate)
    assert line_of(books, "Quilting", "70", "80").cents == cents


def test_a_small_top_costs_the_minimum_charge(books: Books) -> None:
    # Common practice, no source.
    add_to_price_list(books, "Edge-to-edge", "area", "0.02", minimum_cents=75_00)
    assert line_of(books, "Edge-to-edge", "36", "45").cents == 75_00
