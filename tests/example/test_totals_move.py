"""Every way a job can end, done once more on the example's last day: the books stay proved, every check of the quarter
passes, and the quarter's totals move as they should.

Worked out by hand at 4.5 + 1.6 + 0.75 = 6.85 %. The blue throw: 60 x 72 = 4,320 sq in at 0.0135 is 58.32, batting 80 in
at 0.24 is 19.20; tax on 77.52 is 5.3101, of which the state gets 3.49, the county 1.24 and the city 0.58.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import (
    add_work,
    call_off,
    card_payout,
    gift,
    give_up,
    pick_up,
    refund,
    retax,
    returned_payment,
    take_owed,
    void,
)
from ledger.actions.take_in import WantedLine
from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.jobs.gift_certificates import read_certificates
from ledger.jobs.job import Job
from ledger.jobs.payments import PaidPart
from ledger.jobs.pickup import Barter, PickupRequest, Sending
from ledger.jobs.refund import RefundRequest
from ledger.jobs.retax import RetaxRequest
from ledger.jobs.returned import ReturnedRequest
from ledger.periods import quarter_holding
from ledger.quarter.checks import run_checks
from ledger.quarter.sales_tax import read_sales_tax
from ledger.results.period import read_statement
from tests.example.reading import Example
from tests.workshop import answer, deposit, job_for, pay, picked_up
from tests.workshop_example import EXAMPLE_DAY, open_example

BLUE_THROW = "Star and chain, throw, in blues"
QUARTER = quarter_holding(EXAMPLE_DAY)
PICKED_UP = {"job income": 77_52, "cash income": 77_52, "gross": 77_52, "taxable": 77_52, "collected": 5_31}


@dataclass(frozen=True)
class Counter:
    """The counter on the last day, on a copy of the example's books."""

    books: Books

    def job(self, words: str) -> Job:
        return Example(self.books).job(words)

    def blue_throw(self, *paid: str, **more: str | None) -> Job:
        """The blue throw, picked up."""
        job = self.job(BLUE_THROW)
        picked_up(self.books, job, *paid, **more)
        return job

    def moved(self, act: Callable[[], object]) -> dict[str, int]:
        """By how much an act moves each total of the quarter, those that it moves; the books prove and check after."""
        before = totals(self.books)
        act()
        after = totals(self.books)
        proof = prove(self.books)
        assert (proof.ok, proof.findings) == (True, ())
        assert [each for each in run_checks(self.books, QUARTER.start, QUARTER.end) if not each.ok] == []
        names = [*after, *(name for name in before if name not in after)]
        return {name: after.get(name, 0) - before.get(name, 0) for name in names if after.get(name) != before.get(name)}


def totals(books: Books) -> dict[str, int]:
    """The quarter's totals by name: income and expense accounts, income on the cash method, the sales tax worksheet."""
    found = read_statement(books, QUARTER.start, QUARTER.end)
    tax = read_sales_tax(books, QUARTER.start, QUARTER.end)
    return {
        **{each.account.name: each.cents for each in (*found.income, *found.expenses)},
        "cash income": found.income_cents(),
        "gross": tax.gross_cents,
        "taxable": tax.taxable_cents,
        "exempt": tax.exempt_cents,
        "not taxed": tax.not_taxed_cents,
        "collected": tax.collected_cents,
    }


@pytest.fixture
def counter(tmp_path: Path) -> Iterator[Counter]:
    books = open_example(tmp_path / "books")
    yield Counter(books)
    books.close()


def turned(moved: dict[str, int]) -> dict[str, int]:
    return {name: -cents for name, cents in moved.items()}


def test_a_plain_pickup(counter: Counter) -> None:
    assert counter.moved(lambda: counter.blue_throw("cash")) == PICKED_UP


def test_a_refund_in_part(counter: Counter) -> None:
    job = counter.blue_throw("check")
    # of 82.83: charge 18.7179, state 0.8427, county 0.2994, city 0.1400
    assert counter.moved(lambda: refund.perform(counter.books, RefundRequest(job.id, 20_00))) == {
        "returns and allowances": -18_72,
        "cash income": -18_72,
        "gross": -18_72,
        "taxable": -18_72,
        "collected": -1_28,
    }


def test_a_refund_of_everything(counter: Counter) -> None:
    job = counter.blue_throw("check", tip="5.00")
    assert counter.moved(lambda: refund.perform(counter.books, RefundRequest(job.id))) == {
        "returns and allowances": -77_52,
        "cash income": -77_52,
        "gross": -77_52,
        "taxable": -77_52,
        "collected": -5_31,
    }


