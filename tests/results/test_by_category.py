"""Expenses by category: the largest first, shares that add up, and what came back below zero."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from ledger.books.accounts import Account
from ledger.results.by_category import ExpensesByCategory, expenses_by_category
from ledger.results.statement import Line


def found(*amounts: int) -> ExpensesByCategory:
    accounts = [Account(at, f"category {at}", None, "business", "expense", False) for at in range(len(amounts))]
    lines: Any = {each.name: f"line of {each.name}" for each in accounts}
    return expenses_by_category([Line(*each) for each in zip(accounts, amounts, strict=True)], lines)


def test_the_largest_stands_first_with_its_share_and_its_line() -> None:
    shares = found(25_00, 60_00, 15_00).shares
    assert [(each.category, each.cents, each.share_percent) for each in shares] == [
        ("category 1", 60_00, Decimal(60)),
        ("category 0", 25_00, Decimal(25)),
        ("category 2", 15_00, Decimal(15)),
    ]
    assert str(shares[0].line) == "line of category 1"


def test_of_three_equal_ones_the_first_takes_what_is_left() -> None:
    assert [each.share_percent for each in found(1, 1, 1).shares] == [Decimal("33.4"), Decimal("33.3"), Decimal("33.3")]


def test_where_more_came_back_than_was_spent_the_share_is_below_zero() -> None:
    assert [each.share_percent for each in found(110_00, -10_00).shares] == [Decimal(110), Decimal(-10)]


def test_without_a_whole_above_zero_there_is_no_share() -> None:
    assert [each.share_percent for each in found(5_00, -5_00).shares] == [None, None]
    assert found().shares == ()


@given(st.lists(st.integers(0, 10**9), min_size=1, max_size=20).filter(any))
def test_shares_add_up_to_a_hundred_and_amounts_to_the_whole(amounts: list[int]) -> None:
    shares = found(*amounts)
    assert sum(each.share_percent or 0 for each in shares.shares) == 100
    assert shares.total_cents == sum(amounts)
