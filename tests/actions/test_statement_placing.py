"""Placing a line: what it books, through the acts that book it elsewhere, and taking it back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import card_payout, returned_payment, set_loan
from ledger.books.books import Books
from ledger.books.closing import close_period
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, NotUnderstood, Refused
from ledger.jobs.returned import ReturnedRequest
from tests.actions.bank_desk import DAY, line_of, placed, read_ofx, read_rows, states, undone
from tests.workshop import (
    balance_of,
    begin_taxed,
    deposit,
    entries_of,
    job_for,
    lines_of,
    on_day,
    pay,
    picked_up,
    purse_sums,
    spent,
    transferred,
    written,
)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """Two thousand in the bank; the last day of January."""
    books = begin_taxed(tmp_path / "books", opening_cents=2_000_00)
    yield on_day(books, DAY)
    assert prove(books).ok
    assert set(purse_sums(books).values()) == {0}
    books.close()


def day(number: int) -> date:
    return date(2026, 1, number)


def booked(books: Books, line: int, way: str, name: str = "", **more: object) -> int:
    """The entry that placing a line booked, which is dated as the bank has it."""
    done = placed(books, line, way, name, **more)  # type: ignore[arg-type]
    assert [each.on for each in entries_of(books) if each.number in done.booked] == [done.line.day]
    return done.booked[0]


def test_a_charge_goes_to_its_category(books: Books) -> None:
    read_rows(books, "2026-01-30,Service charge,-8.00")
    entry = booked(books, 1, "category", "bank charges")
    assert lines_of(books, entry) == written("bank charges 8.00", "checking -8.00")
    assert states(books) == ["matched"]


def test_what_a_shop_gives_back_lowers_its_category(books: Books) -> None:
    read_rows(books, "2026-01-30,Mill refund,12.00")
    assert lines_of(books, booked(books, 1, "category", "batting")) == written("batting -12.00", "checking 12.00")


def test_interest_is_other_income_and_nothing_that_went_out_is(books: Books) -> None:
    read_rows(books, "2026-01-30,Interest,0.12", "2026-01-30,Fee,-1.00")
    assert lines_of(books, booked(books, 1, "category", "other income")) == written(
        "checking 0.12", "other income -0.12"
    )
    with pytest.raises(NotPossible):
        placed(books, 2, "category", "other income")


def test_a_mixed_receipt_has_its_parts(books: Books) -> None:
    read_rows(books, "2026-01-30,Mill,-80.00")
    entry = booked(books, 1, "category", "batting", home_cents=30_00, also=(("thread", 20_00),))
    assert lines_of(books, entry) == written("batting 30.00", "checking -80.00", "owner's draws 30.00", "thread 20.00")


def test_a_household_thing_is_a_draw_and_money_of_the_household_is_put_in(books: Books) -> None:
    read_rows(books, "2026-01-28,Greengrocer,-41.20", "2026-01-29,From Ann,100.00")
    draw, put_in = booked(books, 1, "home"), booked(books, 2, "home")
    assert lines_of(books, draw) == written("checking -41.20", "owner's draws 41.20")
    assert lines_of(books, draw, "personal") == written("household spending 41.20", "workshop mirror -41.20")
    assert lines_of(books, put_in) == written("checking 100.00", "owner's contributions -100.00")


def test_money_for_a_job_is_a_deposit_before_pickup_and_towards_what_it_owes_after(books: Books) -> None:
    waiting, gone = job_for(on_day(books, day(6)), "100.00"), job_for(on_day(books, day(6)), "50.00")
    picked_up(on_day(books, day(10)), gone, "owed")
    read_ofx(books, ("20", "30.00", "Transfer"), ("21", "52.65", "Transfer"))
    assert lines_of(books, booked(books, 1, "job", job=waiting.id)) == written(
        "checking 30.00", "customer deposits -30.00"
    )
    standing = line_of(books, 2)
    assert standing.suggestion is not None
    assert (standing.suggestion.way, standing.suggestion.job) == ("job", gone.id)
    entry = placed(books, 2, "suggested").booked[0]
    assert lines_of(books, entry) == written("checking 52.65", "owed by customers -52.65")


def test_a_transfer_is_booked_once_and_both_sides_are_matched(books: Books) -> None:
    read_rows(books, "2026-01-28,To savings,-400.00")
    read_rows(books, "2026-01-29,From checking,400.00", account="tax savings")
    assert line_of(books, 1).suggestion is not None
    done = placed(books, 1, "suggested")
    assert done.other_line == 2
    assert lines_of(books, done.booked[0]) == written("checking -400.00", "tax savings 400.00")
    assert states(books) == ["matched", "matched"]
    undone(books, 2)
    assert states(books) == ["matched", "doubtful"], "undoing what was found books nothing"
    undone(books, 1)
    assert states(books) == ["new", "new"]
    assert balance_of(books, "tax savings") == 0


def test_the_second_statement_of_a_transfer_finds_its_entry_by_itself(books: Books) -> None:
    read_rows(books, "2026-01-28,To savings,-400.00")
    placed(books, 1, "transfer", "tax savings")
    done = read_rows(books, "2026-01-29,From checking,400.00", account="tax savings")
    assert done.lines[0].state == "matched"


def test_a_transfer_to_the_household_is_a_draw(books: Books) -> None:
    read_rows(books, "2026-01-28,To home,-60.00")
    entry = booked(books, 1, "transfer", "household checking")
    assert lines_of(books, entry) == written("checking -60.00", "owner's draws 60.00")


def test_paying_the_workshop_card_is_seen_from_both_its_statements(books: Books) -> None:
    spent(on_day(books, day(10)), "80.00", "thread", "workshop card")
    read_rows(books, "2026-01-11,Corner shop,-80.00", "2026-01-25,Payment,80.00", account="workshop card")
    assert states(books) == ["matched", "new"]
    entry = booked(books, 2, "transfer", "checking")
    assert lines_of(books, entry) == written("checking -80.00", "workshop card 80.00")


def test_a_card_payout_less_its_fee_is_known_and_covers_its_payments(books: Books) -> None:
    for _ in range(2):
        picked_up(on_day(books, day(12)), job_for(on_day(books, day(6)), "100.00"), "card")
    read_rows(books, "2026-01-16,MERCHANT SERVICES,204.50")
    told = line_of(books, 1).suggestion
    assert told is not None
    assert (told.way, told.through, told.fee_cents) == ("payout", day(12), 6_10)
    entry = placed(books, 1, "suggested").booked[0]
    assert lines_of(books, entry) == written("card fees 6.10", "card settlements -210.60", "checking 204.50")
    with pytest.raises(NotPossible):
        card_payout.preview(books, card_payout.PayoutRequest(1_00))


def test_a_check_that_came_back_undoes_the_payment_and_what_is_above_it_is_the_banks(books: Books) -> None:
    job = job_for(on_day(books, day(6)), "100.00")
    picked_up(on_day(books, day(8)), job, "check", number="1021")
    read_ofx(books, ("10", "105.30", "Deposit"), ("15", "-105.30", "RETURNED ITEM 1021"), ("15", "-12.00", "Fee"))
    assert states(books) == ["matched", "new", "new"]
    entry = placed(books, 2, "suggested").booked[0]
    assert lines_of(books, entry) == written("checking -105.30", "owed by customers 105.30")
    undone(books, 2)
    assert balance_of(books, "owed by customers") == 0


def test_a_returned_check_and_its_charge_in_one_line(books: Books) -> None:
    job = job_for(on_day(books, day(6)), "100.00")
    picked_up(on_day(books, day(8)), job, "check", number="1021")
    read_rows(books, "2026-01-15,Returned and fee,-117.30")
    entry = booked(books, 1, "returned", job=job.id)
    assert lines_of(books, entry) == written(
        "bank charges 12.00", "checking -105.30", "checking -12.00", "owed by customers 105.30"
    )
    read_rows(books, "2026-01-16,Another,-500.00")
    with pytest.raises(NotFound):
        placed(books, 2, "returned", job=job.id)


def test_a_returned_check_entered_by_hand_is_one_line_or_two(books: Books) -> None:
    job = job_for(on_day(books, day(6)), "100.00")
    picked_up(on_day(books, day(8)), job, "check", number="1021")
    returned_payment.perform(on_day(books, day(15)), ReturnedRequest(job.id, "check", fee_cents=12_00))
    read_ofx(books, ("10", "105.30", "Deposit"), ("15", "-105.30", "Returned"), ("15", "-12.00", "Charge"))
    assert states(books) == ["matched", "matched", "matched"]


def test_a_loan_payment_is_known_and_split_into_interest_and_principal(books: Books) -> None:
    wanted = set_loan.LoanRequest(10_000_00, Decimal(8), 60, first_on=day(20), taken_on=day(5), was_there=True)
    set_loan.perform(on_day(books, day(5)), wanted)
    read_rows(books, "2026-01-21,LENDER AUTOPAY,-202.76")
    told = line_of(books, 1).suggestion
    assert told is not None
    assert told.way == "loan"
    entry = placed(books, 1, "suggested").booked[0]
    assert lines_of(books, entry) == written("checking -202.76", "loan interest 66.67", "machine loan 136.09")
    undone(books, 1)
    placed(books, 1, "loan", interest_cents=60_00)
    assert balance_of(books, "loan interest") == 60_00, "the lender's figure wins"


def test_checks_paid_in_together_are_one_line(books: Books) -> None:
    for amount in ("50.00", "31.10"):
        job = job_for(on_day(books, day(6)), "100.00")
        deposit(on_day(books, day(12)), job, amount)
    read_rows(books, "2026-01-14,Deposit,81.10")
    standing = line_of(books, 1)
    assert standing.state == "doubtful", "they have no numbers, so it is hers to say"
    entries = tuple(each.entry for each in standing.candidates[0])
    assert placed(books, 1, "entry", entries=entries).entries == entries
    assert states(books) == ["matched"]


def test_a_habit_suggests_and_never_decides(books: Books) -> None:
    read_rows(books, "2026-01-12,POS MILL OUTLET 0043,-12.00")
    placed(books, 1, "category", "batting", who="Mill outlet")
    read_rows(books, "2026-01-20,POS MILL OUTLET 0051,-19.00")
    standing = line_of(books, 2)
    assert standing.state == "new"
    assert standing.suggestion is not None
    assert (standing.suggestion.way, standing.suggestion.name, standing.suggestion.who) == (
        "category",
        "batting",
        "Mill outlet",
    )
    entry = placed(books, 2, "suggested").booked[0]
    assert lines_of(books, entry) == written("batting 19.00", "checking -19.00")
    assert [each.who for each in entries_of(books) if each.number == entry] == ["Mill outlet"]


def test_what_is_taken_back_is_suggested_as_before(books: Books) -> None:
    read_rows(books, "2026-01-12,POS MILL OUTLET 0043,-12.00")
    placed(books, 1, "category", "batting", who="Mill outlet")
    read_rows(books, "2026-01-20,POS MILL OUTLET 0051,-19.00")
    before = line_of(books, 2).suggestion
    placed(books, 2, "suggested")
    undone(books, 2)
    assert before is not None
    assert line_of(books, 2).suggestion == before
    undone(books, 1)
    assert line_of(books, 2).suggestion is None, "nothing that stands says what it is"


def test_what_the_program_found_makes_no_habit(books: Books) -> None:
    spent(on_day(books, day(12)), "12.00", "batting", "checking")
    read_rows(books, "2026-01-12,MILL OUTLET,-12.00", "2026-01-20,MILL OUTLET,-19.00")
    assert line_of(books, 2).suggestion is None


def test_a_line_left_for_later_stays_open_and_one_set_aside_does_not(books: Books) -> None:
    read_rows(books, "2026-01-20,A,-1.00", "2026-01-21,B,-2.00")
    placed(books, 1, "later")
    placed(books, 2, "ignored")
    assert states(books) == ["later", "ignored"]
    placed(books, 1, "category", "thread")
    with pytest.raises(NotPossible, match="undo 2"):
        placed(books, 2, "category", "thread")
    undone(books, 2)
    assert states(books) == ["matched", "new"]


def test_an_entry_of_another_amount_is_refused_and_says_by_how_much(books: Books) -> None:
    entry = transferred(on_day(books, day(8)), "put-in", "594.40", "household checking", "checking")
    read_rows(books, "2026-01-08,Deposit,600.40")
    with pytest.raises(NotPossible, match="6.00 off"):
        placed(books, 1, "entry", entries=(entry,))
    with pytest.raises(NotFound):
        placed(books, 1, "entry", entries=(99,))


def test_undoing_a_match_that_was_found_books_nothing_and_one_that_booked_reverses_it(books: Books) -> None:
    spent(on_day(books, day(12)), "12.00", "batting", "checking")
    read_rows(books, "2026-01-12,Mill,-12.00", "2026-01-20,Charge,-8.00")
    placed(books, 2, "category", "bank charges")
    before = len(list(entries_of(books)))
    assert undone(books, 1).reversed_by == ()
    assert len(undone(books, 2).reversed_by) == 1
    assert len(list(entries_of(books))) == before + 1
    assert states(books) == ["doubtful", "new"]
    with pytest.raises(NotPossible):
        undone(books, 1)


def test_what_something_rests_on_is_not_undone(books: Books) -> None:
    job = job_for(on_day(books, day(6)), "100.00")
    read_rows(books, "2026-01-12,Transfer,30.00")
    placed(books, 1, "job", job=job.id)
    picked_up(on_day(books, day(20)), job, "cash")
    with pytest.raises(Refused):
        undone(books, 1)
    assert states(books) == ["matched"]


def test_a_line_of_a_closed_period_goes_into_the_open_one(books: Books) -> None:
    read_rows(books, "2026-01-10,Charge,-8.00")
    close_period(books, day(1), day(20))
    done = placed(books, 1, "category", "bank charges")
    assert [each.on for each in entries_of(books) if each.number in done.booked] == [DAY]


@pytest.mark.parametrize(
    ("way", "more"),
    [
        ("category", {"name": "nothing such"}),
        ("job", {"job": 77}),
        ("job", {}),
        ("transfer", {"name": "thread"}),
        ("transfer", {"name": "checking"}),
        ("payout", {}),
        ("returned", {"job": 77}),
        ("loan", {}),
        ("suggested", {}),
        ("entry", {"entries": ()}),
    ],
)
def test_a_way_that_does_not_fit_is_refused_and_the_line_stays_open(
    books: Books, way: str, more: dict[str, object]
) -> None:
    read_rows(books, "2026-01-20,A,-1.00")
    before = len(list(entries_of(books)))
    with pytest.raises((NotFound, NotPossible, NotUnderstood)):
        placed(books, 1, way, **more)  # type: ignore[arg-type]
    assert states(books) == ["new"]
    assert len(list(entries_of(books))) == before


def test_a_payment_by_check_is_matched_by_its_number_months_later(books: Books) -> None:
    job = job_for(on_day(books, day(6)), "100.00")
    picked_up(on_day(books, day(6)), job, "owed")
    for amount in ("20.00", "20.00"):
        pay(on_day(books, day(7)), job, amount)
    late = on_day(books, date(2026, 5, 4))
    read_rows(late, "2026-05-04,Check,20.00")
    assert line_of(late, 1).state == "new"
