"""The machine's room: curve, range and plan, the pages behind its keys, and the same figures as by command."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from textual.containers import VerticalScroll

from ledger.actions import keep_plan, log_hours
from ledger.books.books import Books
from ledger.cli import main
from ledger.screens.curve_painting import COST, EARNED, PLANNED, RANGE
from tests.screens.window import LARGE, SMALL, Window, opened
from tests.workshop import begin
from tests.workshop_example import open_example

PLAN = Path(__file__).parents[2] / "demo" / "plan.toml"
SIZES = pytest.mark.parametrize("size", [SMALL, LARGE], ids=["80x24", "200x60"])


@pytest.fixture
def example(tmp_path: Path) -> Iterator[Books]:
    books = open_example(tmp_path / "example")
    yield books
    books.close()


def by_command(books: Books, capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    capsys.readouterr()
    assert main([*words, "--json", "--books", str(books.folder), "--on", books.today.isoformat()]) == 0
    data = json.loads(capsys.readouterr().out)
    assert isinstance(data, dict)
    return data


def shown_amount(amount: str) -> str:
    return f"${Decimal(amount):,.2f}"


def painted(window: Window) -> str:
    return window.said_by("#figures")


@SIZES
async def test_curve_range_and_plan_stand_on_the_screen_whole(example: Books, size: tuple[int, int]) -> None:
    keep_plan.perform(example, keep_plan.PlanRequest(PLAN))
    async with opened(example, size) as window:
        await window.press("3")
        assert all(sign in window.text() for sign in (EARNED, COST, RANGE, PLANNED))
        assert "2025" in window.text()
        assert "in four of five cases between" in " ".join(painted(window).split())
        page = window.screen.query_one(".page", VerticalScroll)
        assert (page.max_scroll_y, page.max_scroll_x) == (0, 0), "nothing of it is out of sight"
        assert all(len(line) <= page.size.width for line in painted(window).splitlines())


@SIZES
async def test_the_room_and_the_command_say_the_same(
    example: Books, capsys: pytest.CaptureFixture[str], size: tuple[int, int]
) -> None:
    said = by_command(example, capsys, "payback")
    async with opened(example, size) as window:
        await window.press("3", "g")
        page = painted(window)
        for key in ("cost", "taken_in", "earned", "left", "a_month_lately"):
            assert shown_amount(said[key]) in page, key
        for each in said["subtractions"]:
            line = next(line for line in page.splitlines() if f"less {each['category']} " in line)
            assert line.endswith(shown_amount(each["amount"]))
        for month in ("early", "middle", "late"):
            assert said["forecast"][month] in page
        assert f"About {said['jobs_left']} jobs more" in page
        await window.press("g")
        assert f"{said['share']} %" in painted(window)
    assert Decimal(said["earned"]) == Decimal(said["taken_in"]) - sum(
        Decimal(each["amount"]) for each in said["subtractions"]
    )


async def test_the_curve_by_command_ends_with_the_figures_and_has_the_range_and_the_plan(
    example: Books, capsys: pytest.CaptureFixture[str]
) -> None:
    keep_plan.perform(example, keep_plan.PlanRequest(PLAN))
    said = by_command(example, capsys, "payback", "--curve")
    last = said["curve"]["months"][-1]
    assert last == {"month": "2026-11", **{key: said[key] for key in ("cost", "taken_in", "earned")}}
    assert said["curve"]["range"][0]["month"] == "2026-11"
    assert said["curve"]["planned"][0]["month"] == "2025-01"


async def test_a_job_picked_up_in_the_room_moves_the_share_at_once(books: Books) -> None:
    async with opened(books) as window:
        await window.press("3")
        before = painted(window)
        await window.press("p", "enter", "c", "enter")
        await window.press("enter")
        assert window.place == "MachineRoom"
        after = painted(window)
        assert before.splitlines()[0] != after.splitlines()[0]


async def test_a_key_opens_a_page_and_the_same_key_goes_back_to_the_curve(example: Books) -> None:
    async with opened(example) as window:
        await window.press("3")
        curve = painted(window)
        for key, words in (("g", "Earned towards the machine"), ("j", "By kind of work"), ("o", "kept on Nov 1, 2024")):
            await window.press(key)
            assert words in painted(window)
            await window.press(key)
            assert painted(window) == curve


async def test_the_plan_is_kept_in_the_room_and_held_against_the_books(example: Books) -> None:
    async with opened(example) as window:
        await window.press("3", "f")
        await window.type(file=str(PLAN))
        assert "paid off in 2027-04" in window.text()
        await window.press("enter")
        await window.press("o")
        page = painted(window)
        assert "New, 26 inches, on a loan" in page
        assert "To be paid off" in page
        assert page.count("2025-") == 12


async def test_a_fault_in_a_plan_is_told_beside_the_field(example: Books, tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_text(PLAN.read_text(encoding="utf-8").replace("jobs_a_week = 2.5", "jobs_a_week = 0"), encoding="utf-8")
    async with opened(example) as window:
        await window.press("3", "f")
        await window.type(file=str(file))
        await window.press("enter")
        assert "plan.toml, work.jobs_a_week: Without jobs no machine pays for itself." in window.faults()["file"]


@SIZES
async def test_what_jobs_earn_fits_the_window_and_hours_show(example: Books, size: tuple[int, int]) -> None:
    job = next(
        row["job"] for row in example.rows("select job from job_event where what = 'picked up' order by id desc")
    )
    log_hours.perform(example, log_hours.HoursRequest(job, Decimal(2)))
    async with opened(example, size) as window:
        await window.press("3", "j")
        lines = painted(window).splitlines()
        width = window.screen.query_one(".page", VerticalScroll).size.width
        assert max(map(len, lines)) <= width
        first = " ".join(lines[:2])
        assert first.startswith("Pays it off fastest: ")
        assert "for each hour logged" in first


async def test_without_a_price_the_room_says_what_to_do_on_every_page(tmp_path: Path) -> None:
    bare = begin(tmp_path / "bare", date(2026, 1, 5))
    async with opened(bare) as window:
        await window.press("3")
        for key in ("g", "g"):
            assert "The machine has no price yet" in painted(window)
            await window.press(key)
    bare.close()


async def test_too_early_is_said(books: Books) -> None:
    async with opened(books) as window:
        await window.press("3")
        assert "too early to say" in painted(window)
