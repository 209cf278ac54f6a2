"""What a quarter asks about the machines, and its check that the loan's account agrees with its schedules."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import add_machine_cost, pay_loan, sell_machine, set_loan, share_machine
from ledger.books.books import Books
from ledger.quarter.checks import Check, run_checks
from ledger.quarter.machine_questions import machine_questions
from ledger.quarter.questions import find_questions
from tests.workshop import begin, on_day

START, END, FEBRUARY = date(2026, 1, 1), date(2026, 3, 31), date(2026, 2, 5)
LOAN = "the machine loan equals its schedules"


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books", opening_cents=5_000_00, machine_price_cents=18_500_00)
    yield opened
    opened.close()


def check(books: Books) -> Check | None:
    return next((each for each in run_checks(books, START, END) if each.name == LOAN), None)


def asked(books: Books, start: date = START, end: date = END) -> list[str]:
    questions = list(machine_questions(on_day(books, END), start, end))
    assert set(questions) <= set(find_questions(on_day(books, END), start, end))
    return questions


def test_without_a_loan_nothing_is_checked_and_nothing_asked(books: Books) -> None:
    assert check(books) is None
    assert asked(books) == []


def test_the_check_fails_by_what_stands_on_the_account_beside_the_schedules(books: Books) -> None:
    set_loan.perform(books, set_loan.LoanRequest(10_000_00, Decimal(8), 60, FEBRUARY))
    pay_loan.perform(on_day(books, FEBRUARY), pay_loan.LoanPaymentRequest(202_76))
    assert check(books) == Check(LOAN)
    add_machine_cost.perform(books, add_machine_cost.CostRequest(90_00, "Table", paid_from="machine loan"))
    assert check(books) == Check(LOAN, 90_00)


def test_a_machine_that_is_sold_raises_gain_or_loss_in_its_quarter_alone(books: Books) -> None:
    sell_machine.perform(on_day(books, FEBRUARY), sell_machine.SellRequest(7_000_00))
    (question,) = asked(books)
    assert question.startswith("Sold: Machine, 2026-02-05, for 7000.00")
    assert asked(books, date(2026, 4, 1), date(2026, 6, 30)) == []


def test_private_use_raises_how_much_of_the_interest_counts(books: Books) -> None:
    set_loan.perform(books, set_loan.LoanRequest(10_000_00, Decimal(8), 60, FEBRUARY))
    share_machine.perform(books, share_machine.MachineShareRequest(Decimal(80), "hours", FEBRUARY))
    assert asked(books) == []
    pay_loan.perform(on_day(books, FEBRUARY), pay_loan.LoanPaymentRequest(202_76))
    (question,) = asked(books)
    assert "80.00 %" in question
    assert "66.67" in question


def test_an_offer_that_is_not_paid_off_in_time_as_it_runs_is_told_before_it_ends(books: Books) -> None:
    offer = {"offer_percent": Decimal(24), "offer_ends_on": date(2026, 12, 31)}
    set_loan.perform(books, set_loan.LoanRequest(1_200_00, Decimal(0), 12, FEBRUARY, **offer))  # type: ignore[arg-type]
    (question,) = asked(books)
    assert "2026-12-31" in question
    assert "154.00" in question
