"""Plans and what jobs earn by command."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.desk import Desk, contents

PLAN = Path(__file__).parent / "worksheets" / "plan.toml"


def changed(tmp_path: Path, old: str, new: str) -> str:
    content = PLAN.read_text(encoding="utf-8")
    assert old in content
    path = tmp_path / "other.toml"
    path.write_text(content.replace(old, new), encoding="utf-8")
    return str(path)


def test_a_plan_needs_no_books_and_keeps_nothing(empty_desk: Desk) -> None:
    found = empty_desk.data("plan", str(PLAN))
    assert (found["paid_off"], found["most_out_of_pocket"], found["loan"]) == ("2027-04", "6131.00", "12500.00")
    assert found["sensitivity"][0] == {
        "assumption": "jobs a week",
        "change": "-10.00",
        "paid_off": "2027-07",
        "months": 3,
    }
    first = found["months"][0]
    assert (first["month"], first["jobs"], first["cash"], first["in_hand"]) == ("2025-01", "0.0", "-131.00", "-6131.00")
    assert (found["break_even_job"], found["break_even_square_inch"]) == ("62.69", "0.0112")
    assert not empty_desk.folder.exists()


def test_plans_stand_side_by_side(desk: Desk, tmp_path: Path) -> None:
    cheaper = changed(tmp_path, "price = 16900", "price = 9900")
    before = contents(desk.folder)
    found = desk.data("plan", str(PLAN), cheaper)
    assert [each["paid_off"] for each in found["plans"]] == ["2027-04", "2026-06"]
    assert found["paid_off"] == "2027-04"
    said = desk.lines("plan", "show", str(PLAN), cheaper)
    assert "paid off" in said
    assert "2026-06" in said
    assert contents(desk.folder) == before


def test_in_words_it_tells_month_peak_break_even_and_what_moves_it(desk: Desk) -> None:
    said = desk.lines("plan", str(PLAN)).splitlines()
    assert said[0] == "New, 26 inches, on a loan is paid off in 2027-04, in its month no. 28."
    assert "The most out of pocket: 6131.00." in said
    assert any(line.startswith("Break-even: 62.69 a job, 0.0112 a square inch") for line in said)
    assert "  jobs a week      less: 3 months later    more: 3 months earlier" in said
    assert all(len(line) <= 100 for line in said)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("price = 16900", "price = 0", "machine.costs.price"),
        ("jobs_a_week = 2.5", "jobs_a_week = 0", "work.jobs_a_week"),
        ("months = 60", "months = 900", "loan.months"),
        ("percent = 8.9", "percent = much", "file"),
        ("percent = 8.9", 'percent = "much"', "loan.percent"),
    ],
)
def test_a_refusal_names_file_and_field(desk: Desk, tmp_path: Path, old: str, new: str, field: str) -> None:
    refusal = desk.refused("plan", changed(tmp_path, old, new))
    assert refusal["field"] == field
    assert refusal["what"].startswith("other.toml")


def test_a_plan_never_paid_off_says_so(desk: Desk, tmp_path: Path) -> None:
    poor = changed(tmp_path, "average_job = 120", "average_job = 12")
    assert desk.data("plan", poor)["paid_off"] is None
    assert "is never paid off this way." in desk.lines("plan", poor)


def test_a_kept_plan_is_held_against_the_books(desk: Desk) -> None:
    desk.data("plan", "keep", str(PLAN))
    found = desk.data("plan", "kept")
    assert (found["kept_on"], found["paid_off"]) == (desk.day, "2027-04")
    assert [each["month"] for each in found["against"]] == ["2026-01", "2026-02"]
    assert all(
        float(each["ahead"]) == pytest.approx(float(each["earned"]) - float(each["planned"]))
        for each in found["against"]
    )


def test_without_a_kept_plan_that_is_said(empty_desk: Desk) -> None:
    empty_desk.data("new", "--name", "Lantern")
    assert empty_desk.refused("plan", "kept")["what"] == "No plan is kept."


def test_hours_are_logged_and_what_jobs_earn_is_told_by_kind_and_customer(desk: Desk) -> None:
    assert desk.data("hours", "2", "1.5")["hours"] == "1.5"
    assert desk.data("hours", "2", "--take-back")["hours"] == "0"
    desk.data("hours", "2", "2")
    found = desk.data("earnings", "2026")
    binding = next(each for each in found["by_kind"] if each["what"] == "binding")
    assert (binding["jobs"], binding["hours"]) == (3, "2")
    assert binding["an_hour"] is not None
    assert {"Ben Okoro", "Dee", "Oak Guild"} == {each["what"] for each in found["by_customer"]}
    assert sum(float(each["income"]) for each in found["by_kind"]) == pytest.approx(
        float(desk.data("payback")["taken_in"])
    )
    assert desk.data("earnings", "2025")["by_kind"] == []
