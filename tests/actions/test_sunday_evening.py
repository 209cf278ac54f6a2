"""Receipts split in every way, shared bills, and what passed between the purses."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.actions import share_bill, spend, transfer
from ledger.books.accounts import Account, Accounts
from ledger.books.books import Books
from ledger.books.chart import BEGINNING_ACCOUNTS
from ledger.books.prove import prove
from ledger.errors import NotPossible
from ledger.spending.bill_records import bill_named
from ledger.spending.bills import workshop_part
from ledger.spending.crossings import Passage, read_crossings, settle_owed
from ledger.spending.spend import Part, Receipt, settle
from tests.workshop import (
    begin,
    crossing_sum,
    lines_of,
    on_day,
    purse_sums,
    reversed_entry,
    spent,
    transferred,
    written,
)

TENTH, FIFTEENTH = date(2026, 1, 10), date(2026, 1, 15)
CHART = Accounts(
    Account(number, each.name, each.role, each.purse, each.kind, each.crosses)
    for number, each in enumerate(BEGINNING_ACCOUNTS, start=1)
)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books", opening_cents=1_000_00)
    yield opened
    assert purse_sums(opened) == {"business": 0, "personal": 0}
    assert crossing_sum(opened) == 0
    assert prove(opened).ok
    opened.close()


def receipt(books: Books, cents: int, **more: Any) -> int:
    request = spend.SpendRequest(
        cents, more.pop("category", "thread"), more.pop("paid_from", "checking"), "Mill", **more
    )
    return spend.perform(books, request)[1].number


def shared(books: Books, *, of_the_home: bool = False, percent: str = "25", start: date = date(2026, 1, 1)) -> None:
    request = share_bill.BillRequest(
        name="the bill",
        category="phone and internet",
        percent=Decimal(percent),
        reason="hours",
        from_date=start,
        of_the_home=of_the_home,
        every="month",
    )
    share_bill.perform(books, request)


# Receipts


def test_a_receipt_goes_to_several_categories_and_the_first_has_the_rest(books: Books) -> None:
    entry = receipt(books, 100_00, also=(("batting", 40_00),), home_cents=10_00)
    assert lines_of(books, entry) == written(
        "thread +50.00", "batting +40.00", "owner's draws +10.00", "checking -100.00"
    )


def test_a_receipts_tax_is_spread_over_all_of_its_parts_in_proportion(books: Books) -> None:
    entry = receipt(books, 106_00, also=(("batting", 40_00),), home_cents=20_00, tax_cents=6_00)
    assert lines_of(books, entry) == written(
        "thread +42.40", "batting +42.40", "owner's draws +21.20", "checking -106.00"
    )
    assert lines_of(books, entry, "personal") == written("household spending +21.20", "workshop mirror -21.20")


def test_a_suppliers_refund_is_the_receipt_turned(books: Books) -> None:
    entry = receipt(books, 12_00, category="batting", paid_from="workshop card", is_back=True)
    assert lines_of(books, entry) == written("batting -12.00", "workshop card +12.00")


def test_workshop_goods_given_back_to_the_household_are_a_draw(books: Books) -> None:
    request = spend.SpendRequest(20_00, "thread", "personal card", "Mill", is_back=True)
    done, sealed = spend.perform(books, request)
    assert done.crossing is not None
    assert (done.crossing.kind, done.crossing.cents) == ("draw", 20_00)
    assert lines_of(books, sealed.number) == written("thread -20.00", "owner's draws +20.00")


def test_her_standing_choice_makes_what_the_household_pays_owed_and_a_receipt_can_say_otherwise(books: Books) -> None:
    spend.choose_what_household_pays(books, spend.OWED_BACK)
    owed = receipt(books, 20_00, paid_from="personal card")
    given_in = receipt(books, 5_00, paid_from="personal card", owed=False)
    by_workshop = receipt(books, 7_00)
    assert lines_of(books, owed) == written("thread +20.00", "owed to owner -20.00")
    assert lines_of(books, given_in) == written("thread +5.00", "owner's contributions -5.00")
    assert lines_of(books, by_workshop) == written("thread +7.00", "checking -7.00")


def test_parts_above_the_receipt_are_refused(books: Books) -> None:
    with pytest.raises(NotPossible, match="more than the receipt"):
        receipt(books, 10_00, also=(("batting", 8_00),), home_cents=3_00)


amounts = st.integers(min_value=1, max_value=10**9)
shares = st.lists(st.integers(min_value=0, max_value=10**6), min_size=4, max_size=4)


@given(shares, st.sampled_from(["checking", "personal_card"]), st.booleans(), st.booleans())
def test_the_parts_of_any_receipt_add_to_it_and_every_purse_stays_at_zero(
    parts: list[int], paid_from: str, owed: bool, is_back: bool
) -> None:
    thread, batting, home, tax = parts
    total = sum(parts)
    if not total:
        return
    done = settle(
        Receipt(
            amount_cents=total,
            category=CHART["thread"],
            paid_from=CHART[paid_from],
            who="Mill",
            home_cents=home,
            owed=owed and paid_from == "personal_card",
            also=(Part(CHART["batting"], batting),),
            tax_cents=tax,
            is_back=is_back,
        ),
        CHART,
        TENTH,
    )
    assert done.business_cents + done.personal_cents == total
    assert sum(each.cents for each in done.parts) == done.business_cents
    for purse in ("business", "personal"):
        assert sum(each.cents for each in done.draft.postings if each.account.purse == purse) == 0
    assert sum(each.cents for each in done.draft.postings if each.account.crosses) == 0


# Shared bills


def test_a_bill_that_the_household_paid_books_its_share_as_a_contribution(books: Books) -> None:
    """postings.md, row 23."""
    shared(books)
    _, sealed = share_bill.perform_payment(
        books, share_bill.BillPaymentRequest("the bill", 80_00, "household checking")
    )
    assert lines_of(books, sealed.number) == written("phone and internet +20.00", "owner's contributions -20.00")
    assert lines_of(books, sealed.number, "personal") == written(
        "workshop mirror +20.00", "household spending +60.00", "household checking -80.00"
    )


def test_a_bill_that_the_workshop_paid_books_the_rest_as_a_draw(books: Books) -> None:
    """postings.md, row 24."""
    shared(books)
    _, sealed = share_bill.perform_payment(books, share_bill.BillPaymentRequest("the bill", 80_00, "checking"))
    assert lines_of(books, sealed.number) == written(
        "phone and internet +20.00", "owner's draws +60.00", "checking -80.00"
    )


def test_a_bill_of_the_home_is_home_cost_whatever_category_was_named(books: Books) -> None:
    shared(books, of_the_home=True)
    _, sealed = share_bill.perform_payment(books, share_bill.BillPaymentRequest("the bill", 80_00, "checking"))
    assert ("home cost", 20_00) in lines_of(books, sealed.number)


def test_home_cost_takes_no_bill_that_is_not_of_the_home(books: Books) -> None:
    request = share_bill.BillRequest("x", "home cost", Decimal(10), "floor", TENTH)
    with pytest.raises(NotPossible, match="bills of the home"):
        share_bill.perform(books, request)


def test_the_share_of_the_day_holds(books: Books) -> None:
    shared(books, percent="25")
    shared(books, percent="40", start=FIFTEENTH)
    bill = bill_named(books, "The  BILL")
    assert [bill.share_on(day).percent for day in (TENTH, FIFTEENTH)] == [25, 40]  # type: ignore[union-attr]
    assert bill.share_on(date(2025, 12, 31)) is None


def test_a_bill_comes_again_a_month_after_it_was_paid_and_books_nothing_by_itself(books: Books) -> None:
    shared(books)
    entries_before = prove(books).entries
    assert bill_named(books, "the bill").next_due == books.today
    share_bill.perform_payment(on_day(books, TENTH), share_bill.BillPaymentRequest("the bill", 80_00, "checking"))
    later = on_day(books, date(2026, 6, 30))
    assert bill_named(later, "the bill").next_due == date(2026, 2, 10)
    assert prove(later).entries == entries_before + 1


def test_a_payment_that_was_undone_leaves_the_bill_due(books: Books) -> None:
    shared(books)
    _, sealed = share_bill.perform_payment(books, share_bill.BillPaymentRequest("the bill", 80_00, "checking"))
    reversed_entry(books, sealed.number)
    assert bill_named(books, "the bill").last_paid is None


@given(amounts, st.decimals(min_value=0, max_value=100, places=3))
def test_a_share_and_its_rest_add_to_the_bill(cents: int, percent: Decimal) -> None:
    part = workshop_part(cents, percent)
    assert 0 <= part <= cents
    assert abs(part - cents * percent / 100) <= Decimal("0.5")


# Crossings


def test_crossings_tell_each_passage_and_what_is_not_settled(books: Books) -> None:
    spent(books, "80.00", "thread", "workshop card", home="30.00")
    spent(books, "50.00", "thread", "personal card", home="30.00")
    first = receipt(books, 20_00, paid_from="personal card", owed=True)
    second = receipt(books, 8_00, paid_from="personal card", owed=True)
    transfer.perform(
        on_day(books, TENTH),
        transfer.TransferRequest("pay-back", 20_00, "checking", "household checking"),
    )
    found = read_crossings(books, date(2026, 1, 1), TENTH)
    kinds = [(each.kind, each.cents, each.settled) for each in found.items]
    assert kinds == [
        ("draw", 30_00, True),
        ("contribution", 20_00, True),
        ("owed to owner", 20_00, True),
        ("owed to owner", 8_00, False),
        ("paid back", 20_00, True),
    ]
    assert (found.contributed_cents, found.drawn_cents, found.owed_to_owner_cents) == (20_00, 30_00, 8_00)
    assert [each.entry for each in found.items[2:4]] == [first, second]


def test_a_corrected_passage_is_left_out_with_its_correction(books: Books) -> None:
    wrong = transferred(books, "draw", "30.00", "checking", "household checking")
    reversed_entry(books, wrong)
    found = read_crossings(books, date(2026, 1, 1), TENTH)
    assert found.items == ()
    assert found.sentence == "Nothing passed between the purses."


@given(st.lists(st.tuples(st.booleans(), st.integers(min_value=1, max_value=1000)), max_size=12))
def test_what_is_not_settled_is_at_most_what_is_owed_and_the_oldest_is_settled_first(
    passages: list[tuple[bool, int]],
) -> None:
    told = [
        Passage(number, TENTH, "owed to owner" if is_owed else "paid back", cents, "why")
        for number, (is_owed, cents) in enumerate(passages)
    ]
    owed = [each for each in settle_owed(told) if each.kind == "owed to owner"]
    paid = sum(each.cents for each in told if each.kind == "paid back")
    settled = [each.settled for each in owed]
    assert settled == sorted(settled, reverse=True)
    assert sum(each.cents for each in owed if each.settled) <= paid
