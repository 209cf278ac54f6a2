"""How often she files and by when, from which day a change holds, and what her state said of returns."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import answers
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.periods import parse_period
from ledger.taxes.allowance import NO_ALLOWANCE, Allowance, allowance_as_text, allowance_from_text
from ledger.taxes.filing_periods import period_holding
from ledger.taxes.filing_rules import (
    allowance_for,
    basis_of_job,
    basis_on,
    choose_filing,
    corrections_on,
    due_date,
    filing_frequency,
    read_choices,
    read_filing_rules,
)
from tests.taxes.filings import APRIL, file, sold, told_allowance, told_basis, told_corrections
from tests.workshop import FIRST_DAY, begin_taxed, on_day

FEBRUARY, MAY = date(2026, 2, 10), date(2026, 5, 20)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


def choose(books: Books, day: date, frequency: str, due_day: int = 25, from_date: date | None = None) -> date:
    then = on_day(books, day)
    with then.writing() as write:
        return choose_filing(then, write, frequency, due_day, from_date)


def label_on(books: Books, day: date) -> str:
    return period_holding(read_filing_rules(books), day).label


class TestFromWhichDay:
    def test_what_she_says_first_holds_for_the_whole_of_the_running_period(self, books: Books) -> None:
        choose(books, FEBRUARY, "quarterly")
        assert label_on(books, FIRST_DAY) == "2026-Q1"

    def test_said_otherwise_on_the_same_day_it_is_a_correction(self, books: Books) -> None:
        choose(books, FEBRUARY, "quarterly")
        choose(books, FEBRUARY, "monthly")
        assert label_on(books, FIRST_DAY) == "2026-01"

    def test_a_change_begins_with_the_running_period(self, books: Books) -> None:
        choose(books, FIRST_DAY, "quarterly")
        assert choose(books, MAY, "monthly") == date(2026, 4, 1)
        assert [label_on(books, day) for day in (FEBRUARY, date(2026, 4, 2), MAY)] == ["2026-Q1", "2026-04", "2026-05"]

    def test_a_change_from_a_day_that_she_names_cuts_the_period(self, books: Books) -> None:
        choose(books, FIRST_DAY, "quarterly")
        choose(books, MAY, "monthly", from_date=date(2026, 5, 1))
        assert [label_on(books, day) for day in (date(2026, 4, 2), MAY)] == ["2026-04", "2026-05"]

    def test_what_was_said_before_for_a_later_day_gives_way(self, books: Books) -> None:
        choose(books, FIRST_DAY, "quarterly")
        choose(books, FEBRUARY, "yearly", from_date=date(2027, 1, 1))
        choose(books, MAY, "monthly")
        assert filing_frequency(books, date(2027, 6, 1)) == "monthly"

    def test_a_filed_period_keeps_its_ends(self, books: Books) -> None:
        choose(books, FIRST_DAY, "quarterly")
        file(books, APRIL)
        with pytest.raises(NotPossible, match="filed through 2026-03-31"):
            choose(books, APRIL, "monthly", from_date=FEBRUARY)
        assert choose(books, APRIL, "monthly") == date(2026, 4, 1)

    def test_the_same_again_for_a_filed_period_changes_nothing(self, books: Books) -> None:
        choose(books, FIRST_DAY, "quarterly")
        file(books, APRIL)
        choose(books, APRIL, "quarterly", 20, FIRST_DAY)
        assert len(read_filing_rules(books)) == 1

    def test_the_set_up_list_says_it_too(self, books: Books) -> None:
        request = answers.AnswerRequest(item="filing_frequency", value="monthly, 20", asked="the revenue office")
        answers.perform(on_day(books, FEBRUARY), request)
        assert label_on(books, FEBRUARY) == "2026-02"
        assert due_date(books, parse_period("2026-02")) == date(2026, 3, 20)


class TestDueDay:
    def test_until_it_is_said_there_is_none(self, books: Books) -> None:
        assert due_date(books, parse_period("2026-Q1")) is None

    def test_said_after_the_period_it_holds_for_its_return(self, books: Books) -> None:
        choose(books, APRIL, "quarterly", 20)
        assert due_date(books, parse_period("2026-Q1")) == date(2026, 4, 20)

    def test_put_right_before_the_return_is_due_it_holds_for_it(self, books: Books) -> None:
        choose(books, FIRST_DAY, "quarterly", 25)
        choose(books, APRIL, "quarterly", 20)
        assert due_date(books, parse_period("2026-Q1")) == date(2026, 4, 20)

    def test_a_later_change_leaves_returns_that_were_due_as_they_were(self, books: Books) -> None:
        choose(books, FIRST_DAY, "quarterly", 20)
        choose(books, MAY, "quarterly", 31)
        assert due_date(books, parse_period("2026-Q1")) == date(2026, 4, 20)
        assert due_date(books, parse_period("2026-Q2")) == date(2026, 7, 31)


class TestWhatTheStateSaid:
    def test_until_she_asked_nothing_is_said(self, books: Books) -> None:
        found = read_choices(books, FIRST_DAY)
        assert (found.basis, found.corrections, found.below_zero, found.allowance) == (None, None, None, NO_ALLOWANCE)

    def test_each_day_has_what_held_on_it(self, books: Books) -> None:
        told_basis(books, "payment", FEBRUARY)
        told_corrections(books, "amended", FEBRUARY)
        days = [FIRST_DAY, FEBRUARY, MAY]
        assert [basis_on(books, days)[day] for day in days] == ["sale", "payment", "payment"]
        assert [corrections_on(books, days)[day] for day in days] == ["next", "amended", "amended"]

    def test_a_job_goes_by_the_day_of_its_sale(self, books: Books) -> None:
        job = sold(books, "20.00", FIRST_DAY, "owed")
        told_basis(books, "payment", FEBRUARY)
        assert basis_of_job(books, job) == "sale"
        assert basis_of_job(books, sold(books, "20.00", FEBRUARY, "owed")) == "payment"

    def test_an_allowance_is_read_as_it_was_kept(self) -> None:
        for each in (NO_ALLOWANCE, Allowance(Decimal("2.5"), 1_200_00, Decimal("1.25"), 30_00)):
            assert allowance_from_text(allowance_as_text(each)) == each

    def test_an_allowance_that_ends_is_none_from_then_on(self, books: Books) -> None:
        told_allowance(books, Allowance(Decimal(2)), FIRST_DAY)
        told_allowance(books, NO_ALLOWANCE, date(2026, 4, 1))
        held = [allowance_for(books, parse_period(each)).of(100_00) for each in ("2026-Q1", "2026-Q2")]
        assert held == [2_00, 0]


def test_what_tax_belongs_to_stays_in_a_filed_period(books: Books) -> None:
    """Sales of it would else be reported twice, once by sale and again when they are paid, or never."""
    choose(books, FEBRUARY, "quarterly")
    sold(books, "100.00", FEBRUARY, "owed")
    file(books, APRIL)
    with pytest.raises(NotPossible, match="Returns are filed through 2026-03-31"):
        told_basis(books, "payment", FEBRUARY)
    told_basis(books, "sale", FEBRUARY)  # what held there anyhow
    told_basis(books, "payment", date(2026, 4, 1))
    assert set(basis_on(books, [FEBRUARY]).values()) == {"sale"}
