"""The example can be opened on any day, and the same day gives the same books."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from ledger.bank.agreements import read_agreements
from ledger.books.chain import head
from ledger.books.prove import prove
from ledger.errors import NotPossible
from ledger.example.build import build_example
from ledger.example.data_files import rate_changes_on
from ledger.example.seasons import working_days
from ledger.jobs.records import read_custody
from ledger.machine.payback_record import read_payback
from ledger.quarter.checks import run_checks
from ledger.results.lines import schedule_c_lines
from ledger.results.period import read_statement
from ledger.set_aside.owed import read_set_aside
from tests.example.reading import STATUSES, Example
from tests.structure.tree import CHECKOUT
from tests.workshop_example import EXAMPLE_DAY, clock_of, copy_example, open_example

BUILD_AND_PRINT_THE_HEADS = """
import sys
from pathlib import Path
from ledger.example.build import build_example
from tests.workshop_example import EXAMPLE_DAY, clock_of
books = build_example(Path(sys.argv[1]), clock_of(EXAMPLE_DAY))
last = books.row("select number, digest from record order by number desc limit 1")
print(books.value("select digest from seal order by number desc limit 1"), last["number"], last["digest"])
"""


@pytest.mark.slow
@pytest.mark.parametrize(
    "day",
    [
        pytest.param(date(2027, 3, 8), id="in 2027"),
        pytest.param(date(2028, 2, 29), id="on a leap day"),
        pytest.param(date(2031, 8, 31), id="on a Sunday in 2031"),
        pytest.param(date(2027, 1, 1), id="on a holiday, the first of a month"),
        pytest.param(date(2027, 4, 14), id="when returns and payments come together"),
        pytest.param(date(2029, 10, 16), id="after a return was filed and before it is due"),
    ],
)
def test_the_example_opens_on_any_day(day: date, tmp_path: Path) -> None:
    books = open_example(tmp_path / "books", day)
    example = Example(books)
    try:
        assert prove(books).ok
        days = [written for _, written in example.days_written()]
        assert books.settings.begun_on == min(days)
        assert max(days) == working_days(day).last <= day
        assert 728 <= (day - books.settings.begun_on).days <= 762
        assert Counter(job.status for job in example.jobs) == STATUSES
        for quarter in example.quarters():
            assert all(check.ok for check in run_checks(books, quarter.start, quarter.end))
            expenses = [line.account for line in read_statement(books, quarter.start, quarter.end).expenses]
            assert len(schedule_c_lines(expenses, quarter.end.year)) == len(expenses)
        assert 55 <= (read_payback(books).share_percent or 0) <= 75
        assert read_custody(books, day).pieces == 14
        assert read_set_aside(books).late == ()
        assert all(agreed.changed == () for agreed in read_agreements(books))
        assert min(example.lowest("checking"), example.lowest("cash_box")) >= 0
        assert [job.piece for job in example.jobs if job.owed_cents] == ["Memory quilt from shirts, his wife's"]
    finally:
        books.close()


@pytest.mark.parametrize("day", [date(2026, 11, 25), date(2027, 1, 1), date(2028, 2, 29), date(2031, 8, 31)])
def test_the_rate_changes_on_the_first_day_of_a_quarter_of_the_second_year(day: date) -> None:
    days = working_days(day)
    change = rate_changes_on(days)
    assert (change.day, change.month % 3) == (1, 1)
    assert 12 <= days.month_index(change) <= 18


@pytest.mark.slow
def test_the_same_day_gives_the_same_books_digest_by_digest(tmp_path: Path) -> None:
    books = open_example(tmp_path / "copy")
    try:
        record = books.row("select number, digest from record order by number desc limit 1")
        assert record is not None
        assert build_elsewhere(tmp_path / "built") == [head(books.connection).digest, str(record[0]), record[1]]
    finally:
        books.close()


def build_elsewhere(folder: Path) -> list[str]:
    """The heads of books built by a program of its own, whose sets are laid out by a seed of its own."""
    command = [sys.executable, "-c", BUILD_AND_PRINT_THE_HEADS, str(folder)]
    surroundings = {**os.environ, "PYTHONHASHSEED": "1"}
    done = subprocess.run(command, cwd=CHECKOUT, env=surroundings, capture_output=True, text=True, check=True)
    return done.stdout.split()


def test_books_that_stand_there_already_are_left_alone(tmp_path: Path) -> None:
    folder = copy_example(tmp_path / "books")
    before = (folder / "books.sqlite3").read_bytes()
    with pytest.raises(NotPossible, match="already"):
        build_example(folder, clock_of(EXAMPLE_DAY))
    assert (folder / "books.sqlite3").read_bytes() == before