def test_a_returned_check_with_a_charge(counter: Counter) -> None:
    job = counter.blue_throw("check", number="0811")
    request = ReturnedRequest(job.id, fee_cents=12_00, charge_cents=25_00)
    # the charge is owed, so that cash falls by what the check had paid; tax on 25.00 is 1.7125
    assert counter.moved(lambda: returned_payment.perform(counter.books, request)) == {
        "other income": 25_00,
        "cash income": -77_52,
        "bank charges": 12_00,
        "gross": 25_00,
        "taxable": 25_00,
        "collected": 1_71,
    }
    assert counter.moved(lambda: pay(counter.books, job, "109.54", "cash")) == {"cash income": 102_52}


def test_a_pickup_voided_and_entered_again(counter: Counter) -> None:
    job = counter.blue_throw("cash")
    request = void.VoidRequest(job.id, "she paid by card")
    assert counter.moved(lambda: void.perform(counter.books, request)) == turned(PICKED_UP)
    # 2.7 % of 82.83 and 0.10
    assert counter.moved(lambda: counter.blue_throw("card", fee="2.34")) == {**PICKED_UP, "card fees": 2_34}


@pytest.mark.parametrize(
    ("becomes", "moved"),
    [("returned", {"cash income": -60_00}), ("kept", {"other income": 60_00}), ("certificate", {})],
)
def test_a_job_called_off(counter: Counter, becomes: call_off.Deposit, moved: dict[str, int]) -> None:
    job = counter.job("Broken dishes, twin, red and white")
    assert job.deposit_cents == 60_00
    request = call_off.CallOffRequest(job.id, becomes)
    assert counter.moved(lambda: call_off.perform(counter.books, request)) == moved


def test_a_debt_paid_in_part_and_the_rest_given_up(counter: Counter) -> None:
    assert counter.moved(lambda: counter.blue_throw("owed")) == {
        name: cents for name, cents in PICKED_UP.items() if name != "cash income"
    }
    job = counter.job(BLUE_THROW)
    # of 30.00, 30.00 x 5.31 / 82.83 = 1.9232 is tax
    assert counter.moved(lambda: pay(counter.books, job, "30.00")) == {"cash income": 28_08}
    # the tax claimed is 5.31 less 1.92
    request = give_up.GiveUpRequest(job.id, "moved away")
    assert counter.moved(lambda: give_up.perform(counter.books, request)) == {
        "balances written off": -49_44,
        "collected": -3_39,
    }
    # all of it comes after all, and so does the tax
    assert counter.moved(lambda: pay(counter.books, job, "52.83")) == {
        "balances written off": 49_44,
        "cash income": 49_44,
        "collected": 3_39,
    }


def test_one_payment_over_two_jobs_of_a_customer(counter: Counter) -> None:
    job = counter.blue_throw("owed")
    other = job_for(counter.books, lines=["Trimming"], customer=job.customer.name)
    picked_up(counter.books, other, "owed")
    # the oldest debt first: 82.83, then 5.00 of 10.69, of which 5.00 x 0.69 / 10.69 = 0.3227 is tax
    request = take_owed.OwedMoneyRequest(job.customer.name, 87_83, "check")
    assert counter.moved(lambda: take_owed.perform(counter.books, request)) == {"cash income": 77_52 + 4_68}


def test_a_pickup_of_an_exempt_customer(counter: Counter) -> None:
    job = counter.job("Raffle quilt, flying geese")
    # 7,896 sq in at 0.018 is 142.128, batting 102 in is 24.48, binding 356 in at 0.14 is 49.84
    assert counter.moved(lambda: picked_up(counter.books, job, "check")) == {
        "job income": 216_45,
        "cash income": 216_45,
        "gross": 216_45,
        "exempt": 216_45,
    }


def test_a_gift_certificate_sold_and_used(counter: Counter) -> None:
    request = gift.GiftRequest(50_00, "cash", "Somebody's aunt")
    assert counter.moved(lambda: gift.perform(counter.books, request)) == {"cash income": 50_00}
    code = next(each.code for each in read_certificates(counter.books) if each.holder == "Somebody's aunt")
    use = PickupRequest(counter.job(BLUE_THROW).id, (PaidPart("cash"),), gifts=(code,))
    assert counter.moved(lambda: pick_up.perform(counter.books, use)) == {**PICKED_UP, "cash income": 27_52}


def test_a_pickup_by_certificate_and_card_with_a_rest_owed(counter: Counter) -> None:
    code = next(each.code for each in read_certificates(counter.books) if each.left_cents == 26_75)
    parts = (PaidPart("card", 40_00), PaidPart("owed"))
    request = PickupRequest(counter.job(BLUE_THROW).id, parts, fee_cents=1_18, gifts=(code,))
    # the certificate was cash when it was sold; of 40.00 by card, 40.00 x 5.31 / 56.08 = 3.7874 is tax
    assert counter.moved(lambda: pick_up.perform(counter.books, request)) == {
        **PICKED_UP,
        "cash income": 36_21,
        "card fees": 1_18,
    }


