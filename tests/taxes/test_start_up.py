"""What was spent before the workshop was open: which entries count, which are left out, and when it is asked."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import start_up
from ledger.actions.start_up import OpenedRequest
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.money import Currency
from ledger.quarter.questions import find_questions
from ledger.quarter.use_tax_questions import OPENED
from ledger.taxes.start_up_records import ReadStartUp, read_start_up
from tests.workshop import begin, begin_taxed, job_for, on_day, picked_up, reversed_entry, spent

FIRST, OPEN, LATER = date(2026, 1, 5), date(2026, 3, 2), date(2026, 3, 20)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=5_000_00)
    yield opened
    opened.close()


def recorded(books: Books, day: date = OPEN) -> ReadStartUp:
    return start_up.perform(on_day(books, LATER), OpenedRequest(day))


def costs(found: ReadStartUp) -> list[tuple[str, int, str | None]]:
    return [(each.category, each.cents, each.left_out) for each in found.costs]


def questions(books: Books, start: date, end: date) -> list[str]:
    found = find_questions(on_day(books, LATER), start, end)
    return [each for each in found if "the workshop" in each]


def test_what_counts_is_what_was_spent_before_that_day_other_than_stock_interest_and_taxes(books: Books) -> None:
    spent(books, "400.00", "classes and dues", "checking")
    spent(books, "60.00", "advertising", "personal card")
    spent(books, "90.00", "batting", "checking")
    spent(books, "35.00", "needles and parts", "checking", untaxed=True)
    spent(books, "66.67", "loan interest", "checking")
    spent(books, "50.00", "licenses and taxes", "checking")
    spent(on_day(books, OPEN), "80.00", "advertising", "checking")
    found = recorded(books)
    assert costs(found) == [
        ("advertising", 60_00, None),
        ("classes and dues", 400_00, None),
        ("batting", 90_00, "stock"),
        ("licenses and taxes", 50_00, "taxes"),
        ("loan interest", 66_67, "loan interest"),
        ("needles and parts", 35_00, "stock"),
    ]
    assert found.cost_cents == 460_00
    assert found.rule is not None
    assert found.rule.at_once_cents == 460_00


def test_the_household_part_of_a_receipt_and_what_was_undone_do_not_count(books: Books) -> None:
    spent(books, "80.00", "advertising", "checking", home="30.00")
    wrong = spent(books, "70.00", "postage", "checking")
    reversed_entry(on_day(books, LATER), wrong)
    assert costs(recorded(books)) == [("advertising", 50_00, None)]


def test_a_day_to_come_is_refused_and_the_last_one_recorded_counts(books: Books) -> None:
    with pytest.raises(NotPossible, match="still to come") as refused:
        start_up.perform(books, OpenedRequest(OPEN))
    assert refused.value.field == "opened"
    spent(books, "80.00", "advertising", "checking")
    recorded(books, FIRST)
    assert recorded(books).opened == OPEN
    assert read_start_up(on_day(books, OPEN)) is None, "it was not recorded by then"


def test_the_quarter_asks_for_the_day_and_then_shows_the_costs_with_the_rule(books: Books) -> None:
    quarter = (date(2026, 1, 1), date(2026, 3, 31))
    assert questions(books, *quarter) == []
    spent(books, "80.00", "advertising", "checking")
    assert questions(books, *quarter) == [OPENED]
    recorded(books)
    (said,) = questions(books, *quarter)
    assert said.startswith("80.00 was spent before the workshop was open on 2026-03-02")
    assert "IRC 195 80.00 in the first year, 0.00 over 180 months" in said
    assert questions(books, date(2026, 4, 1), date(2026, 6, 30)) == []


def test_a_workshop_that_spent_nothing_before_its_first_sale_is_not_asked(books: Books) -> None:
    picked_up(books, job_for(books, "50.00"), "cash")
    spent(books, "80.00", "advertising", "checking")
    assert questions(books, date(2026, 1, 1), date(2026, 3, 31)) == []


def test_in_another_currency_the_costs_are_told_without_the_rule(tmp_path: Path) -> None:
    books = begin(tmp_path / "books", currency=Currency("CAD", 2), opening_cents=500_00)
    spent(books, "80.00", "advertising", "checking")
    found = recorded(books)
    assert (found.cost_cents, found.rule) == (80_00, None)
    assert len(questions(books, date(2026, 1, 1), date(2026, 3, 31))) == 1
    books.close()
