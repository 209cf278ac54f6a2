"""A split amount adds up to the whole, each part is its exact share cut or raised to the next cent, and no more."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.money import largest_remainder, split_in_proportion

amounts = st.integers(min_value=-(10**14), max_value=10**14)
weights = st.lists(st.integers(min_value=0, max_value=10**12), min_size=1, max_size=12)


@pytest.mark.parametrize(
    ("total", "shares", "parts"),
    [
        (100, (1, 1, 1), [34, 33, 33]),  # of equal remainders the earlier part comes first
        (-100, (1, 1, 1), [-34, -33, -33]),
        (10_000, (13_544, 983), [9_323, 677]),  # a part payment over charge and tax
        (5, (0, 0), [3, 2]),
        (7, (0, 1, 0), [0, 7, 0]),
        (0, (3, 4), [0, 0]),
        (1, (1, 1_000_000), [0, 1]),
    ],
)
def test_a_split_is_the_one_worked_out_by_hand(total: int, shares: tuple[int, ...], parts: list[int]) -> None:
    assert split_in_proportion(total, shares) == parts


def test_the_tax_of_a_sale_is_split_by_the_exact_parts_and_not_by_the_rounded_whole() -> None:
    # 185.44 at 4.3 and 1.0 percent: the rounded 9.83 in proportion 43 : 10 would be 7.98 and 1.85.
    assert largest_remainder(983, [Fraction("797.392"), Fraction("185.44")]) == [797, 186]
    assert split_in_proportion(983, (43, 10)) == [798, 185]


@given(amounts, weights)
def test_the_parts_add_up_to_the_whole(total: int, shares: list[int]) -> None:
    assert sum(split_in_proportion(total, shares)) == total


@given(amounts, weights.filter(any))
def test_every_part_is_its_exact_share_cut_or_raised_to_the_next_cent(total: int, shares: list[int]) -> None:
    for part, weight in zip(split_in_proportion(total, shares), shares, strict=True):
        exact = Fraction(total * weight, sum(shares))
        assert floor(exact) <= part <= ceil(exact)


@given(amounts, weights.filter(any))
def test_a_part_that_is_raised_has_no_smaller_remainder_than_one_that_is_cut(total: int, shares: list[int]) -> None:
    size = abs(total)
    parts = split_in_proportion(size, shares)
    exact = [Fraction(size * weight, sum(shares)) for weight in shares]
    raised = [share - floor(share) for share, part in zip(exact, parts, strict=True) if part > share]
    cut = [share - floor(share) for share, part in zip(exact, parts, strict=True) if part < share]
    assert not raised or not cut or min(raised) >= max(cut)


@given(amounts, weights)
def test_a_refund_is_split_as_its_sale(total: int, shares: list[int]) -> None:
    assert split_in_proportion(-total, shares) == [-part for part in split_in_proportion(total, shares)]


@given(amounts, weights.filter(any))
def test_what_weighs_nothing_gets_nothing(total: int, shares: list[int]) -> None:
    parts = split_in_proportion(total, shares)
    assert all(part == 0 for part, weight in zip(parts, shares, strict=True) if weight == 0)


@given(st.integers(min_value=0, max_value=10**9), st.integers(min_value=1, max_value=12))
def test_equal_weights_differ_by_a_cent_at_most(total: int, count: int) -> None:
    parts = split_in_proportion(total, [1] * count)
    assert max(parts) - min(parts) <= 1
    assert parts == sorted(parts, reverse=True)


def test_parts_that_do_not_belong_to_their_total_are_a_defect() -> None:
    with pytest.raises(AssertionError):
        largest_remainder(100, [Fraction(10), Fraction(20)])
    with pytest.raises(AssertionError):
        split_in_proportion(100, [])
