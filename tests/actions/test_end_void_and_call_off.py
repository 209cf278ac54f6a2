"""A pickup that should not have been is voided while nothing rests on it; a job called off settles its deposit."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import void
from ledger.books.books import Books
from ledger.books.closing import close_period
from ledger.errors import NotPossible, NotUnderstood
from ledger.jobs.pickup import Sending
from ledger.jobs.records import read_custody, read_job
from ledger.jobs.sales import read_receipt
from ledger.quarter.sales_tax import read_sales_tax
from tests.actions.endings import (
    called_off,
    cash_income,
    check_books,
    gift_sold,
    given_up,
    gone,
    handed_back,
    money,
    paid_out,
    refunded,
    sale_of,
    sold,
    tax_held,
    tax_put_right,
    voided,
)
from tests.workshop import (
    answer,
    balance_of,
    begin_taxed,
    deposit,
    job_for,
    lines_of,
    move,
    on_day,
    pay,
    picked_up,
    reversed_entry,
    written,
)

LATER, APRIL = date(2026, 2, 10), date(2026, 4, 2)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


class TestVoid:
    def test_on_its_own_day_every_posting_is_mirrored_and_the_piece_is_here_again(self, books: Books) -> None:
        job = job_for(books, "185.44")
        deposit(books, job, "50.00")
        move(books, job, "ready")
        picked_up(books, job, "card", tip="5.00", fee="4.00")
        entry = sale_of(books, job)
        number = voided(books, job)
        assert lines_of(books, number) == sorted((name, -cents) for name, cents in lines_of(books, entry))
        again = read_job(books, job.id)
        assert (again.status, again.deposit_cents, again.owed_cents, again.sale) == ("ready", 50_00, 0, None)
        assert read_custody(books, books.today).pieces == 1
        assert read_sales_tax(books, books.today, books.today).gross_cents == 0
        check_books(books)
        picked_up(books, job, "cash")
        check_books(books)

    def test_a_second_time_there_is_nothing_to_void(self, books: Books) -> None:
        job = sold(books, "100.00", "cash")
        voided(books, job)
        with pytest.raises(NotPossible, match="no pickup to void: it is in hand"):
            voided(books, job)

    def test_one_that_is_owed_is_voided_on_a_later_day(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        voided(on_day(books, LATER), job)
        assert read_job(on_day(books, LATER), job).owed_cents == 0
        check_books(on_day(books, LATER))

    def test_one_that_was_paid_stands_from_the_next_day_on(self, books: Books) -> None:
        job = sold(books, "100.00", "cash", amount="20.00")
        with pytest.raises(NotPossible, match="so it stands") as refused:
            voided(on_day(books, date(2026, 1, 6)), job)
        for word in ("returned-check", "refund", "retax"):
            assert word in refused.value.do

    def test_one_in_a_closed_period_stands_and_is_taken_off_what_is_owed(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        april = on_day(books, APRIL)
        close_period(april, date(2026, 1, 1), date(2026, 3, 31))
        with pytest.raises(NotPossible, match="closed through 2026-03-31") as refused:
            voided(april, job)
        assert "refund --paid owed" in refused.value.do
        refunded(april, job, how="owed")
        assert (read_job(april, job).owed_cents, tax_held(april)) == (0, 0)
        check_books(april)

    def test_one_whose_card_money_was_paid_out_stands(self, books: Books) -> None:
        job = sold(books, "100.00", "card")
        payout = paid_out(books, "105.30")
        with pytest.raises(NotPossible, match=f"paid out with entry {payout}") as refused:
            voided(books, job)
        assert "returned-check --card" in refused.value.do
        reversed_entry(books, payout)
        voided(books, job)
        check_books(books)

    @pytest.mark.parametrize("ending", ["pay", "refund", "give up", "put tax right"])
    def test_one_that_something_rests_on_stands_until_that_is_undone(self, books: Books, ending: str) -> None:
        job = sold(books, "100.00", "owed")
        if ending == "put tax right":
            answer(books, "work", False)
        number = {
            "pay": lambda: pay(books, job, "5.00"),
            "refund": lambda: refunded(books, job, "5.00", "owed"),
            "give up": lambda: given_up(books, job),
            "put tax right": lambda: tax_put_right(books, job),
        }[ending]()
        with pytest.raises(NotPossible, match=f"Entry {number} rests on this pickup"):
            voided(books, job)
        reversed_entry(books, number)
        voided(books, job)
        check_books(books)

    def test_certificates_and_goods_are_given_back_with_it(self, books: Books) -> None:
        code = gift_sold(books, "30.00")
        job = job_for(books, "100.00")
        gone(books, job, "cash", gifts=(code,), barter=("backing", "20.00"))
        voided(books, job)
        assert (balance_of(books, "gift certificates"), balance_of(books, "backing")) == (-30_00, 0)
        assert books.value("select sum(cents) from barter") == 0
        check_books(books)
        gone(books, job, "cash", gifts=(code,))
        check_books(books)

    def test_a_deposit_that_was_handed_back_is_held_again(self, books: Books) -> None:
        job = job_for(books, "40.00")
        deposit(books, job, "100.00")
        gone(books, job, back="cash")
        voided(books, job)
        assert (read_job(books, job.id).deposit_cents, balance_of(books, "cash box")) == (100_00, 0)
        check_books(books)

    def test_work_given_away_has_no_entry_and_is_undone_all_the_same(self, books: Books) -> None:
        job = sold(books, "50.00", discount="50.00")
        with pytest.raises(NotPossible, match="no pickup to void"):
            voided(books, job)
        assert void.was_given_away(books, job)
        again = void.undo_giving_away(books, void.VoidRequest(job, "it was another one"))
        assert again.status == "in-hand"
        assert not void.was_given_away(books, job)
        with pytest.raises(NotPossible, match="was not given away"):
            void.undo_giving_away(books, void.VoidRequest(job, "again"))

    def test_it_is_dated_today_and_belongs_to_the_day_of_the_pickup(self, books: Books) -> None:
        job = sold(books, "100.00", "owed")
        number = voided(on_day(books, LATER), job)
        row = books.row("select date, belongs_on from entry where number = ?", (number,))
        assert row is not None
        assert tuple(row) == ("2026-02-10", "2026-01-05")


class TestCallOff:
    @pytest.fixture
    def job(self, books: Books) -> int:
        job = job_for(books, "185.44")
        deposit(books, job, "50.00")
        return job.id

    @pytest.mark.parametrize(
        ("how", "account"),
        [("check", "checking"), ("cash", "cash box"), ("card", "card settlements"), ("transfer", "checking")],
    )
    def test_the_deposit_goes_back(self, books: Books, job: int, how: str, account: str) -> None:
        done = called_off(books, job, "returned", how)
        assert done.entry is not None
        assert lines_of(books, done.entry.number) == written("customer deposits +50.00", f"{account} -50.00")
        assert (done.job.status, done.job.deposit_cents, cash_income(books)) == ("called-off", 0, 0)
        assert read_custody(books, books.today).pieces == 0
        check_books(books)

    def test_the_deposit_is_kept(self, books: Books, job: int) -> None:
        done = called_off(on_day(books, APRIL), job, "kept")
        assert done.entry is not None
        assert lines_of(books, done.entry.number) == written("customer deposits +50.00", "other income -50.00")
        # On the cash method it was income when it came in.
        assert cash_income(books, date(2026, 1, 1), date(2026, 3, 31)) == 50_00
        assert cash_income(books, date(2026, 4, 1), APRIL) == 0
        check_books(on_day(books, APRIL))

    def test_the_deposit_becomes_a_gift_certificate_that_another_job_uses(self, books: Books, job: int) -> None:
        done = called_off(books, job, "certificate")
        assert done.entry is not None
        assert lines_of(books, done.entry.number) == written("customer deposits +50.00", "gift certificates -50.00")
        assert done.certificate is not None
        other = job_for(books, "100.00")
        settled = gone(books, other, "cash", gifts=(done.certificate,)).settlement
        assert (settled.gifts[0].cents, settled.paid.cents) == (50_00, 55_30)
        assert (cash_income(books), tax_held(books), money(books)) == (100_00, 5_30, 105_30)
        check_books(books)

    def test_what_becomes_of_a_deposit_must_be_said(self, books: Books, job: int) -> None:
        with pytest.raises(NotUnderstood, match=r"A deposit of 50\.00 is held") as refused:
            called_off(books, job)
        assert refused.value.field == "deposit"

    def test_without_a_deposit_nothing_is_booked(self, books: Books) -> None:
        job = job_for(books, "100.00", status="booked")
        done = called_off(books, job)
        assert (done.entry, done.certificate, done.job.status) == (None, None, "called-off")

    def test_a_job_that_is_gone_or_called_off_is_not_called_off(self, books: Books, job: int) -> None:
        called_off(books, job, "kept")
        with pytest.raises(NotPossible, match="is called off"):
            called_off(books, job)
        with pytest.raises(NotPossible, match="is gone"):
            called_off(books, sold(books, "10.00", "cash"))

    @pytest.mark.parametrize("deposit_is", ["returned", "kept", "certificate"])
    @pytest.mark.parametrize("ready", [True, False])
    def test_undone_it_stands_where_it_stood(self, books: Books, job: int, deposit_is: str, ready: bool) -> None:
        if ready:
            move(books, job, "ready")
        done = called_off(books, job, deposit_is, "card")
        assert done.entry is not None
        reversed_entry(books, done.entry.number)
        again = read_job(books, job)
        assert (again.status, again.deposit_cents) == ("ready" if ready else "in-hand", 50_00)
        assert balance_of(books, "gift certificates") == 0
        check_books(books)
        picked_up(books, job, "cash")
        check_books(books)

    def test_not_once_the_certificate_was_used(self, books: Books, job: int) -> None:
        done = called_off(books, job, "certificate")
        assert done.entry is not None
        assert done.certificate is not None
        gone(books, job_for(books, "10.00"), gifts=(done.certificate,))
        with pytest.raises(NotPossible, match=f"{done.certificate} was used since"):
            reversed_entry(books, done.entry.number)

    def test_the_deposit_itself_is_not_undone_after_it(self, books: Books, job: int) -> None:
        called_off(books, job, "kept")
        with pytest.raises(NotPossible, match="settled when it called off"):
            reversed_entry(books, 1)


class TestHandBack:
    def test_what_a_pickup_left_of_the_deposit_goes_back_later(self, books: Books) -> None:
        job = job_for(books, "40.00")
        deposit(books, job, "100.00")
        picked_up(books, job)
        assert read_job(books, job.id).deposit_cents == 57_88
        done = handed_back(on_day(books, LATER), job)
        assert lines_of(books, done.entry.number) == written("customer deposits +57.88", "checking -57.88")
        later = on_day(books, LATER)
        assert (cash_income(later), tax_held(later), money(later)) == (40_00, 2_12, 42_12)
        check_books(later)

    def test_a_part_of_it_goes_back_before_pickup(self, books: Books) -> None:
        job = job_for(books, "100.00")
        deposit(books, job, "50.00")
        handed_back(books, job, "20.00", "card")
        assert picked_up(books, job, "cash").settlement.due_cents == 75_30
        check_books(books)

    def test_it_becomes_a_gift_certificate(self, books: Books) -> None:
        job = job_for(books, "40.00")
        deposit(books, job, "100.00")
        picked_up(books, job)
        done = handed_back(books, job, how="certificate")
        assert done.certificate is not None
        assert lines_of(books, done.entry.number) == written("customer deposits +57.88", "gift certificates -57.88")
        assert cash_income(books) == 97_88
        check_books(books)

    @pytest.mark.parametrize(("held", "amount"), [("50.00", "50.01"), (None, None), (None, "1.00")])
    def test_no_more_than_is_held(self, books: Books, held: str | None, amount: str | None) -> None:
        job = job_for(books, "100.00")
        if held is not None:
            deposit(books, job, held)
        with pytest.raises(NotPossible, match=f"{held or '0.00'} is held"):
            handed_back(books, job, amount)

    def test_undone_it_is_held_again_and_the_deposit_is_not_undone_under_it(self, books: Books) -> None:
        job = job_for(books, "100.00")
        taken = deposit(books, job, "50.00")
        number = handed_back(books, job, "20.00").entry.number
        with pytest.raises(NotPossible, match=f"Undo entry {number} first"):
            reversed_entry(books, taken)
        reversed_entry(books, number)
        assert read_job(books, job.id).deposit_cents == 50_00
        reversed_entry(books, taken)
        check_books(books)


def test_a_voided_parcel_is_forgotten_when_the_piece_is_fetched(books: Books) -> None:
    job = job_for(books, "50.00")
    gone(books, job, "cash", sending=Sending(None, "Prairie Parcel", "PP 1", 400_00))
    assert read_receipt(books, job.id).sending is not None
    voided(books, job)
    picked_up(books, job, discount="50.00")
    assert read_receipt(books, job.id).sending is None
