"""Every category that the books begin with goes to a line of Schedule C, and to the one that the accountant expects."""

from __future__ import annotations

import pytest

from ledger.books.accounts import Account
from ledger.books.chart import BEGINNING_ACCOUNTS
from ledger.results.lines import category_keys, schedule_c_lines

CATEGORIES = [
    Account(number, each.name, each.role, each.purse, each.kind)
    for number, each in enumerate(BEGINNING_ACCOUNTS, start=1)
    if each.purse == "business" and each.kind == "expense"
]


def test_every_category_has_its_line_written_down_and_no_line_is_left_over() -> None:
    assert {each.role for each in CATEGORIES} == set(category_keys())


@pytest.mark.parametrize(
    ("category", "line"),
    [
        ("thread", "22"),
        ("batting", "22"),
        ("machine upkeep", "21"),
        ("advertising", "8"),
        ("card fees", "10"),
        ("insurance", "15"),
        ("licenses and taxes", "23"),
        ("accountant", "17"),
        ("paid helpers", "11"),
        ("loan interest", "16b"),
        ("phone and internet", "25"),
        ("travel", "24a"),
        ("meals", "24b"),
        ("home cost", "30"),
        ("office supplies", "18"),
    ],
)
def test_a_category_goes_to_the_line_of_its_kind(category: str, line: str) -> None:
    assert schedule_c_lines(CATEGORIES, 2025)[category].number == line


def test_a_category_of_her_own_goes_to_other_expenses() -> None:
    own = Account(999, "show fees", None, "business", "expense")
    lines = schedule_c_lines([*CATEGORIES, own], 2025)
    assert lines["show fees"].number == lines["other expenses"].number
