"""How far the machine is from being paid off, worked out on plain figures."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.machine.payback import Forecast, Month, Payback, forecast, payback

TODAY = date(2026, 5, 10)


def months(*earned: int) -> list[Month]:
    """Whole months of record up to April 2026."""
    first = 2026 * 12 + 3 - len(earned) + 1
    return [Month(date((first + at) // 12, (first + at) % 12 + 1, 1), cents) for at, cents in enumerate(earned)]


def standing(cost: int, earned: int, recent: int = 0, jobs: int = 0, taken_in: int = 0) -> Payback:
    return payback(cost, taken_in, earned, recent, jobs, [], TODAY)


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


class TestForecast:
    def test_under_three_months_it_is_too_early_to_say(self) -> None:
        for record in ([], months(1_000_00), months(1_000_00, 1_000_00)):
            assert forecast(5_000_00, record, TODAY) == Forecast(None, None, None, too_early=True)

    def test_where_every_month_is_the_same_there_is_one_answer_and_the_running_month_counts(self) -> None:
        found = forecast(3_000_00, months(1_000_00, 1_000_00, 1_000_00), TODAY)
        july = date(2026, 7, 1)
        assert found == Forecast(july, july, july, too_early=False)

    def test_on_the_last_day_of_a_month_the_next_one_is_the_first_to_come(self) -> None:
        found = forecast(3_000_00, months(1_000_00, 1_000_00, 1_000_00), date(2026, 5, 31))
        assert found.middle == date(2026, 8, 1)

    def test_a_part_of_a_month_is_a_month(self) -> None:
        record = months(1_000_00, 1_000_00, 1_000_00)
        assert forecast(1, record, TODAY).middle == date(2026, 5, 1)
        assert forecast(1_000_01, record, TODAY).middle == date(2026, 6, 1)

    def test_at_a_loss_it_is_never_reached(self) -> None:
        assert forecast(5_000_00, months(-10_00, -20_00, 5_00), TODAY) == Forecast(None, None, None, too_early=False)
        assert forecast(5_000_00, months(0, 0, 0), TODAY) == Forecast(None, None, None, too_early=False)

    def test_what_only_good_luck_reaches_has_an_early_end_and_no_late_one(self) -> None:
        found = forecast(60_000_00, months(-900_00, 0, 1_000_00), TODAY)
        assert found.late is None
        assert found.too_early is False

    def test_the_range_is_that_of_months_drawn_again_and_again(self) -> None:
        # One month in three brings all: within n months in 1 - (2/3)^n of the cases, 33, 56, 70, 80, 87, 91 %.
        found = forecast(1_000_00, months(0, 0, 1_000_00), TODAY)
        assert (found.early, found.middle, found.late) == (date(2026, 5, 1), date(2026, 6, 1), date(2026, 10, 1))

    def test_the_same_record_gives_the_same_answer(self) -> None:
        record = months(120_00, 1_480_00, -300_00, 777_00, 950_00)
        assert forecast(18_500_00, record, TODAY) == forecast(18_500_00, record, TODAY)

    def test_a_machine_that_is_paid_off_is_so_this_month_however_short_the_record(self) -> None:
        this_month = date(2026, 5, 1)
        for record in ([], months(1_000_00), months(-1, -1, -1)):
            assert forecast(0, record, TODAY) == Forecast(this_month, this_month, this_month, too_early=False)

    @settings(max_examples=10)
    @given(
        st.integers(0, 1_000_000),
        st.lists(st.integers(-50_000, 300_000), min_size=3, max_size=12),
        st.dates(date(2026, 1, 1), date(2030, 12, 31)),
    )
    def test_early_comes_before_middle_and_middle_before_late(self, left: int, earned: list[int], today: date) -> None:
        found = forecast(left, [Month(date(2026, 1, 1), each) for each in earned], today)
        ends = [found.early, found.middle, found.late]
        assert ends == sorted(ends, key=lambda day: day or date.max)
        assert all(day is None or (day.day == 1 and day >= today.replace(day=1)) for day in ends)