def test_a_tip_and_a_coupon(counter: Counter) -> None:
    job = counter.job(BLUE_THROW)
    request = PickupRequest(
        job.id, (PaidPart("check"),), tip_cents=5_00, discount_percent=Decimal(15), coupon="From the fair"
    )
    # 15 % of 77.52 is 11.628; tax on 65.89 is 4.5135
    assert counter.moved(lambda: pick_up.perform(counter.books, request)) == {
        "job income": 65_89,
        "tips": 5_00,
        "cash income": 70_89,
        "gross": 65_89,
        "taxable": 65_89,
        "collected": 4_51,
    }


def test_a_quilt_given_to_a_raffle(counter: Counter) -> None:
    request = PickupRequest(counter.job(BLUE_THROW).id, (), discount_percent=Decimal(100), coupon="For the raffle")
    assert counter.moved(lambda: pick_up.perform(counter.books, request)) == {}


def test_a_barter(counter: Counter) -> None:
    cloth = Barter(read_accounts(counter.books).category("backing"), 60_00, "six yards of cotton")
    request = PickupRequest(counter.job(BLUE_THROW).id, (PaidPart("cash"),), barter=cloth)
    assert counter.moved(lambda: pick_up.perform(counter.books, request)) == {**PICKED_UP, "backing": 60_00}


def test_a_quilt_sent_out_of_state(counter: Counter) -> None:
    sending = Sending("Lower Tessaly, Ondrey", "Merrowen post", "MP 1", 320_00)
    job = counter.job(BLUE_THROW)
    lines = add_work.AddWorkRequest(job.id, (WantedLine("Posting home"),))
    assert counter.moved(lambda: add_work.perform(counter.books, lines)) == {}
    request = PickupRequest(job.id, (PaidPart("transfer"),), sending=sending)
    assert counter.moved(lambda: pick_up.perform(counter.books, request)) == {
        "job income": 94_02,
        "cash income": 94_02,
        "gross": 94_02,
        "not taxed": 94_02,
    }


def test_a_card_payment_whose_fee_comes_out_with_the_payout_and_that_is_charged_back(counter: Counter) -> None:
    assert counter.moved(lambda: counter.blue_throw("card")) == PICKED_UP
    on_its_way = balance(counter.books, "card_settlements", EXAMPLE_DAY)
    request = card_payout.PayoutRequest(on_its_way - 2_34)
    assert counter.moved(lambda: card_payout.perform(counter.books, request)) == {"card fees": 2_34}
    assert balance(counter.books, "card_settlements", EXAMPLE_DAY) == 0
    job = counter.job(BLUE_THROW)
    back = ReturnedRequest(job.id, "card", fee_cents=15_00)
    assert counter.moved(lambda: returned_payment.perform(counter.books, back)) == {
        "cash income": -77_52,
        "card fees": 15_00,
    }
    assert balance(counter.books, "card_settlements", EXAMPLE_DAY) == -97_83


def test_a_deposit_above_the_total(counter: Counter) -> None:
    job = counter.job(BLUE_THROW)
    assert counter.moved(lambda: deposit(counter.books, job, "100.00")) == {"cash income": 100_00}
    request = PickupRequest(job.id, (), deposit_back="check")
    # of the deposit, 82.83 pays for the job, its tax too, and 17.17 goes back
    assert counter.moved(lambda: pick_up.perform(counter.books, request)) == {
        **PICKED_UP,
        "cash income": 77_52 - 100_00,
    }


def test_storage_added_to_a_piece_that_was_left(counter: Counter) -> None:
    job = counter.job("Tumbling blocks, throw, nobody has come for it")
    # 56.70 + 18.72 + 12.00 of storage, and 6.00 more today; tax on 93.42 is 6.3993
    lines = add_work.AddWorkRequest(job.id, (WantedLine("Storage, by the month", Decimal(1)),))
    assert counter.moved(lambda: add_work.perform(counter.books, lines)) == {}
    assert counter.moved(lambda: picked_up(counter.books, job, "cash")) == {
        "job income": 93_42,
        "cash income": 93_42,
        "gross": 93_42,
        "taxable": 93_42,
        "collected": 6_40,
    }


def test_a_wrong_tax_put_right(counter: Counter) -> None:
    job = counter.blue_throw("check")
    answer(counter.books, "goods", taxed=False, from_day=EXAMPLE_DAY)
    request = RetaxRequest(job.id, "batting is not taxed", "check")
    # tax on 58.32 is 3.9949
    assert counter.moved(lambda: retax.perform(counter.books, request)) == {
        "taxable": -19_20,
        "not taxed": 19_20,
        "collected": -1_32,
    }
