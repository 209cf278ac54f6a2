"""What her state said of each class, and how tax is worked out, each from a day on."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.taxes.filing_rules import filing_due_day, filing_frequency
from ledger.taxes.rules import answers_on, known_class, rules_on
from tests.workshop import (
    add_rate,
    add_to_price_list,
    answer,
    begin,
    choose_filing,
    choose_method,
    job_for,
    on_day,
    picked_up,
    previewed,
)

JANUARY, FEBRUARY, APRIL, JULY = date(2026, 1, 5), date(2026, 2, 10), date(2026, 4, 1), date(2026, 7, 1)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books")
    add_rate(opened, "Kansas state", "5.3")
    yield opened
    opened.close()


def sell(books: Books, amount: str = "100.00") -> None:
    picked_up(books, job_for(books, amount), "cash")


def method_on(books: Books, day: date) -> str:
    return rules_on(books, day).method


class TestAnswers:
    def test_nothing_is_taxed_before_somebody_was_asked(self, books: Books) -> None:
        assert answers_on(books, JANUARY) == {}
        slip = previewed(books, job_for(books, "100.00"), "cash").slip
        assert (slip.tax_cents, slip.tax.unanswered) == (0, ("work",))

    def test_an_answer_holds_from_its_day_until_the_next_one(self, books: Books) -> None:
        answer(books, "work", True, FEBRUARY)
        answer(books, "Work ", False, JULY)
        assert [answers_on(books, day) for day in (JANUARY, FEBRUARY, date(2026, 6, 30), JULY)] == [
            {},
            {"work": True},
            {"work": True},
            {"work": False},
        ]

    def test_an_answer_with_a_last_day_leaves_the_class_unanswered_after_it(self, books: Books) -> None:
        answer(books, "goods", True, JANUARY, date(2026, 3, 31))
        assert answers_on(books, date(2026, 3, 31)) == {"goods": True}
        assert answers_on(books, APRIL) == {}

    def test_of_two_answers_from_one_day_the_later_entered_holds(self, books: Books) -> None:
        answer(books, "goods", True)
        answer(books, "goods", False)
        assert answers_on(books, JANUARY) == {"goods": False}

    def test_a_class_of_her_own_is_known_once_it_was_answered(self, books: Books) -> None:
        with pytest.raises(NotFound, match="lessons"):
            known_class(books, "lessons")
        answer(books, "Lessons", True)
        assert known_class(books, " LESSONS") == "lessons"
        add_to_price_list(books, "Lesson", "hour", "40", "lessons")
        slip = previewed(books, job_for(books, lines=[("Lesson", "1.5")]), "cash").slip
        assert slip.tax_cents == 3_18

    def test_an_answer_needs_whom_she_asked_and_days_in_their_order(self, books: Books) -> None:
        with pytest.raises(NotUnderstood):
            answer(books, "", True)
        with pytest.raises(NotPossible, match="ends before"):
            answer(books, "work", True, JULY, APRIL)

    def test_a_slip_of_several_classes_taxes_those_that_are_answered_with_yes(self, books: Books) -> None:
        answer(books, "goods", True)
        answer(books, "work", False)
        add_to_price_list(books, "Batting", "each", "37.45", "goods")
        add_to_price_list(books, "Quilting", "flat", "112.00", "work")
        add_to_price_list(books, "Parcel", "flat", "8.00", "delivery")
        slip = previewed(books, job_for(books, lines=["Batting", "Quilting", "Parcel"]), "cash").slip
        assert [each.treatment for each in slip.tax.charges] == ["taxed", "not taxed", "unanswered"]
        assert (slip.charge_cents, slip.tax_cents, slip.total_cents) == (157_45, 1_98, 159_43)

    def test_a_sale_keeps_the_answer_of_its_own_day(self, books: Books) -> None:
        answer(books, "work", True)
        answer(books, "work", False, FEBRUARY)
        job = job_for(books, "100.00")
        assert previewed(books, job, "cash").slip.tax_cents == 5_30
        assert previewed(on_day(books, FEBRUARY), job, "cash").slip.tax_cents == 0


class TestMethod:
    def test_it_is_per_slip_until_she_chooses(self, books: Books) -> None:
        assert method_on(books, JANUARY) == "slip"

    def test_before_the_first_taxed_sale_of_a_period_it_holds_for_all_of_that_period(self, books: Books) -> None:
        answer(books, "work", True)
        choose_method(on_day(books, FEBRUARY), "line")
        assert method_on(books, JANUARY) == "line"  # a sale entered late for January is of the same return
        assert method_on(books, APRIL) == "line"

    def test_after_a_taxed_sale_it_changes_with_the_next_filing_period(self, books: Books) -> None:
        answer(books, "work", True)
        sell(books)
        assert choose_method(on_day(books, FEBRUARY), "line") == APRIL
        assert [method_on(books, day) for day in (FEBRUARY, date(2026, 3, 31), APRIL)] == ["slip", "slip", "line"]

    def test_a_month_is_the_period_of_who_files_monthly_and_a_year_of_who_files_yearly(self, books: Books) -> None:
        answer(books, "work", True)
        choose_filing(books, "monthly")
        sell(on_day(books, FEBRUARY))
        assert choose_method(on_day(books, FEBRUARY), "line") == date(2026, 3, 1)
        choose_filing(on_day(books, date(2026, 3, 1)), "yearly")
        sell(on_day(books, date(2026, 3, 2)))
        assert choose_method(on_day(books, date(2026, 3, 2)), "slip") == date(2027, 1, 1)

    def test_a_sale_without_tax_binds_nothing(self, books: Books) -> None:
        answer(books, "work", False)
        sell(books)
        choose_method(on_day(books, FEBRUARY), "line")
        assert method_on(books, FEBRUARY) == "line"

    def test_a_change_that_she_takes_back_never_happens(self, books: Books) -> None:
        answer(books, "work", True)
        sell(books)
        choose_method(on_day(books, FEBRUARY), "line")
        choose_method(on_day(books, FEBRUARY), "slip")
        assert {method_on(books, day) for day in (JANUARY, FEBRUARY, APRIL, JULY)} == {"slip"}

    def test_a_change_entered_for_a_past_day_leaves_later_periods_with_sales_as_they_are(self, books: Books) -> None:
        answer(books, "work", True)
        sell(on_day(books, date(2026, 5, 4)))
        choose_method(on_day(books, FEBRUARY), "line")
        assert method_on(books, date(2026, 5, 4)) == "slip"
        assert method_on(books, JULY) == "line"

    def test_two_slips_of_one_period_are_worked_out_in_one_way(self, books: Books) -> None:
        answer(books, "work", True)
        add_to_price_list(books, "Label", "each", "0.10")
        first = picked_up(books, job_for(books, lines=["Label", "Label", "Label"]), "cash")
        choose_method(on_day(books, FEBRUARY), "line")
        second = picked_up(on_day(books, FEBRUARY), job_for(on_day(books, FEBRUARY), lines=["Label"] * 3), "cash")
        third = picked_up(on_day(books, APRIL), job_for(on_day(books, APRIL), lines=["Label"] * 3), "cash")
        assert [each.settlement.slip.tax_cents for each in (first, second, third)] == [2, 2, 3]


class TestFiling:
    def test_frequency_and_due_day_hold_from_the_day_she_was_told(self, books: Books) -> None:
        choose_filing(on_day(books, FEBRUARY), "monthly", 25)
        choose_filing(on_day(books, JULY), "quarterly", 31)
        assert [filing_frequency(books, day) for day in (JANUARY, FEBRUARY, JULY)] == [None, "monthly", "quarterly"]
        assert [filing_due_day(books, day) for day in (JANUARY, FEBRUARY, JULY)] == [None, 25, 31]

    @pytest.mark.parametrize("due_day", [0, 32, -1])
    def test_a_day_that_no_month_has_is_refused(self, books: Books, due_day: int) -> None:
        with pytest.raises(NotPossible):
            choose_filing(books, "monthly", due_day)
