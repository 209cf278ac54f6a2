"""Possible sales tax: as if taxed on what nobody has answered, until it is answered, less what was handed back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import refund, retax
from ledger.books.books import Books
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.set_aside.possible_tax import read_possible_tax
from tests import workshop as w
from tests.set_aside.checks import check_set_aside

DAY = date(2026, 2, 2)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """A rate of 5.3 %, goods taxed, and nobody asked about work."""
    opened = w.begin(tmp_path / "books", opening_cents=1_000_00)
    w.add_rate(opened, "Kansas state", "5.3")
    w.answer(opened, "goods", True)
    w.add_to_price_list(opened, "Batting", "each", "20.00", "goods")
    yield w.on_day(opened, DAY)
    opened.close()


def possible(books: Books) -> list[tuple[int, int]]:
    """Base and tax of each sale, in cents."""
    return [(each.base_cents, each.tax_cents) for each in read_possible_tax(books, books.today)]


def test_it_is_worked_out_as_if_taxed_and_added_to_what_is_owed(books: Books) -> None:
    w.picked_up(books, w.job_for(books, "100.00", lines=["Batting"]), "check")
    assert possible(books) == [(100_00, 5_30)]
    found = check_set_aside(books)
    assert (found.owed.sales_tax, found.owed.possible_sales_tax) == (0, 5_30)
    assert any(note.startswith("Possible sales tax") for note in found.notes)


def test_the_answered_lines_of_the_same_slip_are_not_in_it(books: Books) -> None:
    w.add_to_price_list(books, "Quilting", "flat", "100.00")
    w.picked_up(books, w.job_for(books, lines=["Quilting", ("Batting", "1")]), "check")
    assert possible(books) == [(100_00, 5_30)]
    assert check_set_aside(books).owed.sales_tax == 1_06


def test_it_goes_once_the_class_is_answered_as_not_taxed(books: Books) -> None:
    w.picked_up(books, w.job_for(books, "100.00"), "check")
    w.answer(books, "work", False, DAY)
    assert possible(w.on_day(books, date(2026, 2, 3))) == []


def test_it_stays_where_the_class_turns_out_to_be_taxed_until_the_sale_is_put_right(books: Books) -> None:
    job = w.job_for(books, "100.00")
    w.picked_up(books, job, "check")
    w.answer(books, "work", True, DAY)
    assert possible(books) == [(100_00, 5_30)]
    retax.perform(books, RetaxRequest(job.id, "the office answered", "owed"))
    assert possible(books) == []
    assert check_set_aside(books).owed.sales_tax == 5_30


def test_what_is_handed_back_or_undone_is_taken_off(books: Books) -> None:
    job = w.job_for(books, "100.00")
    w.picked_up(books, job, "check")
    refund.perform(w.on_day(books, date(2026, 2, 3)), RefundRequest(job.id, 40_00, "cash"))
    assert possible(w.on_day(books, date(2026, 2, 3))) == [(60_00, 3_18)]
    undone = w.picked_up(books, w.job_for(books, "50.00"), "owed").entry
    assert undone is not None
    w.reversed_entry(books, undone.number)
    assert possible(books) == [(100_00, 5_30)]


def test_the_rate_is_that_of_the_day_of_the_sale(books: Books) -> None:
    w.picked_up(books, w.job_for(books, "100.00"), "check")
    w.add_rate(books, "Kansas state", "9.0", date(2026, 3, 1))
    assert possible(w.on_day(books, date(2026, 3, 2))) == [(100_00, 5_30)]


def test_without_a_rate_nothing_can_be_said(tmp_path: Path) -> None:
    books = w.on_day(w.begin(tmp_path / "bare"), DAY)
    w.picked_up(books, w.job_for(books, "100.00"), "check")
    assert possible(books) == []
