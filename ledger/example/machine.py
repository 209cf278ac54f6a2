"""The machine: the plan she kept before it earned anything, and the day on which the workshop was open."""

from __future__ import annotations

import tempfile
from datetime import date
from importlib.resources import files
from pathlib import Path

from ledger.actions import keep_plan, start_up
from ledger.books.books import Books
from ledger.example.diary import Act, Diary
from ledger.example.working_days import WorkingDays


def plan_and_opening(diary: Diary, days: WorkingDays) -> None:
    """Write both into the diary, on the first day."""
    diary.write(days.first, _plan(days.first))
    diary.write(days.first, _opened)


def _plan(starts: date) -> Act:
    """The plan beside this module, from the month in which the books begin."""

    def act(books: Books) -> None:
        told = files("ledger.example").joinpath("plan.toml").read_text(encoding="utf-8")
        with tempfile.TemporaryDirectory(prefix="twopurse-") as scratch:
            file = Path(scratch) / "plan.toml"
            file.write_text(f'starts = "{starts:%Y-%m}"\n{told}', encoding="utf-8")
            keep_plan.perform(books, keep_plan.PlanRequest(file))

    return act


def _opened(books: Books) -> None:
    start_up.perform(books, start_up.OpenedRequest(books.today))
