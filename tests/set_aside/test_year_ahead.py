"""The year ahead: what falls due against what is held, worked by hand and as laws."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from ledger.set_aside.due_dates import STRIP_DAYS, Due
from ledger.set_aside.year_ahead import YearAhead, year_ahead

TODAY = date(2026, 11, 30)


def due(day: date, cents: int | None, *, is_late: bool = False) -> Due:
    return Due("bill", f"due on {day}", "due", day, cents, is_late=is_late)


def covered(found: YearAhead) -> list[tuple[int, int, int, int, str]]:
    return [(each.held_cents, each.there_cents, each.short_cents, each.left_cents, each.word) for each in found.dues]


def test_tax_savings_pay_first_then_the_other_money_and_what_is_left_is_short() -> None:
    dues = [
        due(date(2026, 11, 2), 30_00, is_late=True),
        due(date(2026, 12, 21), 50_00),
        due(date(2027, 1, 15), None),
        due(date(2027, 1, 20), 60_00),
        due(date(2027, 4, 15), 25_00),
    ]
    found = year_ahead(dues, held_cents=100_00, other_cents=55_00, on=TODAY)
    assert covered(found) == [
        (30_00, 0, 0, 70_00, "held"),
        (50_00, 0, 0, 20_00, "held"),
        (0, 0, 0, 20_00, ""),
        (20_00, 40_00, 0, -40_00, "there"),
        (0, 15_00, 10_00, -65_00, "short"),
    ]
    assert (found.due_cents, found.there_cents, found.short_cents) == (165_00, 55_00, 10_00)
    assert found.first_uncovered == found.dues[3]
    months = {each.first_day.isoformat()[:7]: each for each in found.months}
    assert len(months) == 13
    assert [(months[name].due_cents, months[name].left_cents) for name in ("2026-11", "2026-12", "2027-01")] == [
        (30_00, 70_00),
        (50_00, 20_00),
        (60_00, -40_00),
    ]
    assert months["2027-01"].has_unknown
    assert (months["2027-11"].due_cents, months["2027-11"].left_cents) == (0, -65_00)


def test_what_is_held_in_one_way_alone_is_told_in_a_word() -> None:
    found = year_ahead([due(TODAY, 10), due(TODAY, 10), due(TODAY, 10)], held_cents=15, other_cents=15, on=TODAY)
    assert [(each.word, each.is_whole) for each in found.dues] == [("held", True), ("there", False), ("there", True)]


def test_overdrawn_accounts_cover_nothing() -> None:
    found = year_ahead([due(TODAY, 10_00)], held_cents=-5_00, other_cents=-1_00, on=TODAY)
    assert covered(found) == [(0, 0, 10_00, -15_00, "short")]


DUES = st.lists(
    st.tuples(st.integers(-60, STRIP_DAYS), st.one_of(st.none(), st.integers(0, 10**7))).map(
        lambda each: due(TODAY + timedelta(days=each[0]), each[1], is_late=each[0] < 0)
    ),
    max_size=12,
).map(lambda dues: sorted(dues, key=lambda each: each.day))


@given(DUES, st.integers(-(10**6), 10**8), st.integers(-(10**6), 10**8))
def test_parts_add_up_and_nothing_is_used_twice(dues: list[Due], held: int, other: int) -> None:
    found = year_ahead(dues, held, other, TODAY)
    for each in found.dues:
        assert each.held_cents + each.there_cents + each.short_cents == (each.due.cents or 0)
        assert min(each.held_cents, each.there_cents, each.short_cents) >= 0
    known = sum(each.cents or 0 for each in dues)
    assert found.due_cents == known
    assert sum(each.held_cents for each in found.dues) == min(known, max(0, held))
    assert found.there_cents == min(known - min(known, max(0, held)), max(0, other))
    assert found.months[-1].left_cents == held - known
    assert sum(len(each.dues) for each in found.months) == len(dues), "each due stands in one month"
