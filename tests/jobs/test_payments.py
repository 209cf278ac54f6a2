"""How a customer pays: the parts are the whole, the change is what was handed over too much, the fee is taken once."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.books.accounts import Account, Accounts
from ledger.books.chart import BEGINNING_ACCOUNTS
from ledger.errors import NotPossible, NotUnderstood, Refused
from ledger.jobs.payments import WAYS, Paid, PaidPart, money_in, split_payment, take_payment
from ledger.money import Currency

USD = Currency("USD", 2)
ACCOUNTS = Accounts(
    Account(number, each.name, each.role, each.purse, each.kind, each.crosses)
    for number, each in enumerate(BEGINNING_ACCOUNTS, start=1)
)
DUE = 145_27


def take(due: int, *parts: tuple[str, int | None], **more: int | str | None) -> Paid:
    return take_payment(due, [PaidPart(how, cents) for how, cents in parts], USD, **more)  # type: ignore[arg-type]


def went_to(paid: Paid) -> dict[str, int]:
    sums: dict[str, int] = {}
    for each in money_in(ACCOUNTS, paid.payments):
        sums[each.account.name] = sums.get(each.account.name, 0) + each.cents
    return sums


@pytest.mark.parametrize(
    ("how", "account"),
    [("cash", "cash box"), ("check", "checking"), ("transfer", "checking"), ("card", "card settlements")],
)
def test_each_way_of_paying_goes_to_its_account(how: str, account: str) -> None:
    assert went_to(take(DUE, (how, None))) == {account: DUE}


def test_several_ways_at_once_each_go_to_their_account_and_one_takes_the_rest() -> None:
    paid = take(DUE, ("card", 40_00), ("check", 60_00), ("cash", None))
    assert went_to(paid) == {"card settlements": 40_00, "checking": 60_00, "cash box": 45_27}
    assert (paid.cents, paid.owed_cents) == (DUE, 0)


def test_what_is_left_owed_goes_nowhere() -> None:
    paid = take(DUE, ("check", 100_00), ("owed", None))
    assert (went_to(paid), paid.owed_cents) == ({"checking": 100_00}, 45_27)
    assert (take(DUE, ("owed", None)).payments, take(DUE, ("owed", None)).owed_cents) == ((), DUE)


def test_change_is_what_was_handed_over_beyond_the_cash_that_is_due() -> None:
    assert take(DUE, ("cash", None), tendered_cents=150_00).change_cents == 4_73
    assert take(DUE, ("cash", None), tendered_cents=DUE).change_cents == 0
    assert take(DUE, ("card", 100_00), ("cash", None), tendered_cents=50_00).change_cents == 4_73
    assert went_to(take(DUE, ("cash", None), tendered_cents=150_00)) == {"cash box": DUE}


def test_cash_below_what_is_due_is_refused_and_the_sentence_names_an_amount_that_works() -> None:
    with pytest.raises(NotPossible) as refused:
        take(DUE, ("cash", None), tendered_cents=100_00)
    assert refused.value.field == "tendered"
    assert "--amount 100.00" in refused.value.do
    assert take(DUE, ("cash", None), tendered_cents=100_00, now_cents=100_00).owed_cents == 45_27


def test_beside_another_way_the_amount_named_is_all_that_is_paid_now() -> None:
    with pytest.raises(NotPossible) as refused:
        take(DUE, ("card", 40_00), ("cash", None), tendered_cents=100_00)
    assert "--amount 140.00" in refused.value.do
    paid = take(DUE, ("card", 40_00), ("cash", None), tendered_cents=100_00, now_cents=140_00)
    assert (went_to(paid), paid.owed_cents) == ({"card settlements": 40_00, "cash box": 100_00}, 5_27)


def test_an_amount_paid_now_leaves_the_rest_owed() -> None:
    paid = take(DUE, ("check", None), now_cents=100_00)
    assert (went_to(paid), paid.owed_cents) == ({"checking": 100_00}, 45_27)
    assert take(DUE, ("check", None), now_cents=0).owed_cents == DUE


def test_a_card_fee_is_taken_off_what_arrives() -> None:
    paid = take(155_27, ("card", None), fee_cents=4_80)
    assert went_to(paid) == {"card settlements": 150_47, "card fees": 4_80}
    assert paid.cents == 155_27


def test_the_fee_of_two_cards_is_one_fee() -> None:
    paid = take(DUE, ("card", 100_00), ("card", None), fee_cents=4_80)
    assert went_to(paid) == {"card settlements": DUE - 4_80, "card fees": 4_80}
    assert [each.fee_cents for each in paid.payments] == [3_30, 1_50]


def test_a_number_belongs_to_checks_and_transfers() -> None:
    paid = take(DUE, ("cash", 10_00), ("card", 20_00), ("check", 30_00), ("transfer", None), reference="1204")
    assert [each.reference for each in paid.payments] == [None, None, "1204", "1204"]


def test_nothing_due_needs_no_payment_and_takes_none() -> None:
    assert take(0) == Paid((), 0, 0)
    assert take(0, ("cash", None)).payments == ()
    assert take(0, ("cash", None), tendered_cents=20_00).change_cents == 20_00


@pytest.mark.parametrize(
    ("parts", "more", "kind"),
    [
        ([], {}, NotUnderstood),  # no way of paying
        ([("cash", None), ("card", None)], {}, NotUnderstood),  # two without an amount
        ([("cash", 100_00)], {}, NotPossible),  # less than what is due
        ([("cash", 200_00)], {}, NotPossible),  # more than what is due
        ([("card", 100_00), ("check", 50_00)], {}, NotPossible),
        ([("cash", 200_00), ("card", None)], {}, NotPossible),
        ([("cash", None)], {"now_cents": 145_28}, NotPossible),
        ([("owed", None)], {"now_cents": 100_00}, NotUnderstood),
        ([("card", None)], {"tendered_cents": 200_00}, NotUnderstood),  # nothing is handed over by card
        ([("card", None)], {"fee_cents": 145_28}, NotPossible),
        ([("cash", None)], {"fee_cents": 1}, NotPossible),
        ([("owed", None)], {"fee_cents": 1}, NotPossible),
    ],
)
def test_what_does_not_add_up_is_refused(
    parts: list[tuple[str, int | None]], more: dict[str, int], kind: type[Refused]
) -> None:
    with pytest.raises(kind):
        take(DUE, *parts, **more)


fixed_parts = st.lists(st.tuples(st.sampled_from([*WAYS, "owed"]), st.integers(1, 10**7)), max_size=5)


@given(
    fixed_parts, st.sampled_from([*WAYS, "owed"]), st.integers(0, 10**7), st.integers(0, 10**6), st.integers(0, 10**6)
)
def test_whatever_is_taken_what_arrives_and_what_stays_owed_are_what_was_due(
    fixed: list[tuple[str, int]], rest: str, left: int, fee: int, more: int
) -> None:
    due = sum(cents for _, cents in fixed) + left
    shares = [*fixed, (rest, left)]
    cash, card = (sum(cents for how, cents in shares if how == kind) for kind in ("cash", "card"))
    fee = min(fee, card)
    tendered = cash + more if any(how == "cash" for how, _ in shares) else None
    paid = take(due, *fixed, (rest, None), fee_cents=fee, tendered_cents=tendered)
    arrived = went_to(paid)
    assert sum(arrived.values()) + paid.owed_cents == due
    assert arrived.get("card fees", 0) == fee
    assert arrived.get("cash box", 0) == cash
    assert arrived.get("card settlements", 0) == card - fee
    assert paid.owed_cents == sum(cents for how, cents in shares if how == "owed")
    assert paid.change_cents == (more if tendered is not None else 0)
    assert all(0 <= each.fee_cents <= each.cents for each in paid.payments)


@pytest.mark.parametrize(
    ("paid", "charge", "tax", "parts"),
    [
        (100_00, 135_44, 9_83, (93_23, 6_77)),
        (145_27, 135_44, 9_83, (135_44, 9_83)),
        (1, 135_44, 9_83, (1, 0)),
        (0, 135_44, 9_83, (0, 0)),
        (5, 0, 9_83, (0, 5)),
        (5, 5_00, 0, (5, 0)),
        (0, 0, 0, (0, 0)),
    ],
)
def test_a_part_payment_is_spread_over_charge_and_tax_as_they_are_owed(
    paid: int, charge: int, tax: int, parts: tuple[int, int]
) -> None:
    assert split_payment(paid, charge, tax) == parts


@given(st.integers(0, 10**8), st.integers(0, 10**7), st.lists(st.integers(1, 10**6), max_size=8))
def test_part_payments_never_take_more_than_is_owed_of_either_and_end_at_nothing(
    charge: int, tax: int, payments: list[int]
) -> None:
    for wanted in [*payments, charge + tax]:
        now = min(wanted, charge + tax)
        paid_charge, paid_tax = split_payment(now, charge, tax)
        assert paid_charge + paid_tax == now
        charge, tax = charge - paid_charge, tax - paid_tax
        assert charge >= 0
        assert tax >= 0
    assert (charge, tax) == (0, 0)
