"""Untaxed stock followed purchase by purchase: what is left, what comes off which, and that nothing is lost."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ledger.books.accounts import Account
from ledger.errors import NotFound, NotPossible
from ledger.money import Currency
from ledger.taxes.untaxed_stock import HOWS, TAKEN, WORK, Bought, Gone, Lot, Wanted, follow, pick

USD = Currency("USD", 2)
BATTING = Account(1, "batting", "batting", "business", "expense")
THREAD = Account(2, "thread", "thread", "business", "expense")


def bought(number: int, cents: int, category: Account = BATTING, who: str = "Mill", day: int | None = None) -> Bought:
    """A purchase whose row and entry have one number, on the day of that number unless another is given."""
    return Bought(number, number, date(2026, 1, day or number), who, category, cents)


def left(lots: tuple[Lot, ...]) -> list[int]:
    return [each.left_cents for each in lots]


def picked(lots: tuple[Lot, ...], cents: int, what: str = "some", **wanted: object) -> list[tuple[int, int]]:
    parts = pick(lots, Wanted(cents, what, **wanted), USD)  # type: ignore[arg-type]
    return [(each.lot.bought.entry, each.cents) for each in parts]


def test_what_is_left_is_what_was_bought_less_whatever_became_of_it() -> None:
    lots = follow([bought(1, 100_00)], [Gone(1, "sold", 30_00), Gone(1, "own", 20_00), Gone(1, "sold", -10_00)])
    assert left(lots) == [60_00]
    assert lots[0].cents_of("sold") == 20_00


def test_what_a_shop_takes_back_comes_off_its_own_newest_purchase() -> None:
    purchases = [bought(1, 50_00), bought(2, 50_00), bought(3, 50_00, who="Corner shop"), bought(4, -60_00)]
    assert left(follow(purchases, [])) == [40_00, 0, 50_00]


def test_what_is_used_already_does_not_go_back() -> None:
    assert left(follow([bought(1, 50_00), bought(2, 50_00), bought(3, -20_00)], [Gone(2, "own", 40_00)])) == [40_00, 0]


def test_what_a_shop_takes_back_of_another_category_leaves_this_one_alone() -> None:
    assert left(follow([bought(1, 50_00), bought(2, 20_00, THREAD), bought(3, -5_00, THREAD)], [])) == [50_00, 15_00]


def test_the_oldest_purchase_goes_first() -> None:
    lots = follow([bought(2, 30_00, day=1), bought(1, 30_00, day=5)], [])
    assert picked(lots, 40_00) == [(2, 30_00), (1, 10_00)]


def test_the_entry_that_bought_it_can_be_named() -> None:
    lots = follow([bought(1, 30_00), bought(2, 30_00)], [])
    assert picked(lots, 10_00, purchase=2) == [(2, 10_00)]
    with pytest.raises(NotFound, match="Entry 7 bought no stock untaxed"):
        picked(lots, 10_00, purchase=7)


def test_more_than_is_left_is_refused_with_what_is_left() -> None:
    lots = follow([bought(1, 30_00), bought(2, 20_00, THREAD)], [Gone(1, "own", 25_00)])
    with pytest.raises(NotPossible, match=r"Only 5.00 of batting that was bought untaxed is left"):
        picked(lots, 5_01, category=BATTING)
    with pytest.raises(NotPossible, match=r"Only 25.00 that was bought untaxed is left"):
        picked(lots, 25_01)
    with pytest.raises(NotPossible, match="Nothing that was bought untaxed is left"):
        picked((), 1)


def test_of_several_categories_the_one_that_its_words_name_is_meant() -> None:
    lots = follow([bought(1, 30_00), bought(2, 30_00, THREAD)], [])
    assert picked(lots, 10_00, "Thread for my niece") == [(2, 10_00)]
    assert picked(lots, 60_00, "all of it") == [(1, 30_00), (2, 30_00)]
    with pytest.raises(NotPossible, match="left of batting and thread") as refused:
        picked(lots, 10_00, "for my niece")
    assert refused.value.field == "category"


@given(
    costs=st.lists(st.tuples(st.integers(1, 500), st.sampled_from([BATTING, THREAD])), min_size=1, max_size=6),
    uses=st.lists(st.tuples(st.integers(1, 300), st.sampled_from(HOWS)), max_size=12),
    back=st.integers(0, 200),
)
def test_what_was_bought_is_left_or_sold_or_used_or_taken_or_back_at_the_shop(
    costs: list[tuple[int, Account]], uses: list[tuple[int, str]], back: int
) -> None:
    purchases = [bought(place, cents, category) for place, (cents, category) in enumerate(costs, start=1)]
    gone: list[Gone] = []
    for cents, how in uses:
        try:
            parts = pick(follow(purchases, gone), Wanted(cents, "batting"), USD)
        except NotPossible:
            continue
        assert sum(each.cents for each in parts) == cents
        gone += [Gone(each.lot.bought.id, how, each.cents) for each in parts]  # type: ignore[arg-type]
    spare = sum(each.left_cents for each in follow(purchases, gone) if each.bought.category == BATTING)
    if back and back <= spare:
        purchases.append(bought(9, -back))
    for lot in follow(purchases, gone):
        parts_of_it = (lot.left_cents, lot.cents_of("sold"), lot.cents_of(*WORK), lot.cents_of(*TAKEN))
        assert min(parts_of_it) >= 0
        assert sum(parts_of_it) + lot.returned_cents == lot.bought.cents
    returned = sum(each.returned_cents for each in follow(purchases, gone))
    assert returned == (back if back <= spare else 0)
