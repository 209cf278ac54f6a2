"""What a pickup and the money round it book, each entry whole: every account, every amount, both purses."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import call_off, card_payout
from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.job import Job
from ledger.jobs.payouts import card_money
from ledger.jobs.records import read_job
from ledger.quarter.checks import run_checks
from tests.workshop import (
    answer,
    balance_of,
    begin_taxed,
    deposit,
    entries_of,
    job_for,
    lines_of,
    on_day,
    pay,
    picked_up,
    previewed,
    reversed_entry,
    transferred,
    written,
)

LATER = date(2026, 2, 2)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=500_00)
    yield opened
    opened.close()


@pytest.fixture
def job(books: Books) -> Job:
    """Work of 185.44, tax 9.83, with a deposit of 50.00 held."""
    taken = job_for(books, "185.44")
    deposit(books, taken, "50.00")
    return taken


def entry_of(books: Books, job: Job, *paid: str, **more: str) -> int:
    sealed = picked_up(books, job, *paid, **more).entry
    assert sealed is not None
    return sealed.number


def test_books_begin_with_what_is_in_the_bank(books: Books) -> None:
    assert lines_of(books, 1) == written("checking +500.00", "opening balance -500.00")


def test_the_machine_that_was_bought_before_stands_against_the_opening_balance(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "machine", machine_price_cents=18_500_00, machine_date=date(2025, 6, 1))
    assert lines_of(books, 1) == written("machine +18500.00", "opening balance -18500.00")
    assert lines_of(books, 1, "personal") == []
    books.close()


def test_a_deposit_by_check_is_held(books: Books, job: Job) -> None:
    assert lines_of(books, 2) == written("checking +50.00", "customer deposits -50.00")
    assert read_job(books, job.id).deposit_cents == 50_00


def test_a_deposit_by_card_is_held_whole_and_its_fee_is_an_expense(books: Books) -> None:
    entry = deposit(books, job_for(books, "185.44"), "50.00", "card", fee="1.75")
    assert lines_of(books, entry) == written("card settlements +48.25", "card fees +1.75", "customer deposits -50.00")


def test_a_pickup_for_cash(books: Books, job: Job) -> None:
    assert lines_of(books, entry_of(books, job, "cash")) == written(
        "cash box +145.27",
        "customer deposits +50.00",
        "job income -185.44",
        "sales tax payable -7.97",
        "sales tax payable -1.86",
    )


def test_change_that_is_given_is_never_posted(books: Books, job: Job) -> None:
    done = picked_up(books, job, "cash", tendered="150.00")
    assert done.entry is not None
    assert done.settlement.paid.change_cents == 4_73
    assert ("cash box", 145_27) in lines_of(books, done.entry.number)


def test_a_pickup_by_card_with_a_tip_and_its_fee_known(books: Books, job: Job) -> None:
    assert lines_of(books, entry_of(books, job, "card", tip="10.00", fee="4.80")) == written(
        "card settlements +150.47",
        "card fees +4.80",
        "customer deposits +50.00",
        "job income -185.44",
        "tips -10.00",
        "sales tax payable -7.97",
        "sales tax payable -1.86",
    )


def test_the_payout_of_a_card(books: Books, job: Job) -> None:
    entry_of(books, job, "card", tip="10.00", fee="4.80")
    entry = transferred(books, "move", "150.47", "card settlements", "checking")
    assert lines_of(books, entry) == written("checking +150.47", "card settlements -150.47")


def test_card_money_moved_by_hand_covers_the_oldest_payments_and_is_on_its_way_no_more(books: Books) -> None:
    for amount in ("100.00", "50.00", "30.00"):
        picked_up(books, job_for(books, amount), "card")  # 105.30, 52.65 and 31.59 with the tax
    moved = transferred(books, "move", "120.00", "card settlements", "checking")
    assert [each.cents for each in card_money(books, books.today)] == [37_95, 31_59]
    assert [each.name for each in run_checks(books, books.today, books.today) if not each.ok] == []
    reversed_entry(books, moved)
    assert [each.cents for each in card_money(books, books.today)] == [105_30, 52_65, 31_59]


def test_a_quarter_that_has_passed_stays_in_order_when_its_card_money_is_paid_out(books: Books) -> None:
    picked_up(books, job_for(books, "100.00"), "card")
    card_payout.perform(on_day(books, LATER), card_payout.PayoutRequest(102_30))
    for day in (books.today, LATER):
        assert [each.name for each in run_checks(books, books.today, day) if not each.ok] == []
    assert card_money(books, books.today, books.today)[0].cents == 105_30
    assert card_money(books, books.today) == ()


def test_a_deposit_that_goes_back_by_card_is_card_money_too(books: Books) -> None:
    called_off = job_for(books, "100.00")
    deposit(books, called_off, "40.00", "card")
    call_off.perform(books, call_off.CallOffRequest(called_off.id, "returned", "card"))
    assert sum(each.cents for each in card_money(books, books.today)) == 0 == balance_of(books, "card settlements")
    assert [each.name for each in run_checks(books, books.today, books.today) if not each.ok] == []


@pytest.mark.parametrize(
    ("how", "account"), [("check", "checking"), ("transfer", "checking"), ("card", "card settlements")]
)
def test_a_pickup_by_each_other_way(books: Books, job: Job, how: str, account: str) -> None:
    assert lines_of(books, entry_of(books, job, how, number="1204")) == written(
        f"{account} +145.27",
        "customer deposits +50.00",
        "job income -185.44",
        "sales tax payable -7.97",
        "sales tax payable -1.86",
    )


def test_a_pickup_to_be_paid_later(books: Books, job: Job) -> None:
    assert lines_of(books, entry_of(books, job, "owed")) == written(
        "owed by customers +145.27",
        "customer deposits +50.00",
        "job income -185.44",
        "sales tax payable -7.97",
        "sales tax payable -1.86",
    )
    assert owed_parts(books) == [(135_44, 9_83)]


def test_a_pickup_in_four_ways_at_once(books: Books, job: Job) -> None:
    entry = entry_of(books, job, "card=40.00", "check=30.00", "cash=20.00", "owed", fee="1.20")
    assert lines_of(books, entry) == written(
        "card settlements +38.80",
        "card fees +1.20",
        "checking +30.00",
        "cash box +20.00",
        "owed by customers +55.27",
        "customer deposits +50.00",
        "job income -185.44",
        "sales tax payable -7.97",
        "sales tax payable -1.86",
    )
    rows = books.rows("select how, cents, fee, reference from payment where entry = ? order by id", (entry,))
    assert [tuple(row) for row in rows] == [
        ("card", 40_00, 1_20, None),
        ("check", 30_00, 0, None),
        ("cash", 20_00, 0, None),
    ]


def test_a_part_paid_now_leaves_charge_and_tax_owed_in_proportion(books: Books, job: Job) -> None:
    entry = entry_of(books, job, "check", amount="100.00")
    assert ("owed by customers", 45_27) in lines_of(books, entry)
    assert ("checking", 100_00) in lines_of(books, entry)
    assert owed_parts(books) == [(135_44 - 93_23, 9_83 - 6_77)]


def test_what_was_owed_is_paid_later_whole_and_in_part(books: Books, job: Job) -> None:
    entry_of(books, job, "owed")
    part = pay(on_day(books, LATER), job, "100.00")
    assert lines_of(books, part) == written("checking +100.00", "owed by customers -100.00")
    assert owed_parts(books) == [(135_44, 9_83), (-93_23, -6_77)]
    rest = pay(on_day(books, LATER), job, "45.27", "card", fee="1.60")
    assert lines_of(books, rest) == written("card settlements +43.67", "card fees +1.60", "owed by customers -45.27")
    assert read_job(on_day(books, LATER), job.id).owed_cents == 0
    assert [sum(part) for part in zip(*owed_parts(books), strict=True)] == [0, 0]


def test_more_than_is_owed_is_not_taken(books: Books, job: Job) -> None:
    entry_of(books, job, "owed")
    with pytest.raises(NotPossible, match="145.27"):
        pay(books, job, "145.28")
    pay(books, job, "145.27")
    with pytest.raises(NotPossible, match="0.00"):
        pay(books, job, "0.01")


def test_a_deposit_above_the_total_is_used_as_far_as_it_goes_and_the_rest_stays_held(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(books, job, "250.00")
    done = picked_up(books, job)
    assert done.entry is not None
    assert lines_of(books, done.entry.number) == written(
        "customer deposits +195.27", "job income -185.44", "sales tax payable -7.97", "sales tax payable -1.86"
    )
    assert (done.settlement.due_cents, done.settlement.deposit_cents) == (0, 195_27)
    assert read_job(books, job.id).deposit_cents == 54_73


def test_a_deposit_of_exactly_the_total_leaves_nothing_due(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(books, job, "195.27")
    assert previewed(books, job).due_cents == 0
    assert read_job(books, job.id).deposit_cents == 195_27
    picked_up(books, job)
    assert read_job(books, job.id).deposit_cents == 0


def test_a_deposit_above_the_charge_pays_tax_with_what_is_over(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(books, job, "190.00")
    entry_of(books, job, "owed")
    assert owed_parts(books) == [(0, 5_27)]


def test_two_deposits_are_both_used(books: Books, job: Job) -> None:
    deposit(books, job, "25.00", "cash")
    assert ("customer deposits", 75_00) in lines_of(books, entry_of(books, job, "cash"))


def test_the_deposit_of_one_job_pays_for_no_other(books: Books, job: Job) -> None:
    other = job_for(books, "20.00")
    assert previewed(books, other, "cash").deposit_cents == 0
    assert lines_of(books, entry_of(books, other, "cash")) == written(
        "cash box +21.06", "job income -20.00", "sales tax payable -0.86", "sales tax payable -0.20"
    )


def test_a_discount_comes_off_before_tax(books: Books, job: Job) -> None:
    assert lines_of(books, entry_of(books, job, "cash", discount="85.44")) == written(
        "cash box +55.30",
        "customer deposits +50.00",
        "job income -100.00",
        "sales tax payable -4.30",
        "sales tax payable -1.00",
    )


def test_a_tip_is_neither_taxed_nor_owed(books: Books) -> None:
    job = job_for(books, "185.44")
    with pytest.raises(NotPossible, match="tip is not owed"):
        picked_up(books, job, "owed", tip="10.00")
    assert previewed(books, job, "cash", tip="10.00").slip.tax_cents == 9_83
    settled = previewed(books, job, "cash", tip="10.00", amount="10.00")
    assert (settled.owed_charge_cents, settled.owed_tax_cents) == (185_44, 9_83)


def test_a_tip_beyond_all_measure_is_refused_and_is_no_defect(books: Books, job: Job) -> None:
    with pytest.raises(NotPossible):
        picked_up(books, job, "cash", tip="1000000000000.00")


def test_work_that_is_given_away_books_nothing_and_still_goes(books: Books) -> None:
    job = job_for(books, "50.00")
    done = picked_up(books, job, discount="50.00")
    assert (done.entry, done.settlement.draft) == (None, None)
    assert read_job(books, job.id).status == "gone"
    assert len(list(entries_of(books))) == 1


def test_an_unanswered_class_takes_no_tax(books: Books) -> None:
    answer(books, "work", True, LATER, LATER)
    job = job_for(books, "50.00")
    third = on_day(books, date(2026, 2, 3))
    assert lines_of(books, entry_of(third, job, "cash")) == written("cash box +50.00", "job income -50.00")
    assert books.value("select treatment from slip_line") == "unanswered"


def test_it_must_be_said_how_it_is_paid(books: Books, job: Job) -> None:
    with pytest.raises(NotUnderstood):
        picked_up(books, job)


def test_what_was_previewed_is_what_is_booked(books: Books, job: Job) -> None:
    settled = previewed(books, job, "card=40.00", "cash", tip="5.00", discount="3.00", fee="1.00")
    done = picked_up(books, job, "card=40.00", "cash", tip="5.00", discount="3.00", fee="1.00")
    assert done.settlement == settled


def test_a_pickup_that_was_an_error_is_mirrored_whole_and_everything_beside_it_undone(books: Books, job: Job) -> None:
    entry = entry_of(books, job, "cash=40.00", "owed")
    mirror = reversed_entry(books, entry)
    assert lines_of(books, mirror) == sorted((name, -cents) for name, cents in lines_of(books, entry))
    again = read_job(books, job.id)
    assert (again.status, again.deposit_cents, again.owed_cents, again.sale) == ("in-hand", 50_00, 0, None)
    for column in ("slip_line.cents", "tax_line.cents", "tax_line.base", "owed_part.charge", "owed_part.tax"):
        table = column.partition(".")[0]
        assert books.value(f"select sum({column}) from {table}") == 0
    assert books.value("select sum(cents) from payment where entry in (?, ?)", (entry, mirror)) == 0


def test_a_void_on_the_day_is_entered_again(books: Books, job: Job) -> None:
    reversed_entry(books, entry_of(books, job, "cash"))
    assert lines_of(books, entry_of(books, job, "check")) == written(
        "checking +145.27",
        "customer deposits +50.00",
        "job income -185.44",
        "sales tax payable -7.97",
        "sales tax payable -1.86",
    )


def test_a_pickup_that_was_paid_for_afterwards_is_not_simply_reversed(books: Books, job: Job) -> None:
    entry = entry_of(books, job, "owed")
    payment = pay(on_day(books, LATER), job, "100.00")
    later = on_day(books, LATER)
    with pytest.raises(NotPossible, match=f"Entry {payment}"):
        reversed_entry(later, entry)
    reversed_entry(later, payment)
    assert read_job(later, job.id).owed_cents == 145_27
    reversed_entry(later, entry)
    assert read_job(later, job.id).owed_cents == 0


def test_a_deposit_that_a_pickup_has_used_is_not_reversed(books: Books, job: Job) -> None:
    entry_of(books, job, "cash")
    with pytest.raises(NotPossible, match="used at the pickup"):
        reversed_entry(books, 2)


def test_an_entry_is_reversed_once_and_a_reversal_never(books: Books, job: Job) -> None:
    mirror = reversed_entry(books, 2)
    assert read_job(books, job.id).deposit_cents == 0
    with pytest.raises(NotPossible, match="already"):
        reversed_entry(books, 2)
    with pytest.raises(NotPossible, match="itself a reversal"):
        reversed_entry(books, mirror)


def owed_parts(books: Books) -> list[tuple[int, int]]:
    """Charge and tax of every row of what is owed, in their order."""
    return [tuple(row) for row in books.rows("select charge, tax from owed_part order by id")]
