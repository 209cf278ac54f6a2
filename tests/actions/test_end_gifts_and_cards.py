"""Gift certificates are a liability until they are used; card money is on its way until a payout covers it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from ledger.actions import card_payout, gift
from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.jobs.gift_certificates import certificate_of, read_certificates, read_movements
from ledger.jobs.payouts import card_money
from ledger.jobs.records import read_job
from ledger.quarter.checks import run_checks
from ledger.quarter.sales_tax import read_sales_tax
from tests.actions.endings import (
    called_off,
    came_back,
    cash_income,
    check_books,
    gift_sold,
    gone,
    handed_back,
    money,
    owed_parts,
    paid_out,
    refunded,
    sale_of,
    sold,
    tax_held,
    voided,
)
from tests.workshop import (
    balance_of,
    begin_taxed,
    deposit,
    job_for,
    lines_of,
    on_day,
    pay,
    reversed_entry,
    written,
)

FEBRUARY, APRIL = date(2026, 2, 10), date(2026, 4, 2)
FIRST_QUARTER, SECOND_QUARTER = (date(2026, 1, 1), date(2026, 3, 31)), (date(2026, 4, 1), date(2026, 6, 30))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


class TestGiftCertificates:
    def test_sold_it_is_a_liability_without_tax_and_used_it_pays_before_cash(self, books: Books) -> None:
        sealed, code = gift.perform(books, gift.GiftRequest(100_00, "cash", "Eli"))
        assert lines_of(books, sealed.number) == written("cash box +100.00", "gift certificates -100.00")
        assert read_sales_tax(books, *FIRST_QUARTER).gross_cents == 0
        job = job_for(books, "185.44")
        done = gone(books, job, "cash", gifts=(code,))
        assert done.entry is not None
        assert lines_of(books, done.entry.number) == written(
            "gift certificates +100.00",
            "cash box +95.27",
            "job income -185.44",
            "sales tax payable -7.97",
            "sales tax payable -1.86",
        )
        check_books(books)

    def test_on_the_cash_method_it_is_income_when_it_is_sold(self, books: Books) -> None:
        code = gift_sold(books, "105.30")
        gone(on_day(books, APRIL), job_for(on_day(books, APRIL), "100.00"), gifts=(code,))
        assert cash_income(books, *FIRST_QUARTER) == 105_30
        # The sale takes 5.30 of it for tax.
        assert cash_income(books, *SECOND_QUARTER) == -5_30

    def test_sold_by_card_its_fee_is_an_expense(self, books: Books) -> None:
        sealed, _ = gift.perform(books, gift.GiftRequest(100_00, "card", fee_cents=3_20))
        assert lines_of(books, sealed.number) == written(
            "card settlements +96.80", "card fees +3.20", "gift certificates -100.00"
        )
        check_books(books)

    def test_it_is_used_in_parts_until_nothing_is_left(self, books: Books) -> None:
        code = gift_sold(books, "150.00")
        first = gone(books, job_for(books, "100.00"), gifts=(code,)).settlement
        assert (first.gifts[0].cents, certificate_of(books, code).left_cents) == (105_30, 44_70)
        second = gone(books, job_for(books, "100.00"), "cash", gifts=(code,)).settlement
        assert (second.gifts[0].cents, second.paid.cents) == (44_70, 60_60)
        with pytest.raises(NotPossible, match=r"over 150\.00 is used up"):
            gone(books, job_for(books, "10.00"), gifts=(code,))
        assert [each.cents for each in read_movements(books, certificate_of(books, code))] == [
            150_00,
            -105_30,
            -44_70,
        ]
        check_books(books)

    def test_certificate_card_and_the_rest_owed(self, books: Books) -> None:
        code = gift_sold(books, "30.00")
        job = job_for(books, "100.00")
        settled = gone(books, job, "card=40.00", "owed", gifts=(code,), fee="1.50").settlement
        assert (settled.paid.cents, settled.paid.owed_cents) == (40_00, 35_30)
        assert owed_parts(books, job) == (32_82, 2_48)
        assert cash_income(books) == 100_00 - 32_82
        check_books(books)

    def test_two_certificates_pay_one_job_and_one_typed_twice_pays_once(self, books: Books) -> None:
        first, second = gift_sold(books, "50.00"), gift_sold(books, "80.00")
        settled = gone(books, job_for(books, "100.00"), gifts=(first, first.lower(), second)).settlement
        assert [each.cents for each in settled.gifts] == [50_00, 55_30]
        assert [each.left_cents for each in read_certificates(books)] == [0, 24_70]

    @pytest.mark.parametrize("slip", ["G-1001-06", "G-1010-05", "G-1011-05", "1001", "G-1001-5", "", "G--05"])
    def test_a_slip_of_the_pen_names_none(self, books: Books, slip: str) -> None:
        assert gift_sold(books, "100.00") == "G-1001-05"
        with pytest.raises(NotUnderstood, match="is no number of a gift certificate") as refused:
            gone(books, job_for(books, "10.00"), gifts=(slip,))
        assert refused.value.field == "gift"

    def test_a_number_that_was_never_sold_is_not_found(self, books: Books) -> None:
        with pytest.raises(NotFound, match="There is no gift certificate G-1001-05"):
            gone(books, job_for(books, "10.00"), gifts=("G-1001-05",))

    def test_undone_its_sale_is_on_no_list_and_it_pays_nothing(self, books: Books) -> None:
        code = gift_sold(books, "100.00")
        reversed_entry(books, 1)
        assert read_certificates(books) == ()
        with pytest.raises(NotFound):
            gone(books, job_for(books, "10.00"), gifts=(code,))
        assert gift_sold(books, "20.00") != code
        check_books(books)

    def test_it_is_not_unsold_once_it_was_used_and_is_once_that_is_undone(self, books: Books) -> None:
        code = gift_sold(books, "100.00")
        job = job_for(books, "10.00")
        gone(books, job, gifts=(code,))
        with pytest.raises(NotPossible, match="was used since"):
            reversed_entry(books, 1)
        voided(books, job)
        assert certificate_of(books, code).left_cents == 100_00
        reversed_entry(books, 1)
        check_books(books)

    def test_what_is_used_on_a_later_day_is_not_used_again_on_an_earlier_one(self, books: Books) -> None:
        code = gift_sold(books, "100.00")
        early = job_for(books, "50.00")
        gone(on_day(books, APRIL), job_for(on_day(books, APRIL), "80.00"), gifts=(code,))
        settled = gone(on_day(books, FEBRUARY), early, "cash", gifts=(code,)).settlement
        assert (settled.gifts[0].cents, settled.paid.cents) == (15_76, 36_89)
        later = job_for(books, "50.00")
        with pytest.raises(NotPossible, match="is used up"):
            gone(on_day(books, FEBRUARY), later, "cash", gifts=(code,))
        check_books(on_day(books, APRIL))

    def test_the_list_of_an_earlier_day_is_that_days(self, books: Books) -> None:
        gift_sold(on_day(books, FEBRUARY), "100.00")
        assert read_certificates(books) == ()
        assert [each.left_cents for each in read_certificates(on_day(books, FEBRUARY))] == [100_00]

    def test_a_fee_goes_with_a_card_alone(self, books: Books) -> None:
        for request in (gift.GiftRequest(10_00, "cash", fee_cents=1), gift.GiftRequest(10_00, "card", fee_cents=10_01)):
            with pytest.raises(NotPossible, match="fee does not fit"):
                gift.perform(books, request)


class TestPayouts:
    def test_a_payout_of_what_was_expected(self, books: Books) -> None:
        sold(books, "100.00", "card", fee="3.20")
        assert lines_of(books, paid_out(books, "102.10")) == written("checking +102.10", "card settlements -102.10")
        check_books(books)

    def test_a_fee_that_only_the_payout_tells(self, books: Books) -> None:
        sold(books, "100.00", "card")
        sold(books, "50.00", "card")
        number = paid_out(books, "153.00")
        assert lines_of(books, number) == written("checking +153.00", "card fees +4.95", "card settlements -157.95")
        assert books.value("select text from entry where number = ?", (number,)) == "Card payout of 2 payments"
        check_books(books)

    def test_it_covers_the_payments_of_some_days_and_the_next_one_the_rest(self, books: Books) -> None:
        sold(books, "100.00", "card")
        february = on_day(books, FEBRUARY)
        job = job_for(february, "50.00")
        deposit(february, job, "20.00", "card", fee="0.60")
        gift_sold(february, "10.00", "card")
        paid_out(february, "103.00", FEBRUARY - timedelta(1))
        assert [each.cents for each in card_money(february, FEBRUARY)] == [19_40, 10_00]
        with pytest.raises(NotPossible, match="No card payment of these days"):
            paid_out(february, "5.00", FEBRUARY - timedelta(1))
        paid_out(february, "29.40")
        assert card_money(february, FEBRUARY) == ()
        check_books(february)

    def test_more_than_is_on_its_way_is_refused(self, books: Books) -> None:
        sold(books, "100.00", "card")
        with pytest.raises(NotPossible, match=r"come to 105\.30"):
            paid_out(books, "105.31")

    def test_nothing_is_on_its_way_and_a_fee_alone_is_spent(self, books: Books) -> None:
        with pytest.raises(NotPossible, match="is on its way") as refused:
            paid_out(books, "5.00")
        assert "spend" in refused.value.do

    def test_a_charge_back_before_the_payout_is_taken_off_it(self, books: Books) -> None:
        job = sold(books, "100.00", "card")
        sold(books, "50.00", "card")
        came_back(books, job, "card", fee="15.00")
        assert sum(each.cents for each in card_money(books, books.today)) == 37_65
        paid_out(books, "37.65")
        assert (balance_of(books, "card settlements"), card_money(books, books.today)) == (0, ())
        assert read_job(books, job).owed_cents == 105_30
        check_books(books)

    def test_a_charge_back_after_the_payout_is_taken_off_the_next(self, books: Books) -> None:
        job = sold(books, "100.00", "card")
        paid_out(books, "105.30")
        february = on_day(books, FEBRUARY)
        came_back(february, job, "card")
        sold(february, "200.00", "card")
        assert [each.cents for each in card_money(february, FEBRUARY)] == [-105_30, 210_60]
        paid_out(february, "105.30")
        check_books(february)

    def test_or_out_of_checking_where_nothing_else_is_on_its_way(self, books: Books) -> None:
        job = sold(books, "100.00", "card")
        paid_out(books, "105.30")
        came_back(books, job, "card")
        with pytest.raises(NotPossible, match=r"come to -105\.30"):
            paid_out(books, "1.00")
        number = paid_out(books, "110.30", taken=True)
        assert lines_of(books, number) == written("checking -110.30", "card fees +5.00", "card settlements +105.30")
        assert (money(books), card_money(books, books.today)) == (-5_00, ())
        check_books(books)

    def test_nothing_is_taken_while_money_is_on_its_way_to_her(self, books: Books) -> None:
        sold(books, "100.00", "card")
        with pytest.raises(NotPossible, match=r"come to 105\.30; less than that is not taken"):
            paid_out(books, "5.00", taken=True)

    @pytest.mark.parametrize("ending", ["refund", "call off", "hand back", "deposit back at pickup"])
    def test_what_goes_back_by_card_is_taken_off_the_next_payout(self, books: Books, ending: str) -> None:
        sold(books, "200.00", "card")
        if ending == "refund":
            refunded(books, sold(books, "50.00", "cash"), "50.00", "card")
        else:
            job = job_for(books, "40.00")
            deposit(books, job, {"deposit back at pickup": "92.12"}.get(ending, "50.00"))
            {
                "call off": lambda: called_off(books, job, "returned", "card"),
                "hand back": lambda: handed_back(books, job, how="card"),
                "deposit back at pickup": lambda: gone(books, job, back="card"),
            }[ending]()
        assert sum(each.cents for each in card_money(books, books.today)) == 160_60
        check_books(books)
        paid_out(books, "160.60")
        check_books(books)

    def test_undone_it_leaves_the_payments_on_their_way(self, books: Books) -> None:
        sold(books, "100.00", "card")
        number = paid_out(books, "100.00")
        reversed_entry(books, number)
        assert [each.cents for each in card_money(books, books.today)] == [105_30]
        paid_out(books, "105.30")
        check_books(books)

    def test_a_payment_that_was_paid_out_is_not_undone(self, books: Books) -> None:
        job = job_for(books, "50.00")
        taken = deposit(books, job, "20.00", "card")
        owed = sold(books, "30.00", "owed")
        paid = pay(books, owed, "10.00", "card")
        payout = paid_out(books, "30.00")
        for number in (taken, paid):
            with pytest.raises(NotPossible, match=f"paid out with entry {payout}"):
                reversed_entry(books, number)

    def test_a_quarter_is_looked_at_as_it_stood_then(self, books: Books) -> None:
        job = sold(books, "100.00", "card")
        april = on_day(books, APRIL)
        paid_out(april, "105.30")
        came_back(april, job, "card")
        assert all(each.ok for each in run_checks(april, *FIRST_QUARTER))
        assert [each.cents for each in card_money(april, FIRST_QUARTER[1], FIRST_QUARTER[1])] == [105_30]
        check_books(april)

    def test_a_backdated_payout_covers_nothing_that_was_paid_out_since(self, books: Books) -> None:
        sold(books, "100.00", "card")
        paid_out(on_day(books, APRIL), "105.30")
        with pytest.raises(NotPossible, match="is on its way"):
            paid_out(on_day(books, FEBRUARY), "105.30")

    def test_days_that_lie_ahead_are_not_covered(self, books: Books) -> None:
        sold(books, "100.00", "card")
        sold(on_day(books, APRIL), "50.00", "card")
        found = card_payout.preview(books, card_payout.PayoutRequest(1_00, APRIL))
        assert [each.cents for each in found.covered] == [105_30]


def test_the_fee_known_at_pickup_and_the_tip_are_in_one_entry(books: Books) -> None:
    job = job_for(books, "185.44")
    deposit(books, job, "50.00")
    gone(books, job, "card", tip="10.00", fee="4.80")
    assert lines_of(books, sale_of(books, job)) == written(
        "card settlements +150.47",
        "card fees +4.80",
        "customer deposits +50.00",
        "job income -185.44",
        "tips -10.00",
        "sales tax payable -7.97",
        "sales tax payable -1.86",
    )
    assert tax_held(books) == 9_83
