"""The schedule of a loan: interest half up each month, what happened on the way, and the last payment closing it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.errors import NotPossible
from ledger.machine.loan import Offer, Terms, check_terms, month_of_interest
from ledger.machine.schedule import Happened, Schedule, interest_due, payoff, schedule

TAKEN, FIRST = date(2026, 1, 5), date(2026, 2, 5)


def terms(cents: int = 10_000_00, percent: str = "8", months: int = 60, **more: object) -> Terms:
    return Terms(cents, Decimal(percent), months, TAKEN, FIRST, **more)  # type: ignore[arg-type]


def regular(loan: Terms, count: int) -> list[Happened]:
    """The first payments, each made on its day as the schedule has them."""
    return [Happened(row.day, "payment", row.payment_cents, row.interest_cents) for row in schedule(loan).rows[:count]]


def check_sound(found: Schedule, cents: int) -> None:
    assert sum(row.principal_cents for row in found.rows) == cents
    assert all(row.payment_cents == row.interest_cents + row.principal_cents for row in found.rows)
    assert all(row.balance_cents >= 0 for row in found.rows)
    assert found.rows[-1].balance_cents == 0
    left = cents
    for row in found.rows:
        left -= row.principal_cents
        assert row.balance_cents == left


def test_payments_fall_on_the_day_of_the_first_or_on_the_last_of_a_shorter_month() -> None:
    loan = Terms(100_00, Decimal(0), 4, date(2027, 11, 30), date(2027, 12, 31))
    assert [str(row.day) for row in schedule(loan).rows] == ["2027-12-31", "2028-01-31", "2028-02-29", "2028-03-31"]


def test_the_rate_of_zero_shares_the_loan_out_and_costs_nothing() -> None:
    found = schedule(terms(1_000_00, "0", 7))
    assert (found.payment_cents, found.last_payment_cents, found.interest_cents) == (142_86, 142_84, 0)
    assert len(found.rows) == 7


def test_what_was_paid_stands_as_the_lender_took_it_and_the_last_payment_takes_up_the_difference() -> None:
    loan = terms()
    found = schedule(loan, [Happened(FIRST, "payment", 202_76, 60_00)])
    assert (found.rows[0].interest_cents, found.rows[0].balance_cents) == (60_00, 9_857_24)
    assert found.rows[1].interest_cents == month_of_interest(9_857_24, Decimal(8))
    assert found.last_payment_cents < 203_08
    check_sound(found, loan.cents)


def test_an_extra_payment_is_principal_alone_and_ends_the_loan_sooner() -> None:
    loan = terms()
    found = schedule(loan, [*regular(loan, 2), Happened(date(2026, 3, 20), "extra", 1_000_00)])
    extra = found.rows[2]
    assert (extra.number, extra.interest_cents, extra.principal_cents) == (None, 0, 1_000_00)
    assert found.payment_cents == 202_76
    assert found.rows[3].interest_cents == month_of_interest(extra.balance_cents, Decimal(8))
    assert len([row for row in found.rows if row.number]) == 53
    check_sound(found, loan.cents)


def test_a_skipped_month_puts_one_more_at_the_end_and_its_interest_comes_with_the_next_payment() -> None:
    loan = terms()
    found = schedule(loan, [Happened(FIRST, "skipped")])
    assert (found.rows[0].what, found.rows[0].payment_cents, found.rows[0].balance_cents) == ("skipped", 0, 10_000_00)
    assert found.interest_owed_cents == 66_67
    assert (found.rows[1].interest_cents, found.rows[1].principal_cents) == (133_34, 69_42)
    assert found.rows[-1].number == 61
    check_sound(found, loan.cents)


def test_a_new_rate_counts_from_the_first_payment_after_its_day_and_sets_the_payment_anew() -> None:
    loan = terms()
    on_the_day = schedule(loan, [Happened(FIRST, "rate", percent=Decimal(6))])
    assert [row.interest_cents for row in on_the_day.rows[:2]] == [66_67, month_of_interest(9_863_91, Decimal(6))]
    before = schedule(loan, [Happened(date(2026, 2, 4), "rate", percent=Decimal(6))])
    assert before.rows[0].interest_cents == 50_00
    assert before.payment_cents == 193_33  # 10,000 over 60 months at 6 %
    assert before.rows[-1].number == 60
    check_sound(before, loan.cents)


def test_a_payment_below_the_interest_pays_interest_alone_and_the_rest_of_it_stays_owed() -> None:
    loan = terms()
    found = schedule(loan, [Happened(FIRST, "payment", 10_00, 10_00)])
    assert (found.balance_cents, found.interest_owed_cents) == (10_000_00, 56_67)
    assert interest_due(loan, [Happened(FIRST, "payment", 10_00, 10_00)], date(2026, 3, 5)) == 123_34
    check_sound(found, loan.cents)


def test_a_loan_that_was_paid_off_has_nothing_to_come() -> None:
    loan = terms(500_00, "8", 6)
    first = regular(loan, 1)
    left = schedule(loan, first).balance_cents
    found = schedule(loan, [*first, Happened(date(2026, 2, 20), "paid off", left + 1_50, 1_50)])
    assert found.to_come == ()
    assert (found.balance_cents, found.interest_owed_cents) == (0, 0)
    check_sound(found, loan.cents)


OFFER = Offer(Decimal(24), date(2026, 12, 31))


def test_a_zero_percent_offer_paid_in_time_costs_nothing() -> None:
    loan = terms(1_100_00, "0", 11, offer=OFFER)
    found = schedule(loan)
    assert (found.payment_cents, found.interest_cents, found.is_charged_back) == (100_00, 0, False)
    made = schedule(loan, regular(loan, 11), on=date(2027, 5, 1))
    assert (made.interest_cents, made.is_charged_back) == (0, False)


def test_a_zero_percent_offer_that_runs_over_its_end_is_charged_interest_from_the_beginning() -> None:
    """2 % a month on 1,200, 1,100, ... 200 left in the eleven months of the offer is 154.00, and 2.00 in the last."""
    found = schedule(terms(1_200_00, "0", 12, offer=OFFER))
    assert [row.interest_cents for row in found.rows[:11]] == [0] * 11
    assert found.rows[11].interest_cents == 156_00
    assert (found.charged_back_cents, found.is_charged_back) == (154_00, True)
    check_sound(found, 1_200_00)


def test_the_month_whose_payment_falls_on_the_last_day_of_an_offer_is_charged_back_too() -> None:
    """2 % of 1,200 and of 1,100 are charged back, and 2 % of 1,000 is the interest of the third month."""
    offer = Offer(Decimal(24), date(2026, 3, 5))
    found = schedule(terms(1_200_00, "0", 12, offer=offer))
    assert found.charged_back_cents == 24_00 + 22_00
    assert found.rows[2].interest_cents == 24_00 + 22_00 + 20_00


def test_an_offer_of_which_the_last_payment_is_late_is_charged_back() -> None:
    loan = terms(1_100_00, "0", 11, offer=OFFER)
    made = regular(loan, 10)
    assert not schedule(loan, made, on=OFFER.ends_on).is_charged_back
    late = schedule(loan, made, on=date(2027, 1, 1))
    assert late.is_charged_back
    # 2 % a month on 1,100, 1,000, ... 100.
    assert late.rows[-1].interest_cents == 132_00
    assert interest_due(loan, made, OFFER.ends_on) == 0
    assert interest_due(loan, made, date(2027, 1, 1)) == 132_00
    check_sound(late, 1_100_00)


def test_an_extra_payment_after_the_end_of_an_offer_does_not_undo_the_charge() -> None:
    loan = terms(1_100_00, "0", 11, offer=OFFER)
    found = schedule(loan, [*regular(loan, 10), Happened(date(2027, 1, 2), "extra", 100_00)])
    assert found.balance_cents == 0
    assert found.interest_owed_cents > 0
    assert found.rows[-1].interest_cents >= found.interest_owed_cents


def test_a_payoff_is_what_is_left_with_the_interest_of_the_days_gone_by() -> None:
    loan = terms()
    made = regular(loan, 1)
    on_due = payoff(loan, made, FIRST)
    assert (on_due.balance_cents, on_due.interest_cents) == (9_863_91, 0)
    # 14 of the 28 days to 5 March, of a month's 65.76.
    half = payoff(loan, made, date(2026, 2, 19))
    assert (half.interest_cents, half.total_cents) == (32_88, 9_896_79)
    assert payoff(loan, made, date(2026, 3, 5)).interest_cents == 65_76
    two_missed = payoff(loan, made, date(2026, 4, 5))
    assert two_missed.interest_cents == 2 * 65_76


def test_a_payoff_before_the_first_payment_counts_from_the_day_of_the_loan() -> None:
    assert payoff(terms(), [], TAKEN).total_cents == 10_000_00
    assert payoff(terms(), [], FIRST).total_cents == 10_066_67


def test_a_payoff_after_the_end_of_an_offer_has_the_interest_charged_back() -> None:
    loan = terms(1_200_00, "0", 12, offer=OFFER)
    made = regular(loan, 11)
    assert payoff(loan, made, OFFER.ends_on).total_cents == 100_00
    late = payoff(loan, made, date(2027, 1, 5))
    assert (late.charged_back_cents, late.total_cents) == (154_00, 100_00 + 154_00 + 2_00)


@pytest.mark.parametrize(
    ("loan", "field"),
    [
        (Terms(100_00, Decimal(8), 12, FIRST, TAKEN), "first"),
        (terms(1_00, "24", 600), "months"),  # two cents of interest a month, and a payment of two cents
        (terms(1, "0", 60), "months"),
        (terms(payment_cents=66_67), "payment"),
        (terms(months=0), "months"),
        (terms(months=601), "months"),
        (Terms(100_00, Decimal(8), 600, date(2190, 1, 1), date(2190, 2, 1)), "months"),
        (terms(percent="8", offer=OFFER), "percent"),
        (terms(percent="0", offer=Offer(Decimal(24), date(2026, 1, 4))), "paid_by"),
    ],
)
def test_terms_by_which_a_loan_is_never_repaid_are_refused(loan: Terms, field: str) -> None:
    with pytest.raises(NotPossible) as refused:
        check_terms(loan)
    assert refused.value.field == field


def test_a_payment_that_the_lender_set_stands_and_the_last_one_closes_the_loan() -> None:
    found = schedule(terms(payment_cents=200_00))
    assert found.rows[0].payment_cents == 200_00
    assert found.rows[-1].number == 60
    assert found.last_payment_cents > 400_00
    check_sound(found, 10_000_00)


amounts = st.integers(1, 5_000_000_00)
percents = st.decimals(Decimal(0), Decimal(40), places=3)


@settings(deadline=None, max_examples=150)
@given(amounts, percents, st.integers(1, 120), st.dates(date(2020, 1, 1), date(2060, 1, 1)))
def test_for_any_loan_principal_adds_to_it_and_no_balance_is_below_zero(
    cents: int, percent: Decimal, months: int, first: date
) -> None:
    loan = Terms(cents, percent, months, date(2020, 1, 1), first)
    try:
        check_terms(loan)
    except NotPossible:
        return
    found = schedule(loan)
    check_sound(found, cents)
    assert len(found.rows) <= months


steps = st.lists(
    st.tuples(
        st.sampled_from(["as due", "more", "interest alone", "extra", "skipped", "rate"]), st.integers(1, 1_000_00)
    ),
    max_size=30,
)


@settings(deadline=None, max_examples=150)
@given(st.integers(100_00, 50_000_00), percents, st.integers(2, 84), steps, st.booleans())
def test_whatever_happens_on_the_way_principal_adds_to_the_loan_and_no_balance_is_below_zero(
    cents: int, percent: Decimal, months: int, happens: list[tuple[str, int]], is_offer: bool
) -> None:
    offer = Offer(percent, date(2026, 9, 30)) if is_offer else None
    loan = Terms(cents, Decimal(0) if is_offer else percent, months, TAKEN, FIRST, offer=offer)
    try:
        check_terms(loan)
    except NotPossible:
        return
    happened: list[Happened] = []
    for step, amount in happens:
        now = schedule(loan, happened)
        check_sound(now, cents)
        if not now.to_come:
            break
        happened.append(event_of(loan, now, happened, step, amount))
    check_sound(schedule(loan, happened), cents)


def event_of(loan: Terms, now: Schedule, happened: list[Happened], step: str, amount: int) -> Happened:
    due = now.to_come[0]
    owed = interest_due(loan, happened, due.day)
    if step == "extra" and now.balance_cents:
        return Happened(due.day, "extra", min(amount, now.balance_cents))
    if step == "rate":
        return Happened(due.day, "rate", percent=Decimal(amount % 30))
    if step == "skipped":
        return Happened(due.day, "skipped")
    if step == "interest alone" and owed:
        return Happened(due.day, "payment", min(amount, owed), min(amount, owed))
    paid = min(due.payment_cents + (amount if step == "more" else 0), now.balance_cents + owed)
    return Happened(due.day, "payment", paid, min(owed, paid))
