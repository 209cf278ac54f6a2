"""Keep a plan for the machine, so that the books can be held against it later."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from checklists.worksheet_files import read_content
from ledger.books.books import Books
from ledger.machine.kept_plans import keep_plan
from ledger.machine.plan import PlanResult, work_out
from ledger.machine.plan_files import read_plan


@dataclass(frozen=True)
class PlanRequest:
    """file: the plan, in TOML."""

    file: Path


def preview(books: Books, request: PlanRequest) -> PlanResult:
    """What the plan comes to. Raises NotUnderstood and NotPossible, naming the file's field."""
    return work_out(read_plan(read_content(request.file), str(request.file), books.currency, books.today))


def perform(books: Books, request: PlanRequest) -> PlanResult:
    """Keep the file as it is today, and give what it comes to. Raises as `preview` does."""
    content = read_content(request.file)
    plan = read_plan(content, str(request.file), books.currency, books.today)
    result = work_out(plan)
    with books.writing() as write:
        keep_plan(books, write, plan, content)
    return result
