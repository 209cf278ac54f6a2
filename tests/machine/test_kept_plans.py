"""A plan that is kept, and the books held against it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import keep_plan
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotUnderstood
from ledger.machine.curve_record import curve_points
from ledger.machine.kept_plans import held_against, read_kept_plan
from ledger.machine.payback_record import PaybackRecord
from tests.workshop import begin_taxed, job_for, on_day, picked_up

# Jobs of 100 a month on average, without material: 4 a month once practice is over.
PLAN = """
name = "As I thought"
[machine.costs]
price = 9000
freight = 1000
[work]
jobs_a_week = 1
average_job = 100
material_percent = 0
weeks_off = 4
[learning]
practice_months = 1
"""


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books", machine_price_cents=10_000_00, machine_date=date(2026, 1, 5))
    yield opened
    opened.close()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "plan.toml"
    path.write_text(PLAN, encoding="utf-8")
    return path


def kept(books: Books, file: Path, day: date = date(2026, 1, 20)) -> None:
    keep_plan.perform(on_day(books, day), keep_plan.PlanRequest(file))


def test_a_plan_is_kept_as_it_was_with_its_day_and_the_month_in_which_it_starts(books: Books, file: Path) -> None:
    kept(books, file)
    file.write_text("changed afterwards", encoding="utf-8")
    found = read_kept_plan(on_day(books, date(2026, 6, 1)))
    assert found is not None
    assert (found.plan.name, found.plan.starts, found.kept_on, found.content) == (
        *("As I thought", date(2026, 1, 1)),
        *(date(2026, 1, 20), PLAN),
    )
    assert prove(books).ok


def test_the_latest_counts_and_none_before_its_day(books: Books, file: Path) -> None:
    kept(books, file)
    file.write_text(PLAN.replace("As I thought", "Once more"), encoding="utf-8")
    kept(books, file, date(2026, 3, 1))
    assert read_kept_plan(on_day(books, date(2026, 1, 19))) is None
    names = [read_kept_plan(on_day(books, day)).plan.name for day in (date(2026, 2, 1), date(2026, 3, 1))]  # type: ignore[union-attr]
    assert names == ["As I thought", "Once more"]


def test_a_preview_keeps_nothing_and_neither_does_a_plan_that_is_refused(books: Books, file: Path) -> None:
    assert keep_plan.preview(books, keep_plan.PlanRequest(file)).paid_off == date(
        2028, 2, 1
    )  # 25 months at 400, after one
    file.write_text(PLAN.replace("jobs_a_week = 1", ""), encoding="utf-8")
    with pytest.raises(NotUnderstood) as refusal:
        kept(books, file)
    assert refusal.value.field == "work.jobs_a_week"
    assert read_kept_plan(on_day(books, date(2026, 6, 1))) is None


def test_the_books_are_held_against_it_month_by_month(books: Books, file: Path) -> None:
    kept(books, file)
    for day, amount in ((date(2026, 1, 20), "150.00"), (date(2026, 2, 9), "300.00"), (date(2026, 3, 2), "500.00")):
        at = on_day(books, day)
        picked_up(at, job_for(at, amount), "cash")
    record = PaybackRecord(on_day(books, date(2026, 3, 15)))
    found = read_kept_plan(record.books)
    assert found is not None
    against = held_against(found.plan, record.points)
    assert [(each.first_day.month, each.planned_cents, each.earned_cents) for each in against] == [
        (1, 0, 150_00),
        (2, 400_00, 450_00),
        (3, 800_00, 950_00),
    ]
    assert [each.ahead_cents for each in against] == [150_00, 50_00, 150_00]


def test_what_was_earned_before_the_plans_start_is_not_held_against_it(books: Books, file: Path) -> None:
    at = on_day(books, date(2026, 1, 20))
    picked_up(at, job_for(at, "150.00"), "cash")
    file.write_text(f'starts = "2026-02"\n{PLAN}', encoding="utf-8")
    kept(books, file)
    later = on_day(books, date(2026, 3, 15))
    found = read_kept_plan(later)
    assert found is not None
    against = held_against(found.plan, PaybackRecord(later).points)
    assert [(each.planned_cents, each.earned_cents) for each in against] == [(0, 0), (400_00, 0)]
    planned = curve_points(later).planned
    assert [(each.first_day.month, each.earned_cents) for each in planned[:2]] == [(2, 150_00), (3, 550_00)]
    assert planned[-1].earned_cents - 150_00 >= planned[-1].cost_cents == 10_000_00


def test_without_a_plan_the_curve_has_none_beside_it(books: Books) -> None:
    assert curve_points(books).planned == ()
