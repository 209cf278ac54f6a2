"""A loan in the books: what puts it on its account, what each payment books, and that account and schedule agree."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from ledger.actions import add_machine_cost, change_loan, pay_loan, set_loan, spend
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, Refused
from ledger.machine.loan_record import Loan, loan_difference_cents, loan_due, loan_numbered, read_loans
from ledger.machine.payback_record import read_payback
from tests.workshop import balance_of, begin, cents, lines_of, on_day, reversed_entry, transferred, written

JANUARY, FEBRUARY, MARCH, APRIL = (date(2026, month, 5) for month in (1, 2, 3, 4))
BALANCED_ON = (JANUARY, FEBRUARY, MARCH, APRIL, date(2031, 12, 31))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books", opening_cents=5_000_00, machine_price_cents=18_500_00)
    yield opened
    assert prove(opened).findings == ()
    opened.close()


def lent(books: Books, amount: str = "10000", percent: str = "8", months: int = 60, **more: Any) -> Loan:
    request = set_loan.LoanRequest(cents(amount), Decimal(percent), months, **{"first_on": FEBRUARY} | more)
    return set_loan.perform(books, request)[0]


def paid(books: Books, amount: str, day: date = FEBRUARY, **more: Any) -> int:
    """The number of the entry."""
    return pay_loan.perform(on_day(books, day), pay_loan.LoanPaymentRequest(cents(amount), **more))[1].number


def loan_on(books: Books, day: date) -> Loan:
    return loan_numbered(on_day(books, day), None)


class TestItsBeginning:
    def test_a_loan_from_before_the_books_stands_against_the_opening_balance(self, books: Books) -> None:
        """Row 2 of the postings."""
        loan = lent(books)
        assert loan.entry is not None
        assert lines_of(books, loan.entry) == written("machine loan -10,000.00", "opening balance +10,000.00")
        assert balance_of(books, "opening balance") == -(5_000_00 + 18_500_00 - 10_000_00)

    def test_a_loan_that_a_purchase_put_on_its_account_books_nothing_more(self, books: Books) -> None:
        bought = add_machine_cost.CostRequest(6_000_00, "Frame", paid_from="checking", loan_cents=5_000_00)
        add_machine_cost.perform(books, bought)
        with pytest.raises(NotPossible) as refused:
            lent(books, "4000")
        assert refused.value.field == "amount"
        assert lent(books, "5000").entry is None
        assert balance_of(books, "machine loan") == -5_000_00

    def test_a_loan_for_a_machine_that_the_workshop_paid_came_into_checking(self, books: Books) -> None:
        add_machine_cost.perform(books, add_machine_cost.CostRequest(4_000_00, "Frame", paid_from="checking"))
        loan = lent(books, "3000")
        assert loan.entry is not None
        assert lines_of(books, loan.entry) == written("checking +3,000.00", "machine loan -3,000.00")
        there_before = lent(books, "500", was_there=True)
        assert there_before.entry is not None
        assert ("opening balance", 500_00) in lines_of(books, there_before.entry)

    def test_a_loan_for_a_machine_that_is_still_to_be_bought_comes_in(self, tmp_path: Path) -> None:
        fresh = begin(tmp_path / "fresh")
        assert ("opening balance", 10_000_00) in lines_of(fresh, lent(fresh).entry or 0)
        later = lent(on_day(fresh, FEBRUARY), "500", first_on=MARCH)
        assert lines_of(fresh, later.entry or 0) == written("checking +500.00", "machine loan -500.00")
        fresh.close()

    def test_it_comes_into_the_account_that_is_named(self, books: Books) -> None:
        loan = lent(books, into="tax savings")
        assert loan.entry is not None
        assert lines_of(books, loan.entry) == written("machine loan -10,000.00", "tax savings +10,000.00")

    def test_its_terms_are_corrected_and_what_was_paid_stays(self, books: Books) -> None:
        first = lent(books)
        paid(books, "202.76")
        second = lent(on_day(books, MARCH), percent="6", months=36, instead_of=first.id)
        assert [each.id for each in read_loans(on_day(books, MARCH))] == [second.id]
        assert second.balance_cents == 9_863_91
        assert second.terms.taken_on == JANUARY
        assert balance_of(books, "machine loan", MARCH) == -9_863_91
        with pytest.raises(NotPossible):
            lent(on_day(books, MARCH), "9000", instead_of=second.id)
        with pytest.raises(NotPossible) as refused:
            reversed_entry(on_day(books, MARCH), first.entry or 0)
        assert "A payment was made" in refused.value.what

    def test_undone_it_never_stood_there_as_everything_told_of_the_first_day(self, books: Books) -> None:
        loan = lent(books)
        reversed_entry(on_day(books, MARCH), loan.entry or 0)
        assert [len(read_loans(books, day)) for day in (JANUARY, FEBRUARY, MARCH)] == [0, 0, 0]
        assert loan_difference_cents(books, MARCH) == 0


class TestWhatAPaymentBooks:
    def test_from_checking(self, books: Books) -> None:
        """Row 33 of the postings."""
        lent(books)
        entry = paid(books, "202.76")
        assert lines_of(books, entry) == written("loan interest +66.67", "machine loan +136.09", "checking -202.76")
        assert loan_on(books, FEBRUARY).balance_cents == 9_863_91

    def test_from_the_household_as_a_contribution_or_owed_back(self, books: Books) -> None:
        """Row 34 of the postings."""
        lent(books)
        entry = paid(books, "202.76", paid_from="household checking")
        assert lines_of(books, entry) == written(
            "loan interest +66.67", "machine loan +136.09", "owner's contributions -202.76"
        )
        assert lines_of(books, entry, "personal") == written("household checking -202.76", "workshop mirror +202.76")
        spend.choose_what_household_pays(books, "owed")
        entry = paid(books, "202.76", MARCH, paid_from="household checking")
        assert ("owed to owner", -202_76) in lines_of(books, entry)
        transferred(on_day(books, MARCH), "pay-back", "202.76")

    def test_the_lenders_figure_wins_and_account_and_schedule_go_on_agreeing(self, books: Books) -> None:
        lent(books)
        entry = paid(books, "202.76", interest_cents=65_00)
        assert lines_of(books, entry) == written("loan interest +65.00", "machine loan +137.76", "checking -202.76")
        assert loan_difference_cents(books, FEBRUARY) == 0
        assert loan_on(books, MARCH).schedule.rows[-1].balance_cents == 0

    def test_a_rate_of_zero_books_principal_alone(self, books: Books) -> None:
        lent(books, "1200", "0", 12)
        assert lines_of(books, paid(books, "100")) == written("machine loan +100.00", "checking -100.00")

    def test_an_extra_payment_is_principal_alone(self, books: Books) -> None:
        lent(books)
        paid(books, "202.76")
        extra = paid(books, "1000", date(2026, 2, 20), what="extra")
        assert lines_of(books, extra) == written("machine loan +1,000.00", "checking -1,000.00")
        found = loan_on(books, MARCH)
        assert found.balance_cents == 8_863_91
        assert found.schedule.to_come[0].interest_cents == 59_09

    def test_a_payment_below_the_interest_says_so_and_the_rest_stays_owed(self, books: Books) -> None:
        lent(books)
        payment, sealed = pay_loan.perform(on_day(books, FEBRUARY), pay_loan.LoanPaymentRequest(10_00))
        assert payment.is_below_interest
        assert lines_of(books, sealed.number) == written("loan interest +10.00", "checking -10.00")
        found = loan_on(books, FEBRUARY)
        assert (found.balance_cents, found.schedule.interest_owed_cents) == (10_000_00, 56_67)
        # The next one pays what is still owed and a month's interest, then principal.
        assert ("loan interest", 56_67 + 66_67) in lines_of(books, paid(books, "202.76", MARCH))

    def test_it_is_paid_off_with_what_the_lender_took(self, books: Books) -> None:
        lent(books, "1000", "6", 12)
        paid(books, "86.07")
        left = loan_on(books, FEBRUARY).balance_cents
        entry = paid(books, f"{(left + 210) / 100:.2f}", date(2026, 2, 19), what="paid off")
        assert ("loan interest", 2_10) in lines_of(books, entry)
        assert loan_on(books, MARCH).is_paid_off
        assert balance_of(books, "machine loan", MARCH) == 0
        assert loan_due(books, MARCH, 400) == ()
        with pytest.raises(NotPossible):
            paid(books, "1", MARCH)

    def test_interest_is_part_of_the_payback_cost_and_taken_off_nothing_earned(self, books: Books) -> None:
        lent(books)
        paid(books, "202.76")
        found = read_payback(on_day(books, FEBRUARY))
        assert (found.cost_cents, found.earned_cents) == (18_566_67, 0)


class TestOnTheWay:
    def test_a_skipped_month_and_a_new_rate_book_nothing_and_can_be_taken_back(self, books: Books) -> None:
        lent(books)
        before = books.value("select count(*) from entry")
        plain = loan_on(books, MARCH).schedule
        skipped = change_loan.skip(on_day(books, FEBRUARY), change_loan.SkipRequest())
        assert skipped.schedule.rows[-1].number == 61
        changed = change_loan.set_rate(on_day(books, FEBRUARY), change_loan.RateRequest(Decimal(6)))
        assert changed.schedule.payment_cents < 202_76
        change_loan.set_rate(on_day(books, MARCH), change_loan.RateRequest(None))
        change_loan.skip(on_day(books, MARCH), change_loan.SkipRequest(takes_back=True))
        assert loan_on(books, MARCH).schedule == plain
        assert books.value("select count(*) from entry") == before
        for take_back in (
            lambda: change_loan.skip(books, change_loan.SkipRequest(takes_back=True)),
            lambda: change_loan.set_rate(books, change_loan.RateRequest(None)),
        ):
            with pytest.raises(NotPossible):
                take_back()

    def test_a_payment_that_is_undone_is_due_again(self, books: Books) -> None:
        lent(books)
        entry = paid(books, "202.76")
        assert loan_due(books, FEBRUARY, 0) == ()
        reversed_entry(on_day(books, FEBRUARY), entry)
        assert [each.cents for each in loan_due(books, FEBRUARY, 0)] == [202_76]
        assert loan_difference_cents(books, FEBRUARY) == 0

    def test_what_is_due_soon_and_what_was_missed(self, books: Books) -> None:
        loan = lent(books, lender="First Bank")
        assert loan_due(books, JANUARY, 30) == ()
        (due,) = loan_due(books, JANUARY, 31)
        assert (due.loan, due.words, due.day, due.cents) == (loan.id, "loan 1, First Bank", FEBRUARY, 202_76)
        assert [each.day for each in loan_due(books, MARCH, 31)] == [FEBRUARY, MARCH, APRIL]

    def test_several_loans_are_told_apart_by_their_numbers(self, books: Books) -> None:
        first, second = lent(books), lent(books, "500", "0", 5)
        with pytest.raises(NotPossible) as refused:
            paid(books, "100")
        assert refused.value.field == "loan"
        paid(books, "100", loan=second.id)
        assert [each.balance_cents for each in read_loans(on_day(books, FEBRUARY))] == [10_000_00, 400_00]
        assert [loan_difference_cents(books, day) for day in BALANCED_ON] == [0] * 5
        with pytest.raises(NotFound):
            paid(books, "100", loan=first.id + second.id)

    def test_the_account_and_the_schedule_agree_until_somebody_books_past_the_loan(self, books: Books) -> None:
        add_machine_cost.perform(books, add_machine_cost.CostRequest(100_00, "Table", paid_from="machine loan"))
        assert loan_difference_cents(books, JANUARY) == 100_00

    def test_a_payment_entered_late_is_not_more_than_is_left_on_any_day(self, books: Books) -> None:
        lent(books, "500", "0", 5)
        paid(books, "450", MARCH)
        with pytest.raises(NotPossible) as refused:
            paid(books, "100", FEBRUARY)
        assert refused.value.field == "amount"
        paid(books, "50", FEBRUARY)
        assert [loan_difference_cents(books, day) for day in BALANCED_ON] == [0] * 5

    def test_every_payment_as_it_falls_due_closes_the_loan_and_its_account(self, books: Books) -> None:
        lent(books, "1000", "6", 12)
        while due := loan_due(books, date(2027, 1, 5), 40):
            paid(books, f"{due[0].cents / 100:.2f}", due[0].day)
        assert balance_of(books, "machine loan", date(2027, 2, 5)) == 0
        assert loan_on(books, date(2027, 2, 5)).is_paid_off


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"first_on": date(2026, 1, 4)}, "first"),
        ({"months": 601}, "months"),
        ({"months": 600, "percent": "24", "amount": "1.00"}, "months"),
        ({"payment_cents": 66_67}, "payment"),
        ({"taken_on": FEBRUARY}, "taken"),
        ({"offer_percent": Decimal(24)}, "paid_by"),
        ({"offer_percent": Decimal(24), "offer_ends_on": MARCH}, "percent"),
        ({"into": "machine"}, "into"),
        ({"into": "household checking"}, "into"),
        ({"machine": "Third"}, "machine"),
        ({"lender": "  "}, "lender"),
        ({"instead_of": 7}, "loan"),
    ],
)
def test_terms_that_cannot_be_are_refused_and_nothing_is_written(
    books: Books, more: dict[str, Any], field: str
) -> None:
    before = books.value("select count(*) from record")
    with pytest.raises(Refused) as refused:
        lent(books, **more)
    assert refused.value.field == field
    assert books.value("select count(*) from record") == before


@pytest.mark.parametrize(
    ("amount", "more", "field"),
    [
        ("10066.68", {}, "amount"),
        ("10000.01", {"what": "extra"}, "amount"),
        ("9999.99", {"what": "paid off"}, "amount"),
        ("100", {"interest_cents": 100_01}, "interest"),
        ("100", {"what": "extra", "interest_cents": 1}, "interest"),
        ("100", {"paid_from": "job income"}, "from"),
        ("100", {"owed": True}, "owed"),
    ],
)
def test_payments_that_cannot_be_are_refused_and_nothing_is_written(
    books: Books, amount: str, more: dict[str, Any], field: str
) -> None:
    lent(books)
    before = books.value("select count(*) from record")
    with pytest.raises(Refused) as refused:
        paid(books, amount, **more)
    assert refused.value.field == field
    assert books.value("select count(*) from record") == before


def test_without_a_loan_nothing_is_paid_and_nothing_is_due(books: Books) -> None:
    with pytest.raises(NotFound):
        paid(books, "100")
    assert (loan_due(books, JANUARY, 400), loan_difference_cents(books, JANUARY)) == ((), 0)
