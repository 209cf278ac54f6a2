"""What the books know of the machine: what counts as taken in, what as earned, and what as its cost."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import add_machine_cost, sell_machine
from ledger.actions.add_machine_cost import CostRequest
from ledger.books.books import Books
from ledger.machine.curve_record import curve_points
from ledger.machine.payback import Payback
from ledger.machine.payback_record import PaybackRecord, read_payback
from ledger.machine.record import add_cost
from tests.workshop import (
    add_to_price_list,
    begin,
    begin_taxed,
    deposit,
    job_for,
    on_day,
    pay,
    picked_up,
    reversed_entry,
    spent,
    transferred,
)

JANUARY, MARCH = date(2026, 1, 5), date(2026, 3, 10)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(
        tmp_path / "books",
        opening_cents=1_000_00,
        machine_price_cents=10_000_00,
        machine_date=date(2025, 11, 3),
    )
    yield opened
    opened.close()


def on(books: Books, day: date) -> Payback:
    return read_payback(on_day(books, day))


def sell(books: Books, day: date, amount: str, *paid: str, **more: str) -> int:
    sealed = picked_up(on_day(books, day), job_for(on_day(books, day), amount), *(paid or ("cash",)), **more).entry
    assert sealed is not None
    return sealed.number


def test_a_machine_from_before_the_books_has_cost_what_it_cost(books: Books) -> None:
    found = on(books, JANUARY)
    assert (found.cost_cents, found.left_cents, found.share_percent) == (10_000_00, 10_000_00, Decimal("0.00"))
    assert found.forecast.too_early


def test_without_a_machine_there_is_nothing_to_pay_off(tmp_path: Path) -> None:
    books = begin(tmp_path / "none")
    found = read_payback(books)
    assert (found.cost_cents, found.left_cents, found.share_percent, found.jobs_left) == (0, 0, None, 0)
    books.close()


def test_taken_in_is_job_income_from_the_day_of_pickup_without_tax_tip_or_deposit(books: Books) -> None:
    job = job_for(books, "200.00")
    deposit(books, job, "80.00")
    assert on(books, JANUARY).taken_in_cents == 0
    picked_up(on_day(books, MARCH), job, "owed=50.00", "cash", tip="15.00", discount="20.00")
    assert on(books, date(2026, 3, 9)).taken_in_cents == 0
    assert on(books, MARCH).taken_in_cents == 180_00
    pay(on_day(books, date(2026, 4, 1)), job, "50.00")
    assert on(books, date(2026, 4, 1)).taken_in_cents == 180_00


def test_taken_in_counts_delivery_and_rush(books: Books) -> None:
    add_to_price_list(books, "Quilting", "flat", "100")
    add_to_price_list(books, "Parcel", "flat", "10", "delivery")
    picked_up(books, job_for(books, lines=["Quilting", "Parcel"], rush_percent=Decimal(20)), "cash")
    assert on(books, JANUARY).taken_in_cents == 132_00


def test_a_pickup_that_was_undone_was_not_taken_in(books: Books) -> None:
    entry = sell(books, MARCH, "200.00")
    reversed_entry(on_day(books, MARCH), entry)
    found = on(books, MARCH)
    assert (found.taken_in_cents, found.earned_cents, found.jobs_left) == (0, 0, None)


def test_earned_is_what_was_taken_in_less_every_expense_of_the_workshop(books: Books) -> None:
    sell(books, MARCH, "400.00", "card", fee="10.00", tip="25.00")
    spent(on_day(books, MARCH), "60.00", "thread", "checking", home="20.00")
    spent(on_day(books, MARCH), "30.00", "advertising", "personal card")
    spent(on_day(books, MARCH), "12.00", "bank charges", "checking")
    found = on(books, MARCH)
    assert (found.taken_in_cents, found.earned_cents) == (400_00, 400_00 - 10_00 - 40_00 - 30_00 - 12_00)


def test_loan_interest_is_a_part_of_the_cost_and_no_expense_beside_it(books: Books) -> None:
    sell(books, MARCH, "400.00")
    spent(on_day(books, MARCH), "66.67", "loan interest", "checking")
    found = on(books, MARCH)
    assert (found.cost_cents, found.earned_cents, found.left_cents) == (10_066_67, 400_00, 9_666_67)


def test_what_passes_between_her_and_the_workshop_earns_nothing(books: Books) -> None:
    sell(books, MARCH, "400.00")
    before = on(books, MARCH)
    transferred(on_day(books, MARCH), "draw", "300.00")
    transferred(on_day(books, MARCH), "put-in", "900.00", "household checking", "checking")
    transferred(on_day(books, MARCH), "move", "50.00", "checking", "tax savings")
    assert on(books, MARCH) == before


def test_a_cost_counts_from_its_day(books: Books) -> None:
    with books.writing() as write:
        add_cost(books, write, "Table", 500_00, MARCH)
        add_cost(books, write, "Trade-in", -1_500_00, date(2026, 4, 1))
    assert [on(books, day).cost_cents for day in (JANUARY, MARCH, date(2026, 4, 1))] == [10_000_00, 10_500_00, 9_000_00]


def test_a_purchase_entered_in_error_is_no_cost_any_more(books: Books) -> None:
    reversed_entry(on_day(books, MARCH), 2)
    assert on(books, MARCH).cost_cents == 0


def test_jobs_left_looks_at_the_last_ninety_days(books: Books) -> None:
    sell(books, JANUARY, "1000.00")
    sell(books, date(2026, 4, 6), "200.00")
    sell(books, date(2026, 4, 7), "100.00")
    # 300 in two jobs since 7 January: 8,700 left at 150 a job; with 5 January in sight, 1,300 in three.
    assert on(books, date(2026, 4, 7)).jobs_left == 58
    assert on(books, date(2026, 4, 4)).jobs_left == 9
    found = on(books, date(2026, 4, 6))
    assert found.jobs_left == 44  # 8,800 at 200


def test_a_sale_of_long_ago_that_is_undone_today_takes_no_job_away_from_the_recent_ones(books: Books) -> None:
    old = sell(books, JANUARY, "40.00", "owed")
    for day in (date(2026, 6, 1), date(2026, 6, 2), date(2026, 6, 3)):
        sell(books, day, "100.00")
    reversed_entry(on_day(books, date(2026, 6, 4)), old)
    # 260 in three jobs: 9,700 left.
    assert on(books, date(2026, 6, 4)).jobs_left == 112


def test_three_whole_months_make_a_forecast_and_the_end_of_the_third_is_the_end_of_a_month(books: Books) -> None:
    for month in (1, 2, 3):
        sell(books, date(2026, month, 7), "1000.00")
    assert on(books, date(2026, 3, 30)).forecast.too_early
    found = on(books, date(2026, 3, 31)).forecast
    assert (found.too_early, found.early, found.middle, found.late) == (False, *[date(2026, 10, 1)] * 3)
    # Half of April is ahead then, so that the last of 7,000 comes in November.
    assert on(books, date(2026, 4, 15)).forecast.middle == date(2026, 11, 1)


def test_a_month_without_work_counts_as_one(books: Books) -> None:
    sell(books, date(2026, 1, 7), "1000.00")
    sell(books, date(2026, 3, 20), "1000.00")
    found = on(books, date(2026, 4, 1)).forecast
    assert not found.too_early
    assert found.early is not None
    assert found.late is not None
    assert found.early < found.late


def test_the_running_month_is_no_part_of_the_record(books: Books) -> None:
    for month in (1, 2, 3):
        sell(books, date(2026, month, 7), "1000.00")
    spent(on_day(books, date(2026, 4, 2)), "2000.00", "machine upkeep", "checking")
    # 9,000 left, 1,000 a month, half of April ahead.
    assert on(books, date(2026, 4, 15)).forecast.middle == date(2027, 1, 1)


def test_each_subtraction_stands_under_its_category(books: Books) -> None:
    sell(books, MARCH, "400.00", "card", fee="10.00")
    spent(on_day(books, MARCH), "60.00", "thread", "checking")
    spent(on_day(books, MARCH), "5.00", "loan interest", "checking")
    found = on(books, MARCH)
    assert [(each.category, each.cents) for each in found.subtractions] == [("thread", 60_00), ("card fees", 10_00)]
    assert found.earned_cents == found.taken_in_cents - 70_00


def test_a_job_picked_up_moves_the_share_at_once(books: Books) -> None:
    before = on(books, MARCH).share_percent
    sell(books, MARCH, "400.00")
    assert (before, on(books, MARCH).share_percent) == (Decimal("0.00"), Decimal("4.00"))


def test_training_is_a_cost_of_the_machine_and_no_expense_beside_it(books: Books) -> None:
    sell(books, MARCH, "400.00")
    at = on_day(books, MARCH)
    request = CostRequest(350_00, "A course", kind="training", paid_from="checking")
    add_machine_cost.perform(at, request)
    found = on(books, MARCH)
    assert (found.cost_cents, found.earned_cents, found.subtractions) == (10_350_00, 400_00, ())
    assert PaybackRecord(at).points[-1].earned_cents == 400_00


def test_the_curve_ends_with_the_figures_of_today(books: Books) -> None:
    for month in (1, 2, 3, 4):
        sell(books, date(2026, month, 7), "1000.00")
    spent(on_day(books, date(2026, 3, 9)), "60.00", "thread", "checking")
    with books.writing() as write:
        add_cost(books, write, "Ruler base", 500_00, date(2026, 3, 20))
    at = on_day(books, date(2026, 4, 10))
    record = PaybackRecord(at)
    assert [
        (each.first_day.month, each.cost_cents, each.taken_in_cents, each.earned_cents) for each in record.points
    ] == [
        (1, 10_000_00, 1_000_00, 1_000_00),
        (2, 10_000_00, 2_000_00, 2_000_00),
        (3, 10_500_00, 3_000_00, 2_940_00),
        (4, 10_500_00, 4_000_00, 3_940_00),
    ]
    found = record.payback
    assert (found.cost_cents, found.taken_in_cents, found.earned_cents) == (10_500_00, 4_000_00, 3_940_00)
    curve = curve_points(at)
    assert curve.points == record.points
    assert curve.fan[0].first_day == date(2026, 4, 1)


def test_the_milestones_have_their_days(books: Books) -> None:
    sell(books, date(2026, 1, 7), "2400.00")
    sell(books, date(2026, 2, 9), "200.00")
    sell(books, date(2026, 2, 12), "2500.00")
    reached = {each.what: each.reached_on for each in PaybackRecord(on_day(books, date(2026, 2, 20))).milestones}
    assert reached == {"a quarter": date(2026, 2, 9), "half": date(2026, 2, 12), "all": None}


def test_a_machine_sold_before_it_is_paid_off_leaves_what_is_left_visible(books: Books) -> None:
    sell(books, date(2026, 1, 7), "1000.00")
    sell_machine.perform(on_day(books, MARCH), sell_machine.SellRequest(7_000_00))
    found = on(books, MARCH)
    assert (found.cost_cents, found.left_cents, found.share_percent) == (3_000_00, 2_000_00, Decimal("33.33"))


def test_a_first_month_begun_late_is_no_month_of_the_record(books: Books) -> None:
    sell(books, date(2026, 1, 28), "100.00")
    for month in (2, 3, 4):
        sell(books, date(2026, month, 7), "1000.00")
    assert on(books, date(2026, 4, 29)).forecast.too_early
    found = on(books, date(2026, 4, 30)).forecast
    assert found.early == found.late == date(2026, 11, 1)  # 6,900 at 1,000 a month, not at 775
