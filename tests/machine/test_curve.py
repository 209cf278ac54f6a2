"""The curve, its milestones and what is painted and drawn of it, on plain figures."""

from __future__ import annotations

from datetime import date

import pytest

from ledger.machine.curve import Curve, CurvePoint, FanPoint, PlannedPoint, fan_points
from ledger.machine.curve_picture import curve_picture
from ledger.machine.forecast import Forecast, Month, months_on
from ledger.machine.milestones import DayStanding, milestones
from ledger.screens.curve_painting import COST, EARNED, MIDDLE, PLANNED, RANGE, legend, painted_curve

FIRST = date(2026, 1, 1)


def points(*earned: int, cost: int = 1_000_00, upgrade_from: int | None = None) -> tuple[CurvePoint, ...]:
    """Months from January 2026; an upgrade of 200 may be bought in one of them."""
    return tuple(
        CurvePoint(
            months_on(FIRST, at),
            cost + (200_00 if upgrade_from is not None and at >= upgrade_from else 0),
            cents + 100_00,
            cents,
        )
        for at, cents in enumerate(earned)
    )


def a_curve() -> Curve:
    record = points(100_00, 250_00, 400_00, 500_00, upgrade_from=2)
    to_come = [months_on(FIRST, 4 + at) for at in range(8)]
    fan = tuple(
        FanPoint(day, 500_00 + 60_00 * at, 500_00 + 100_00 * at, 500_00 + 140_00 * at)
        for at, day in enumerate(to_come, 1)
    )
    planned = tuple(PlannedPoint(months_on(FIRST, at), 1_000_00, 150_00 * (at + 1)) for at in range(7))
    return Curve(record, fan, planned)


class TestMilestones:
    def test_each_has_the_day_on_which_it_was_reached(self) -> None:
        days = {
            1: [DayStanding(date(2026, 2, 3), 200_00, 1_000_00), DayStanding(date(2026, 2, 9), 250_00, 1_000_00)],
            3: [DayStanding(date(2026, 4, 20), 520_00, 1_000_00)],
        }
        found = milestones(points(100_00, 250_00, 400_00, 520_00), lambda point: days[point.first_day.month - 1])
        assert [(each.what, each.percent, each.reached_on) for each in found] == [
            ("a quarter", 25, date(2026, 2, 9)),
            ("half", 50, date(2026, 4, 20)),
            ("all", 100, None),
        ]

    def test_what_was_gone_again_by_the_months_end_was_not_reached(self) -> None:
        asked = []
        found = milestones(points(249_99), lambda point: asked.append(point) or [])
        assert {each.reached_on for each in found} == {None}
        assert asked == []

    def test_what_was_reached_stays_so_when_an_upgrade_raises_the_cost(self) -> None:
        record = points(500_00, 510_00, upgrade_from=1)
        found = milestones(record, lambda point: [DayStanding(date(2026, 1, 9), 500_00, 1_000_00)])
        assert [each.reached_on for each in found] == [date(2026, 1, 9), date(2026, 1, 9), None]

    def test_without_a_machine_there_are_none(self) -> None:
        found = milestones(points(500_00, cost=0), lambda point: [])
        assert {each.reached_on for each in found} == {None}


class TestFanPoints:
    RECORD = [Month(months_on(FIRST, at), 100_00 + at) for at in range(4)]

    def test_the_fan_stands_on_what_was_earned_and_goes_beyond_the_late_end(self) -> None:
        late = date(2026, 9, 1)
        found = fan_points(400_00, self.RECORD, Forecast(late, late, late, too_early=False), date(2026, 4, 30))
        assert [each.first_day for each in found] == [months_on(date(2026, 5, 1), at) for at in range(7)]
        assert 490_00 < found[0].middle_cents < 510_00

    def test_it_is_empty_where_it_is_too_early_and_five_years_long_where_it_never_ends(self) -> None:
        today = date(2026, 4, 30)
        assert fan_points(0, self.RECORD, Forecast(None, None, None, too_early=True), today) == ()
        assert len(fan_points(0, self.RECORD, Forecast(None, None, None, too_early=False), today)) == 60


class TestPainting:
    @pytest.mark.parametrize(("width", "height"), [(76, 15), (140, 50), (56, 6), (30, 8)])
    def test_it_fills_just_the_cells_it_is_given(self, width: int, height: int) -> None:
        lines = [each.plain for each in painted_curve(a_curve(), width, height, lambda cents: f"{cents // 100:,}")]
        assert len(lines) == height
        assert all(len(line) <= width for line in lines)

    def test_each_curve_is_told_by_its_own_sign(self) -> None:
        text = "\n".join(each.plain for each in painted_curve(a_curve(), 76, 15, str))
        assert all(sign in text for sign in (EARNED, COST, RANGE, MIDDLE, PLANNED))
        assert "2026" in text
        assert PLANNED in legend(a_curve())

    def test_without_range_and_plan_neither_is_painted_or_explained(self) -> None:
        bare = Curve(points(100_00, 200_00), (), ())
        text = "\n".join(each.plain for each in painted_curve(bare, 76, 15, str))
        assert not {RANGE, MIDDLE, PLANNED} & set(text + legend(bare))
        assert bare.months == 12, "a short record has room for its first year"

    def test_the_cost_rises_where_an_upgrade_was_bought(self) -> None:
        lines = [each.plain for each in painted_curve(Curve(points(0, 0, 0, 0, upgrade_from=2), (), ()), 60, 20, str)][
            :-2
        ]
        rows = [next(row for row, line in enumerate(lines) if line[at] == COST) for at in (14, 50)]
        assert rows[1] < rows[0]

    def test_a_record_at_a_loss_is_painted_without_a_fault(self) -> None:
        lines = painted_curve(Curve(points(-50_00, -90_00), (), ()), 60, 12, str)
        assert EARNED not in "".join(each.plain for each in lines)


@pytest.mark.parametrize("curve", [a_curve(), Curve(points(-50_00), (), ()), Curve(points(0, cost=0), (), ())])
def test_the_picture_for_paper_keeps_within_its_frame(curve: Curve) -> None:
    left, bottom, right, top = curve_picture(curve, str, 480, 220).getBounds()
    assert left >= 0
    assert bottom >= 0
    assert right <= 481
    assert top <= 221
