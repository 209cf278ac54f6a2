"""A receipt and a passage between the purses, worked out without any books: the parts are the whole, whoever paid."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.books.accounts import Account, Accounts
from ledger.books.chart import BEGINNING_ACCOUNTS
from ledger.books.drafts import Posting
from ledger.errors import NotPossible
from ledger.spending.spend import PAYING_ROLES, Crossing, Receipt, settle
from ledger.spending.transfers import MONEY_ROLES, Transfer, settle_draw, settle_move, settle_pay_back, settle_put_in

ACCOUNTS = Accounts(
    Account(number, each.name, each.role, each.purse, each.kind, each.crosses)
    for number, each in enumerate(BEGINNING_ACCOUNTS, start=1)
)
TODAY = date(2026, 1, 5)
BUSINESS = sorted(role for role in PAYING_ROLES if ACCOUNTS[role].purse == "business")
PERSONAL = sorted(PAYING_ROLES - set(BUSINESS))

wholes = st.integers(1, 10**9)
parts = st.integers(0, 100)


def receipt(amount: int, paid_from: str, home: int = 0, owed: bool = False) -> Receipt:
    return Receipt(amount, ACCOUNTS["thread"], ACCOUNTS[paid_from], "Corner shop", home, owed)


def of(postings: Sequence[Posting], role: str) -> int:
    return sum(each.cents for each in postings if each.account.role == role)


def check_balance(postings: Sequence[Posting]) -> None:
    for purse in ("business", "personal"):
        assert sum(each.cents for each in postings if each.account.purse == purse) == 0
    assert sum(each.cents for each in postings if each.account.crosses) == 0
    assert all(each.cents for each in postings)


@given(wholes, parts, st.sampled_from(sorted(PAYING_ROLES)), st.booleans())
def test_the_two_parts_of_a_receipt_are_the_whole_and_what_crosses_is_the_part_of_the_other_purse(
    amount: int, percent: int, paid_from: str, owed: bool
) -> None:
    home = amount * percent // 100
    spent = settle(receipt(amount, paid_from, home, owed and paid_from in PERSONAL), ACCOUNTS, TODAY)
    postings = spent.draft.postings
    check_balance(postings)
    assert spent.business_cents + spent.personal_cents == amount
    assert of(postings, paid_from) == -amount
    assert of(postings, "thread") == spent.business_cents == amount - home
    assert of(postings, "household_spending") == spent.personal_cents == home
    crossed = home if paid_from in BUSINESS else amount - home
    assert (spent.crossing.cents if spent.crossing else 0) == crossed == abs(of(postings, "workshop_mirror"))


@pytest.mark.parametrize(
    ("paid_from", "home", "owed", "crossing"),
    [
        ("checking", 0, False, None),
        ("checking", 30_00, False, Crossing("draw", 30_00)),
        ("workshop_card", 80_00, False, Crossing("draw", 80_00)),
        ("personal_card", 0, False, Crossing("contribution", 80_00)),
        ("personal_card", 30_00, False, Crossing("contribution", 50_00)),
        ("household_checking", 30_00, True, Crossing("owed to owner", 50_00)),
        ("household_checking", 80_00, False, None),
        ("household_checking", 80_00, True, None),
    ],
)
def test_what_passes_between_the_purses_is_named(
    paid_from: str, home: int, owed: bool, crossing: Crossing | None
) -> None:
    assert settle(receipt(80_00, paid_from, home, owed), ACCOUNTS, TODAY).crossing == crossing


@pytest.mark.parametrize("role", sorted({each.role for each in ACCOUNTS.all if each.role} - PAYING_ROLES))
def test_nothing_is_paid_from_an_account_that_holds_no_money(role: str) -> None:
    with pytest.raises(NotPossible) as refused:
        settle(receipt(80_00, role), ACCOUNTS, TODAY)
    assert refused.value.field == "from"


@pytest.mark.parametrize("role", ["machine", "owners_draws", "household_spending", "job_income", "customer_deposits"])
def test_a_receipt_goes_to_an_expense_of_the_workshop(role: str) -> None:
    with pytest.raises(NotPossible) as refused:
        settle(Receipt(80_00, ACCOUNTS[role], ACCOUNTS["checking"], "Corner shop"), ACCOUNTS, TODAY)
    assert refused.value.field == "category"


@pytest.mark.parametrize("settle_act", [settle_draw, settle_put_in, settle_pay_back])
@given(amount=wholes, source=st.sampled_from(sorted(MONEY_ROLES)), target=st.sampled_from(sorted(MONEY_ROLES)))
def test_a_passage_between_the_purses_goes_its_own_way_alone_and_balances(
    settle_act: Any, amount: int, source: str, target: str
) -> None:
    out_of, into = ("personal", "business") if settle_act is settle_put_in else ("business", "personal")
    transfer = Transfer(amount, ACCOUNTS[source], ACCOUNTS[target])
    if (ACCOUNTS[source].purse, ACCOUNTS[target].purse) != (out_of, into):
        with pytest.raises(NotPossible):
            settle_act(transfer, ACCOUNTS, TODAY)
        return
    postings = settle_act(transfer, ACCOUNTS, TODAY).postings
    check_balance(postings)
    assert (of(postings, source), of(postings, target)) == (-amount, amount)


@given(amount=wholes, source=st.sampled_from(sorted(MONEY_ROLES)), target=st.sampled_from(sorted(MONEY_ROLES)))
def test_a_move_stays_within_its_purse_and_crosses_nothing(amount: int, source: str, target: str) -> None:
    transfer = Transfer(amount, ACCOUNTS[source], ACCOUNTS[target])
    if source == target or ACCOUNTS[source].purse != ACCOUNTS[target].purse:
        with pytest.raises(NotPossible):
            settle_move(transfer, TODAY)
        return
    postings = settle_move(transfer, TODAY).postings
    check_balance(postings)
    assert len(postings) == 2
    assert not any(each.account.crosses for each in postings)
