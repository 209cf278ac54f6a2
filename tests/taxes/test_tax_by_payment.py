"""Tax that belongs to the period of the payment, where her state told her so: spread in proportion, to the cent."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.actions import give_up, refund, returned_payment
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.jobs.refund import RefundRequest
from ledger.taxes.reported import ChargeKey, Reported, TaxKey, TaxSum, add_charges, add_taxes, by_payment, sum_of
from ledger.taxes.tax_payable import tax_payable_off_cents, unfiled_and_unpaid
from tests.taxes.filings import APRIL, QUARTER, file, pay_return, sheet_of, sold, told_basis
from tests.workshop import (
    FIRST_DAY,
    add_to_price_list,
    answer,
    balance_of,
    begin_taxed,
    choose_filing,
    deposit,
    job_for,
    on_day,
    pay,
    picked_up,
)

FEBRUARY, MAY = date(2026, 2, 3), date(2026, 5, 6)
NEXT = "2026-Q2"
WORK, DELIVERY = ChargeKey("work", "taxed"), ChargeKey("delivery", "not taxed")
STATE, COUNTY = TaxKey(1, "4.3"), TaxKey(2, "1.0")


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", opening_cents=5_000_00)
    choose_filing(opened, "quarterly", 25)
    told_basis(opened, "payment", FIRST_DAY)
    yield opened
    for day in (FEBRUARY, APRIL, MAY, date(2026, 12, 31)):
        assert tax_payable_off_cents(opened, day) == 0
    assert prove(opened).ok
    opened.close()


def test_what_is_not_paid_is_in_no_return_yet(books: Books) -> None:
    sold(books, "185.44", FEBRUARY, "owed")
    sheet = sheet_of(on_day(books, APRIL), QUARTER)
    assert (sheet.gross_cents, sheet.collected_cents) == (0, 0)
    found = unfiled_and_unpaid(books, APRIL)
    assert (found.unfiled_cents, found.unreported_cents) == (0, 9_83)


def test_a_payment_brings_its_part_of_the_tax(books: Books) -> None:
    """Of 145.27 owed, 135.44 charge and 9.83 tax, 100.00 pays 93.23 of the charge. The tax on that is reported with it,
    as that on the deposit was, so that each return has the tax of the charges it has, and none of it twice."""
    then = on_day(books, FEBRUARY)
    job = job_for(then, "185.44")
    deposit(then, job, "50.00")
    picked_up(then, job, "owed")
    sheet = sheet_of(then, QUARTER)
    assert sheet.gross_cents == 50_00  # the deposit was used, and counts wholly as charge
    assert (sheet.collected_cents, sheet.owed_cents) == (2_65, 2_65)
    pay(on_day(books, MAY), job, "100.00")
    sheet = sheet_of(on_day(books, MAY), NEXT)
    assert (sheet.gross_cents, sheet.taxable_cents, sheet.collected_cents) == (93_23, 93_23, 4_94)
    pay(on_day(books, MAY), job, "45.27")
    sheet = sheet_of(on_day(books, MAY), NEXT)
    assert (sheet.gross_cents, sheet.collected_cents, sheet.owed_cents) == (135_44, 7_18, 7_18)  # 9.83 in all
    assert balance_of(on_day(books, MAY), "licenses and taxes") == 0


def test_a_check_that_comes_back_takes_its_tax_back(books: Books) -> None:
    job = sold(books, "100.00", FEBRUARY, "check")
    returned_payment.perform(on_day(books, MAY), returned_payment.ReturnedRequest(job))
    assert sheet_of(on_day(books, APRIL), QUARTER).collected_cents == 5_30
    sheet = sheet_of(on_day(books, MAY), NEXT)
    assert (sheet.gross_cents, sheet.collected_cents) == (-100_00, -5_30)


def test_what_is_given_up_was_never_reported(books: Books) -> None:
    job = sold(books, "100.00", FEBRUARY, "cash=50.00", "owed")
    give_up.perform(on_day(books, MAY), give_up.GiveUpRequest(job, "moved away"))
    then = on_day(books, MAY)
    assert sheet_of(then, NEXT).collected_cents == 0
    paid = sheet_of(then, QUARTER)
    assert paid.gross_cents + paid.collected_cents == 50_00
    assert balance_of(then, "licenses and taxes") == 0
    assert -balance_of(then, "sales tax payable") == paid.collected_cents
    pay(then, job, "55.30")  # she pays after all
    after = sheet_of(then, NEXT)
    assert after.collected_cents == 5_30 - paid.collected_cents
    assert after.gross_cents == after.taxable_cents == 100_00 - paid.gross_cents
    assert after.deductions == ()


def test_what_was_reported_with_a_deposit_is_not_claimed_back_with_the_rest(books: Books) -> None:
    """Of 100.00 and 5.30 a deposit of 30.00 was paid, and 1.59 of the tax reported: the rest alone is taken back."""
    then = on_day(books, FEBRUARY)
    job = job_for(then, "100.00")
    deposit(then, job, "30.00")
    picked_up(then, job, "owed")
    file(books, APRIL)
    pay_return(books, APRIL)
    late = on_day(books, MAY)
    give_up.perform(late, give_up.GiveUpRequest(job.id, "moved away"))
    assert (balance_of(late, "sales tax payable"), balance_of(late, "licenses and taxes")) == (0, 1_59)
    pay(late, job.id, "75.30")  # she pays after all
    sheet = sheet_of(late, NEXT)
    assert (sheet.gross_cents, sheet.collected_cents, sheet.owed_cents) == (70_00, 3_71, 3_71)
    assert (balance_of(late, "sales tax payable"), balance_of(late, "licenses and taxes")) == (-3_71, 0)


def test_a_refund_off_what_is_owed_reports_nothing(books: Books) -> None:
    job = sold(books, "100.00", FEBRUARY, "owed")
    refund.perform(on_day(books, MAY), RefundRequest(job, how="owed"))
    sheet = sheet_of(on_day(books, MAY), NEXT)
    assert (sheet.taxable_cents, sheet.collected_cents) == (0, 0)


def test_a_sale_keeps_what_held_on_its_day(books: Books) -> None:
    early = sold(books, "100.00", FEBRUARY, "owed")
    told_basis(books, "sale", date(2026, 4, 1))
    sold(books, "60.00", MAY, "owed")
    pay(on_day(books, MAY), early, "105.30")
    assert sheet_of(on_day(books, MAY), NEXT).collected_cents == 5_30 + 3_18


def test_it_is_filed_and_paid_like_any_other(books: Books) -> None:
    job = sold(books, "185.44", FEBRUARY, "owed")
    pay(on_day(books, FEBRUARY), job, "100.00")
    file(books, APRIL)
    pay_return(books, APRIL)
    pay(on_day(books, MAY), job, "95.27")
    file(books, date(2026, 7, 3), NEXT)
    pay_return(books, date(2026, 7, 3), NEXT)
    assert balance_of(on_day(books, date(2026, 7, 3)), "sales tax payable") == 0


def test_classes_share_a_payment_in_proportion(books: Books) -> None:
    answer(books, "delivery", False)
    then = on_day(books, FEBRUARY)
    add_to_price_list(then, "Quilting", "flat", "80.00")
    add_to_price_list(then, "Postage", "flat", "20.00", "delivery")
    job = job_for(then, lines=["Quilting", "Postage"])
    picked_up(then, job, "cash=52.12", "owed")  # half of 104.24
    sheet = sheet_of(then, QUARTER)
    assert (sheet.gross_cents, sheet.taxable_cents, sheet.collected_cents) == (50_00, 40_00, 2_12)
    assert [(each.reason, each.cents) for each in sheet.exempt] == [("not taxed", 10_00)]


steps = st.lists(st.integers(0, 100), max_size=6)


@settings(deadline=None, derandomize=True, max_examples=200)
@given(st.integers(1, 50_000), st.integers(0, 50_000), steps)
def test_however_a_sale_is_paid_its_parts_add_up_to_it(taxed: int, untaxed: int, percents: list[int]) -> None:
    """Any split of a sale over payments, and so over periods, reports the same charges and the same tax in the end."""
    tax = {STATE: TaxSum(taxed, taxed * 43 // 1000), COUNTY: TaxSum(taxed, taxed // 100)}
    charges = {WORK: taxed, DELIVERY: untaxed}
    all_tax = sum(each.tax_cents for each in tax.values())
    entries = [Reported(1, "sale", charges, tax, taxed + untaxed)]
    left = taxed + untaxed
    for number, percent in enumerate((*percents, 100), start=2):
        paid = left * percent // 100
        entries.append(Reported(number, "sale", {}, {}, -paid))
        left -= paid
    told = by_payment(entries)
    assert add_charges(*(each.charges for each in told)) == add_charges(charges)
    assert add_taxes(*(each.taxes for each in told)) == add_taxes(tax)
    for each, booked in zip(told, entries, strict=True):
        assert sum(each.charges.values()) == sum(booked.charges.values()) - booked.owed_charge_cents
    reported = reported_tax = 0
    for each in told:
        reported, reported_tax = reported + sum_of(each.charges, "taxed"), reported_tax + each.tax_cents
        assert abs(reported_tax * taxed - all_tax * reported) <= taxed  # the tax of what is reported, to the cent
