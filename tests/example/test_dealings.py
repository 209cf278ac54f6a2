"""What the example's owner did with the offices, her bank and her accountant: all of it on time, and the last left."""

from __future__ import annotations

from datetime import date

import pytest

from ledger.bank.agreements import read_agreements
from ledger.bank.csv_file import CsvSaid
from ledger.bank.matches import read_lines
from ledger.bank.read_file import Expected, read_bank_file
from ledger.books.books import Books
from ledger.books.entries import closed_through
from ledger.example.statement import as_ofx, as_read, month_statement
from ledger.machine.job_earnings_record import hours_by_job
from ledger.machine.kept_plans import read_kept_plan
from ledger.periods import estimated_tax_periods, parse_period
from ledger.quarter.own_questions import answered, own_questions
from ledger.set_aside.owed import read_set_aside
from ledger.taxes.filed_returns import read_filed
from ledger.taxes.own_certificate import read_holders
from ledger.taxes.own_returns import is_settled, read_payments, total_tax
from ledger.taxes.start_up_records import read_start_up
from ledger.taxes.untaxed_stock_records import lots_to_use, read_uses, work_answer
from tests.example.reading import Example
from tests.workshop_example import EXAMPLE_DAY


def test_nothing_is_late_and_something_can_be_drawn(books: Books) -> None:
    found = read_set_aside(books)
    assert found.late == ()
    assert found.free_cents > 0


def test_every_quarter_that_is_over_was_filed_and_paid_before_its_day(books: Books, example: Example) -> None:
    filed = read_filed(books)
    assert [each.period for each in filed] == [each for each in example.quarters() if each.is_over(EXAMPLE_DAY)]
    paid_on = dict(
        tuple(row)
        for row in books.rows(
            "select filing, date from filing_payment join entry on entry.number = filing_payment.entry"
        )
    )
    for each in filed:
        assert each.through.filed_on.isoformat() <= paid_on[each.id] < each.due_on.isoformat()
        assert each.left_cents == 0


def test_the_batting_for_a_quilt_of_her_own_is_in_the_return_of_its_quarter(books: Books) -> None:
    # 31.20 at 4.5 + 1.25 + 0.75 = 6.5 % is 2.028
    assert [(each.period.label, each.use_tax_cents) for each in read_filed(books) if each.use_tax_cents] == [
        ("2026-Q1", 2_03)
    ]


@pytest.mark.parametrize(("year", "last_periods"), [(2025, 4), (2026, 3)])
def test_a_fourth_of_last_years_tax_is_paid_before_each_of_the_days_that_have_come(
    books: Books, year: int, last_periods: int
) -> None:
    last_year = total_tax(books, year - 1, EXAMPLE_DAY)
    assert last_year is not None
    paid = {each.period: each for each in read_payments(books, year, EXAMPLE_DAY) if each.period is not None}
    assert list(paid) == list(range(1, last_periods + 1))
    for due in estimated_tax_periods(year)[:last_periods]:
        payment = paid[due.number]
        assert due.due.replace(day=1) < payment.day < due.due
        assert 0 <= payment.cents * 4 - last_year.total_tax_cents < 4 * 5_00


def test_the_returns_of_the_years_that_are_over_are_settled(books: Books) -> None:
    assert [is_settled(books, year, EXAMPLE_DAY) for year in (2024, 2025, 2026)] == [True, True, False]
    assert not is_settled(books, 2025, date(2026, 4, 9))


def test_the_workshop_was_open_when_the_books_began(books: Books) -> None:
    found = read_start_up(books)
    assert found is not None
    assert found.cost_cents == 0


def test_both_shops_that_sell_untaxed_have_her_certificate(books: Books) -> None:
    holders = {each.name: each.number for each in read_holders(books, EXAMPLE_DAY)}
    assert holders == {"Quillondale Batting Mill": "R-2 508-117", "Verdigris Cloth House": "R-2 508-117"}
    assert {each.bought.who for each in lots_to_use(books)} == set(holders)


def test_most_of_the_untaxed_stock_was_sold_and_little_is_left(books: Books) -> None:
    uses = read_uses(books, EXAMPLE_DAY)
    assert {each.how for each in uses} == {"sold", "own"}
    assert len({each.on for each in uses if each.how == "sold"}) == 8, "at the end of each quarter"
    lots = lots_to_use(books)
    assert 0 < sum(each.left_cents for each in lots) * 5 < sum(each.bought.cents for each in lots)
    assert {work_answer(books, each.bought.category, EXAMPLE_DAY) for each in lots} == {"resale"}


def test_two_statements_were_agreed_and_the_last_months_is_left_to_read(books: Books) -> None:
    agreed = read_agreements(books)
    assert [(each.day, each.changed) for each in agreed] == [(date(2026, 8, 31), ()), (date(2026, 9, 30), ())]
    lines = read_lines(books)
    assert max(each.day for each in lines) < date(2026, 10, 1)
    assert {each.state for each in lines} == {"matched"}


def test_what_the_example_kept_is_what_the_file_of_its_bank_says(books: Books) -> None:
    statement = month_statement(books, parse_period("2026-10"))
    read, _ = read_bank_file(as_ofx(statement), books.currency, CsvSaid(None), Expected("checking"), EXAMPLE_DAY)
    assert read == as_read(statement)


def test_the_first_two_quarters_are_closed_and_her_question_is_answered(books: Books) -> None:
    assert closed_through(books) == date(2025, 3, 31)
    assert own_questions(books) == ()
    (answer,) = answered(books, books.settings.begun_on, EXAMPLE_DAY)
    assert "raffle" in answer.question


def test_a_plan_was_kept_and_hours_stand_at_some_jobs(books: Books) -> None:
    kept = read_kept_plan(books)
    assert kept is not None
    assert (kept.kept_on, kept.plan.starts) == (date(2024, 11, 1), date(2024, 11, 1))
    hours = hours_by_job(books, EXAMPLE_DAY)
    assert 30 <= len(hours) <= 80
    assert all(0 < each <= 10 for each in hours.values())
