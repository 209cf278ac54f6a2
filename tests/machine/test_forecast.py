"""When the machine is paid off, drawn from generated records; how often the range holds is for --bench to say."""

from __future__ import annotations

from datetime import date
from math import pi, sin
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.machine.forecast import (
    FARTHEST_MONTHS,
    Forecast,
    Month,
    fan,
    first_month_to_come,
    forecast,
    months_on,
    pace_that_would_do,
    whole_months,
)

TODAY = date(2026, 4, 30)


def months(*earned: int) -> list[Month]:
    """Whole months of record up to April 2026."""
    return [Month(months_on(date(2026, 4, 1), at - len(earned) + 1), cents) for at, cents in enumerate(earned)]


def seasonal(count: int, noise: int = 0) -> list[Month]:
    """Months up to April 2026 that bring 1,000 on average, 1,600 in April and 400 in October."""
    draw = Random(count)
    first = months_on(date(2026, 4, 1), 1 - count)
    days = [months_on(first, at) for at in range(count)]
    return [
        Month(day, round(1_000_00 + 600_00 * sin(day.month * pi / 6 - pi / 6) + draw.gauss(0, noise))) for day in days
    ]


class TestForecast:
    def test_under_three_months_it_is_too_early_to_say(self) -> None:
        for record in ([], months(1_000_00), months(1_000_00, 1_000_00)):
            assert forecast(5_000_00, record, TODAY) == Forecast(None, None, None, too_early=True)

    def test_where_every_month_is_the_same_there_is_one_answer(self) -> None:
        found = forecast(3_000_00, months(1_000_00, 1_000_00, 1_000_00), TODAY)
        july = date(2026, 7, 1)
        assert found == Forecast(july, july, july, too_early=False)

    def test_of_the_running_month_only_the_days_ahead_bring_something(self) -> None:
        record = months(1_000_00, 1_000_00, 1_000_00)
        # 21 of the 31 days of May are ahead: 677.42 of it.
        for left, reached in ((677_41, 5), (677_43, 6), (1_677_41, 6), (1_677_43, 7)):
            assert forecast(left, record, date(2026, 5, 10)).middle == date(2026, reached, 1)

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
        found = forecast(6_000_00, months(-900_00, 0, 1_000_00, 20_00), TODAY)
        assert found.early is not None
        assert (found.late, found.too_early) == (None, False)

    def test_what_lies_thirty_years_ahead_is_never_reached(self) -> None:
        record = months(*[1_000_00] * 3)
        last = months_on(date(2026, 5, 1), FARTHEST_MONTHS - 1)
        assert forecast(FARTHEST_MONTHS * 1_000_00, record, TODAY).middle == last
        assert forecast(FARTHEST_MONTHS * 1_000_00 + 1, record, TODAY).middle is None

    def test_the_fewer_months_there_are_the_wider_the_range(self) -> None:
        few, many = [], []
        for count, ends in ((4, few), (20, many)):
            found = forecast(20_000_00, months(*[800_00, 1_200_00] * (count // 2)), TODAY)
            assert found.early is not None
            assert found.late is not None
            ends.append((found.late - found.early).days)
        assert few > many

    def test_the_month_in_the_middle_is_the_one_that_the_mean_gives(self) -> None:
        assert forecast(10_000_00, months(*[800_00, 1_200_00] * 6), TODAY).middle == date(2027, 2, 1)

    @pytest.mark.parametrize(
        ("today", "reached"), [(date(2026, 4, 30), date(2026, 8, 1)), (date(2026, 9, 30), date(2027, 3, 1))]
    )
    def test_from_24_months_on_a_good_season_brings_more_than_a_poor_one(self, today: date, reached: date) -> None:
        # May to August bring 1519.6, 1300, 1000, 700; October to March 400, 480.4, 700, 1000, 1300, 1519.6.
        assert forecast(4_500_00, seasonal(24), today) == Forecast(reached, reached, reached, too_early=False)

    def test_under_24_months_every_month_may_bring_what_any_other_did(self) -> None:
        found = forecast(4_500_00, seasonal(23), TODAY)
        assert found.early != found.late

    def test_only_the_last_three_years_are_drawn_from(self) -> None:
        record = months(*[-500_00] * 30, *[1_000_00] * 36)
        assert forecast(3_000_00, record, TODAY) == forecast(3_000_00, record[30:], TODAY)

    def test_a_slow_spell_stays_whole_so_that_runs_of_bad_months_widen_the_range(self) -> None:
        spells = [1_300_00] * 6 + [700_00] * 6
        mixed = [1_300_00, 700_00] * 6
        width = []
        for first, second in ((spells, spells[::-1]), (mixed, mixed[::-1])):
            found = forecast(40_000_00, months(*first, *second), TODAY)
            assert found.early is not None
            assert found.late is not None
            width.append((found.late - found.early).days)
        assert width[0] > 1.5 * width[1], "drawn one by one, both are as wide"

    def test_the_same_record_gives_the_same_answer(self) -> None:
        record = months(120_00, 1_480_00, -300_00, 777_00, 950_00)
        assert forecast(18_500_00, record, TODAY) == forecast(18_500_00, record, TODAY)

    def test_a_machine_that_is_paid_off_is_so_this_month_however_short_the_record(self) -> None:
        this_month = date(2026, 4, 1)
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


class TestFan:
    def test_it_is_empty_under_three_months(self) -> None:
        assert fan(months(1, 2), TODAY, 12) == []

    def test_it_begins_with_the_month_to_come_and_opens(self) -> None:
        found = fan(months(*[800_00, 1_200_00] * 6), TODAY, 24)
        assert [each.first_day for each in found] == [months_on(date(2026, 5, 1), at) for at in range(24)]
        assert all(each.low_cents <= each.middle_cents <= each.high_cents for each in found)
        widths = [each.high_cents - each.low_cents for each in found]
        assert widths[0] < widths[5] < widths[23]

    def test_it_crosses_what_is_left_where_the_forecast_says(self) -> None:
        record, left = months(*[800_00, 1_200_00, 900_00] * 4), 9_000_00
        found, outlook = fan(record, TODAY, 24), forecast(left, record, TODAY)
        assert next(each.first_day for each in found if each.middle_cents >= left) == outlook.middle
        # A path that once reached it may fall below again, so the ends may lie a month apart.
        low = next(each.first_day for each in found if each.low_cents >= left)
        assert outlook.late in (low, months_on(low, -1))


@pytest.mark.parametrize(
    ("first_pickup", "first_whole"),
    [
        (date(2026, 1, 1), 1),
        (date(2026, 1, 7), 1),
        (date(2026, 1, 8), 2),
        (date(2026, 1, 31), 2),
        (date(2025, 12, 9), 1),
    ],
)
def test_a_first_month_begun_late_is_no_whole_month(first_pickup: date, first_whole: int) -> None:
    record = months(1, 2, 3, 4)
    assert whole_months(record, first_pickup)[0].first_day == date(2026, first_whole, 1)


def test_on_the_last_day_of_a_month_the_next_is_the_first_to_come() -> None:
    assert first_month_to_come(date(2026, 12, 30)) == date(2026, 12, 1)
    assert first_month_to_come(date(2026, 12, 31)) == date(2027, 1, 1)


def test_the_pace_that_would_do_it_pays_off_in_five_years() -> None:
    assert pace_that_would_do(60_00) == 1_00
    assert pace_that_would_do(60_01) == 1_01
