"""Balances from the running sums are the sums of the postings, on any day."""

from __future__ import annotations

import shutil
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from ledger.books.balances import balance, balances, movements, read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.books.opening import open_books
from ledger.books.prove import prove
from tests.books import sample

LAST = date(2027, 3, 31)
BUSINESS = ("checking", "cash_box", "tips", "thread", "workshop_card", "job_income")
PERSONAL = ("household_checking", "household_spending", "personal_card")
AMOUNTS = st.integers(-(10**14), 10**14).filter(bool)
DAYS = st.dates(sample.BEGUN, LAST)


@st.composite
def lines(draw: st.DrawFn) -> list[tuple[str, int]]:
    """Two to six postings that keep the laws: each purse adds to zero, and so do the accounts that cross."""
    found = [
        (role, cents)
        for purse in draw(st.sampled_from([[BUSINESS], [PERSONAL], [BUSINESS, PERSONAL]]))
        for cents in [draw(AMOUNTS)]
        for role, cents in zip(draw(st.permutations(purse)), (cents, -cents), strict=False)
    ]
    if draw(st.booleans()):
        crossing = draw(AMOUNTS)
        found += [("checking", crossing), ("owners_contributions", -crossing)]
        found += [("workshop_mirror", crossing), ("household_checking", -crossing)]
    return found


ENTRIES = st.lists(st.tuples(DAYS, lines()), min_size=1, max_size=12)


def naive(books: Books, on: date) -> dict[int, int]:
    """Every posting up to a day, added one by one."""
    sums: dict[int, int] = {}
    for account, cents, day in books.rows(
        "select account, cents, date from posting join entry on entry.number = posting.entry"
    ):
        if date.fromisoformat(day) <= on:
            sums[account] = sums.get(account, 0) + cents
    return sums


def standing(books: Books, on: date) -> dict[int, int]:
    return {each.account.id: each.cents for each in balances(books, on)}


def days_worth_asking() -> list[date]:
    """The ends and beginnings of months, where the running sums hand over to the postings, and days in between."""
    turns = [date(2026, month, 1) for month in range(1, 13)] + [date(2027, 1, 1), date(2027, 3, 31)]
    return sorted({day + timedelta(days=shift) for day in turns for shift in (-1, 0, 1, 14)})


def test_a_balance_on_any_day_is_the_sum_of_the_postings_up_to_it(books: Books) -> None:
    for day in days_worth_asking():
        expected = {each.id: 0 for each in read_accounts(books).all} | naive(books, day)
        assert standing(books, day) == expected, day


def test_the_purses_add_to_zero_on_any_day(books: Books) -> None:
    for day in days_worth_asking():
        for purse in ("business", "personal"):
            assert sum(each.cents for each in balances(books, day) if each.account.purse == purse) == 0


def test_one_balance_is_found_by_its_role(books: Books) -> None:
    assert balance(books, "machine", date(2026, 1, 4)) == 0
    assert balance(books, "machine", date(2026, 1, 5)) == 1850000


def test_a_movement_is_the_difference_of_two_balances(books: Books) -> None:
    start, end = date(2026, 1, 9), date(2026, 2, 5)
    before, after = naive(books, start - timedelta(days=1)), naive(books, end)
    moved = movements(books, start, end)
    assert moved == {account: after.get(account, 0) - before.get(account, 0) for account in moved}
    assert any(moved.values())


@pytest.mark.slow
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(entries=ENTRIES, asked=st.lists(DAYS, min_size=1, max_size=6))
@example(entries=[(LAST, [("checking", 10**14), ("tips", -(10**14))])] * 12, asked=[LAST])
def test_whatever_is_sealed_the_running_sums_are_the_postings(
    entries: list[tuple[date, list[tuple[str, int]]]], asked: list[date], made_beginning: Path, tmp_path: Path
) -> None:
    folder = Path(shutil.copytree(made_beginning, tmp_path / "books", dirs_exist_ok=True))
    books = open_books(folder, sample.clock_on(LAST))
    try:
        accounts = read_accounts(books)
        with books.writing() as write:
            for day, found in entries:
                lines_of_it = postings(*((accounts[role], cents) for role, cents in found))
                seal(books, write, Draft(day, "other", "Invented", lines_of_it))
        assert prove(books).findings == ()
        for day in [*asked, LAST]:
            assert {key: cents for key, cents in standing(books, day).items() if cents} == {
                key: cents for key, cents in naive(books, day).items() if cents
            }
    finally:
        books.close()
