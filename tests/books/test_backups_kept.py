"""Which backups are kept: the newest 7 days, the last of 5 weeks and of 12 months, and every year's last."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from ledger.books.backup import backups_to_drop

DAYS = st.lists(st.dates(date(2019, 12, 1), date(2027, 2, 1)), max_size=120)
RUNS = st.builds(
    lambda first, count, step: [first + timedelta(days=step * number) for number in range(count)],
    st.dates(date(2020, 1, 1), date(2026, 1, 1)),
    st.integers(0, 800),
    st.integers(1, 40),
)
SETS = DAYS | RUNS


def kept_of(days: list[date]) -> set[date]:
    return set(days) - backups_to_drop(days)


def last_days(days: list[date], form: str) -> list[date]:
    """The last of the days in each period that a form of strftime tells apart, newest first: a second reading."""
    last: dict[str, date] = {}
    for day in sorted(days):
        last[day.strftime(form)] = day
    return sorted(last.values(), reverse=True)


@given(SETS)
def test_it_is_the_rule_by_a_second_reading(days: list[date]) -> None:
    rule = set(sorted(set(days), reverse=True)[:7])
    rule |= set(last_days(days, "%G-%V")[:5])
    rule |= set(last_days(days, "%Y-%m")[:12])
    rule |= set(last_days(days, "%Y"))
    assert kept_of(days) == rule


@given(SETS)
def test_dropping_again_drops_nothing_more(days: list[date]) -> None:
    assert backups_to_drop(kept_of(days)) == set()


@given(SETS, st.randoms())
def test_neither_order_nor_repetition_counts(days: list[date], chance: object) -> None:
    mixed = [*days, *days]
    chance.shuffle(mixed)  # type: ignore[attr-defined]
    assert backups_to_drop(mixed) == backups_to_drop(days)


@given(SETS)
def test_nothing_is_dropped_that_was_not_there_and_never_the_newest(days: list[date]) -> None:
    dropped = backups_to_drop(days)
    assert dropped <= set(days)
    assert not dropped or max(days) not in dropped


@given(SETS)
@example([date(2026, 1, 1) + timedelta(days=number) for number in range(800)])
def test_what_is_kept_stays_few(days: list[date]) -> None:
    assert len(kept_of(days)) <= 7 + 5 + 12 + len({day.year for day in days})


@settings(max_examples=25)
@given(st.dates(date(2020, 1, 1), date(2024, 1, 1)), st.integers(1, 1000))
def test_a_backup_a_day_with_the_rule_at_work_leaves_what_one_clearing_would(first: date, count: int) -> None:
    """The rule runs at every backup, on what it left the time before: nothing may go that it would want later."""
    days = [first + timedelta(days=number) for number in range(count)]
    standing: set[date] = set()
    for day in days:
        standing.add(day)
        standing -= backups_to_drop(standing)
    assert standing >= set(days[-7:])
    assert {day.year for day in standing} == {day.year for day in days}
    assert len({(day.year, day.month) for day in standing}) >= min(12, len({(day.year, day.month) for day in days}))


@pytest.mark.parametrize(
    ("days", "dropped"),
    [
        ([], set()),
        ([date(2026, 3, 20)], set()),
        # Seven days stay; the eighth back is the last of no week and no month.
        ([date(2026, 3, 17) + timedelta(days=number) for number in range(7)], set()),
        ([date(2026, 3, 16) + timedelta(days=number) for number in range(8)], {date(2026, 3, 16)}),
        ([date(2026, 3, 2) + timedelta(days=number) for number in range(13)], {date(2026, 3, d) for d in range(2, 8)}),
        # The turn of the year: the last of 2025 stays although it lies in the first week of 2026.
        ([date(2025, 12, 29) + timedelta(days=number) for number in range(20)],
         {date(2025, 12, 29), date(2025, 12, 30), *(date(2026, 1, d) for d in (1, 2, 3, 5, 6, 7, 8, 9, 10))}),
    ],
)  # fmt: skip
def test_days_worked_out_by_hand(days: list[date], dropped: set[date]) -> None:
    assert backups_to_drop(days) == dropped
