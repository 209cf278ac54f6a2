"""How far the machine is from being paid off, worked out on plain figures."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from ledger.machine.forecast import Month, months_on
from ledger.machine.payback import Earnings, Lately, Payback, Subtraction, earnings, payback

TODAY = date(2026, 5, 10)


def standing(cost: int, earned: int, recent: int = 0, jobs: int = 0, days: int = 90, taken_in: int = 0) -> Payback:
    spent = earnings(taken_in, [("thread", taken_in - earned)])
    return payback(cost, spent, Lately(recent, jobs, days), [], TODAY)


@pytest.mark.parametrize(
    ("cost", "earned", "share", "left"),
    [
        (18_500_00, 1_850_00, "10.00", 16_650_00),
        (18_500_00, 0, "0.00", 18_500_00),
        (18_500_00, -925_00, "-5.00", 19_425_00),
        (18_500_00, 18_500_00, "100.00", 0),
        (18_500_00, 20_000_00, "108.11", 0),
        (3, 1, "33.33", 2),
        (80_00, 1, "0.01", 79_99),  # 0.0125
        (0, 100_00, None, 0),
    ],
)
def test_share_and_what_is_left(cost: int, earned: int, share: str | None, left: int) -> None:
    found = standing(cost, earned)
    assert found.share_percent == (Decimal(share) if share is not None else None)
    assert found.left_cents == left


@pytest.mark.parametrize(
    ("left", "recent", "jobs", "jobs_left"),
    [
        (1_000_00, 500_00, 5, 10),
        (1_000_01, 500_00, 5, 11),  # a part of a job is a job
        (1_000_00, 300_00, 1, 4),
        (1_000_00, 0, 5, None),  # jobs that leave nothing
        (1_000_00, -20_00, 5, None),
        (1_000_00, 500_00, 0, None),
        (1_000_00, 500_00, -1, None),  # more was undone than picked up
        (0, 500_00, 5, 0),
        (0, 0, 0, 0),
    ],
)
def test_jobs_left_at_the_recent_average(left: int, recent: int, jobs: int, jobs_left: int | None) -> None:
    assert standing(2_000_00, 2_000_00 - left, recent, jobs).jobs_left == jobs_left


def test_taken_in_and_earned_are_two_measures_and_neither_moves_the_other() -> None:
    found = standing(1_000_00, 200_00, taken_in=900_00)
    assert (found.taken_in_cents, found.earned_cents, found.left_cents) == (900_00, 200_00, 800_00)


def test_each_subtraction_is_shown_the_largest_first_and_nothing_is_none() -> None:
    found = earnings(900_00, [("thread", 20_00), ("advertising", 0), ("batting", 50_00), ("card fees", -3_00)])
    assert found == Earnings(
        900_00, (Subtraction("batting", 50_00), Subtraction("thread", 20_00), Subtraction("card fees", -3_00))
    )
    assert found.earned_cents == 833_00
    assert payback(1, found, Lately(0, 0, 0), [], TODAY).subtractions == found.subtractions


@pytest.mark.parametrize(
    ("left", "recent", "days", "week"),
    [
        (900_00, 900_00, 90, date(2026, 8, 3)),  # 90 days on is Saturday, 8 August
        (900_00, 450_00, 45, date(2026, 8, 3)),
        (1_00, 900_00, 90, date(2026, 5, 11)),  # part of a day is a day: 10 May 2026 is a Sunday
        (900_00, 900_00, 27, None),  # under four weeks of record
        (900_00, 0, 90, None),
        (900_00, -5_00, 90, None),
        (0, 900_00, 90, None),
        (100_000_000_00, 1, 90, None),  # beyond any machine's life
    ],
)
def test_the_week_in_which_it_is_done_at_the_pace_of_late(left: int, recent: int, days: int, week: date | None) -> None:
    assert standing(left, 0, recent, 5, days).done_in_week == week


def test_the_pace_is_that_of_a_month_on_average() -> None:
    assert standing(5_000_00, 0, 900_00, 9).pace_cents == 304_38  # 900 x 365.25 / 12 / 90 = 304.375
    assert standing(5_000_00, 0, 900_00, 9, 27).pace_cents is None


def test_where_it_is_never_done_the_pace_that_would_do_it_in_five_years_is_told() -> None:
    losing = [Month(months_on(date(2026, 1, 1), at), -100_00 + at) for at in range(4)]
    found = payback(6_000_01, Earnings(0), Lately(-300_00, 2, 90), losing, TODAY)
    assert (found.forecast.middle, found.forecast.too_early, found.would_do_cents) == (None, False, 100_01)
    assert standing(6_000_00, 0, 900_00, 9).would_do_cents is None, "too early to say that it is never done"


def test_a_machine_sold_for_more_than_it_cost_has_no_share_and_nothing_left() -> None:
    found = standing(-50_00, 10_00, taken_in=10_00)
    assert (found.share_percent, found.left_cents, found.jobs_left) == (None, 0, 0)
