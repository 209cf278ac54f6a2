"""Whatever is read, placed and undone in whatever order: both purses at zero, reading twice is reading once."""

from __future__ import annotations

import tempfile
from contextlib import suppress
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ledger.bank.standing import read_standing
from ledger.books.balances import balances
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import Refused
from ledger.money import plain_amount
from tests.actions.bank_desk import placed, read_bytes, read_rows, undone
from tests.bank.files import USD, csv
from tests.workshop import begin_taxed, copied, deposit, job_for, on_day, picked_up, purse_sums, spent, transferred

pytestmark = pytest.mark.slow

DAY = date(2026, 2, 20)
WORDS = ("Mill outlet", "Corner shop", "Deposit", "Transfer", "Merchant services", "Returned item")
AMOUNTS = (-20_00, -4_50, 50_00, 30_00, 80_00, 102_20, -400_00, 400_00, -50_00)
PLACINGS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("suggested", {}),
    ("category", {"name": "thread"}),
    ("category", {"name": "other income"}),
    ("home", {}),
    ("transfer", {"name": "tax savings"}),
    ("transfer", {"name": "household checking"}),
    ("job", {"job": 1}),
    ("returned", {"job": 1}),
    ("payout", {}),
    ("entry", {"entries": (2,)}),
    ("later", {}),
    ("ignored", {}),
)

ROWS = st.lists(st.tuples(st.integers(6, 28), st.sampled_from(AMOUNTS), st.sampled_from(WORDS)), min_size=1, max_size=6)
FILES = st.lists(st.tuples(st.sampled_from(["checking", "tax savings", "workshop card"]), ROWS), min_size=1, max_size=3)
STEPS = st.lists(
    st.tuples(st.sampled_from(["place", "place", "place", "undo"]), st.integers(0, 30), st.sampled_from(PLACINGS)),
    max_size=10,
)


@cache
def base() -> Path:
    """Entries of every kind that a bank's line could be."""
    folder = Path(tempfile.mkdtemp(prefix="twopurse-")) / "books"
    books = begin_taxed(folder, opening_cents=1_000_00)
    spent(on_day(books, date(2026, 1, 10)), "20.00", "thread", "checking")
    spent(on_day(books, date(2026, 1, 11)), "4.50", "thread", "workshop card")
    job = job_for(on_day(books, date(2026, 1, 6)), "100.00")
    deposit(on_day(books, date(2026, 1, 12)), job, "50.00")
    deposit(on_day(books, date(2026, 1, 12)), job, "30.00")
    picked_up(on_day(books, date(2026, 1, 14)), job_for(on_day(books, date(2026, 1, 6)), "100.00"), "card")
    transferred(on_day(books, date(2026, 1, 20)), "move", "400.00", "checking", "tax savings")
    books.close()
    return folder


def file_of(rows: list[tuple[int, int, str]]) -> bytes:
    return csv(*(f"2026-01-{day:02d},{words},{plain_amount(cents, USD)}" for day, cents, words in rows))


def run(books: Books, steps: list[tuple[str, int, tuple[str, dict[str, Any]]]]) -> None:
    for what, place, (way, more) in steps:
        lines = read_standing(books)
        if lines:
            number = lines[place % len(lines)].line.id
            with suppress(Refused):
                if what == "undo":
                    undone(books, number)
                else:
                    placed(books, number, way, **more)  # type: ignore[arg-type]


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(FILES, STEPS, st.randoms(use_true_random=False))
def test_any_order_leaves_both_purses_at_zero_and_undoing_everything_restores_the_balances(
    files: list[tuple[str, list[tuple[int, int, str]]]], steps: Any, shuffle: Any
) -> None:
    with copied(base(), DAY) as books:
        before = [(each.account.name, each.cents) for each in balances(books, DAY)]
        shuffle.shuffle(files)
        for account, rows in files:
            read_bytes(books, file_of(rows), account)
        run(books, steps)
        assert set(purse_sums(books).values()) == {0}
        assert prove(books).ok
        lines = read_standing(books)
        for account, rows in files:
            assert read_bytes(books, file_of(rows), account).lines == ()
        assert [each.line for each in read_standing(books)] == [each.line for each in lines]
        # The last placed first: what rests on an earlier one is gone by then.
        for number in books.rows("select line from line_match group by line order by max(id) desc"):
            if books.row("select 1 from statement_line where id = ?", (number[0],)):
                with suppress(Refused):
                    undone(books, number[0])
        assert [(each.account.name, each.cents) for each in balances(books, DAY)] == before
        assert {each.state for each in read_standing(books)} <= {"new", "doubtful"}
        assert prove(books).ok


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(ROWS, st.integers(0, 6))
def test_a_file_read_in_two_overlapping_parts_is_the_file_read_once(rows: list[tuple[int, int, str]], cut: int) -> None:
    """Parts as banks cut them: by whole days."""
    rows = sorted(rows)
    last = rows[min(cut, len(rows) - 1)][0]
    with copied(base(), DAY) as books:
        read_bytes(books, file_of([each for each in rows if each[0] <= last]))
        read_bytes(books, file_of(rows))
        twice = sorted((each.line.day.day, each.line.cents, each.line.text) for each in read_standing(books))
    assert twice == rows


def test_the_same_rows_under_another_name_of_the_file_are_the_same_lines(tmp_path: Path) -> None:
    with copied(base(), DAY) as books:
        read_rows(books, "2026-01-10,Mill outlet,-20.00")
        again = read_bytes(books, csv("2026-01-10,Mill outlet,-20.00"), name="another.csv")
        assert again.kept.already == 1
