"""What is due soon: the workshop's share of bills that come again, loan payments, and within how many days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from ledger.actions import own_tax_choices, pay_loan, set_loan, share_bill
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.set_aside.due_soon import read_due_soon
from tests import workshop as w
from tests.set_aside.checks import check_set_aside

DAY = date(2026, 2, 2)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = w.begin_taxed(tmp_path / "books", opening_cents=1_000_00)
    yield w.on_day(opened, DAY)
    opened.close()


def set_bill(books: Books, every: Any = "month", share: str = "25") -> None:
    request = share_bill.BillRequest(
        "Internet", "phone and internet", Decimal(share), "hours", w.FIRST_DAY, every=every
    )
    share_bill.perform(books, request)


def pay_bill(books: Books, amount: str, paid_from: str = "checking", **more: Any) -> None:
    share_bill.perform_payment(books, share_bill.BillPaymentRequest("Internet", w.cents(amount), paid_from, **more))


def test_the_next_bill_counts_with_the_workshops_share_of_the_last_one(books: Books) -> None:
    set_bill(books)
    pay_bill(books, "80.00")
    due = check_set_aside(books).due_soon
    assert [(each.what, each.day, each.cents) for each in due] == [("Internet", date(2026, 3, 2), 20_00)]
    assert check_set_aside(books).owed.due_soon == 20_00


def test_a_bill_whose_day_has_passed_counts_on(books: Books) -> None:
    set_bill(books)
    pay_bill(books, "80.00")
    found = check_set_aside(w.on_day(books, date(2026, 5, 1)))
    assert found.owed.due_soon == 20_00
    assert [each.is_late for each in found.dues if each.kind == "bill"] == [True]


def test_one_that_never_came_is_named_and_counts_for_nothing(books: Books) -> None:
    set_bill(books)
    due = check_set_aside(books).due_soon
    assert [(each.cents, each.note) for each in due] == [(0, "its amount is not known before the first one came")]


def test_one_without_a_rhythm_is_not_due(books: Books) -> None:
    set_bill(books, every=None)
    pay_bill(books, "80.00")
    assert check_set_aside(books).due_soon == ()


def test_one_that_the_household_contributes_takes_no_money_of_the_workshop(books: Books) -> None:
    set_bill(books)
    pay_bill(books, "80.00", "household checking")
    assert [each.cents for each in check_set_aside(books).due_soon] == [0]


def test_one_that_is_owed_back_to_her_counts(books: Books) -> None:
    set_bill(books)
    pay_bill(books, "80.00", "household checking", owed=True)
    assert [each.cents for each in check_set_aside(books).due_soon] == [20_00]


def test_she_says_within_how_many_days(books: Books) -> None:
    set_bill(books)
    pay_bill(books, "80.00")
    own_tax_choices.say_due_soon_days(books, 7)
    assert check_set_aside(books).owed.due_soon == 0
    own_tax_choices.say_due_soon_days(books, 28)
    assert check_set_aside(books).owed.due_soon == 20_00
    with pytest.raises(NotPossible, match="within a year"):
        own_tax_choices.say_due_soon_days(books, 367)


def test_a_loan_payment_counts_until_it_is_paid(books: Books) -> None:
    w.spent(books, "1.00", "thread", "checking")
    terms = set_loan.LoanRequest(10_000_00, Decimal(8), 60, date(2026, 2, 20), was_there=True)
    set_loan.perform(books, terms)
    assert [(each.day, each.cents) for each in check_set_aside(books).due_soon] == [(date(2026, 2, 20), 202_76)]
    paid = w.on_day(books, date(2026, 2, 20))
    pay_loan.perform(paid, pay_loan.LoanPaymentRequest(202_76))
    assert [each.day for each in check_set_aside(paid).due_soon] == [date(2026, 3, 20)]


def test_every_source_is_asked_with_the_same_days(books: Books) -> None:
    """Bills and loans alike: what is due on the last of the days is in, the day after is out."""
    set_bill(books)
    pay_bill(books, "80.00")
    assert len(read_due_soon(books, DAY, 28)) == 1
    assert read_due_soon(books, DAY, 27) == ()
