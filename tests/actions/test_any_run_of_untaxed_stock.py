"""Untaxed stock bought, used, sold, given back and undone in any order: nothing of it is lost, and no tax turns."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ledger.actions import use_untaxed
from ledger.actions.use_untaxed import SoldRequest, UseRequest, WorkAnswerRequest
from ledger.books.balances import balance
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import Refused
from ledger.taxes.untaxed_stock import TAKEN, WORK
from ledger.taxes.untaxed_stock_records import read_lots, read_uses
from ledger.taxes.use_tax import read_use_tax
from tests.workshop import (
    FIRST_DAY,
    LAST_DAY,
    begin_taxed,
    copied,
    crossing_sum,
    on_day,
    purse_sums,
    reversed_entry,
    spent,
)

CATEGORIES = ("batting", "thread")
ACTS = st.one_of(
    st.tuples(st.just("buy"), st.integers(1, 90_00), st.sampled_from(CATEGORIES)),
    st.tuples(st.just("back"), st.integers(1, 60_00), st.sampled_from(CATEGORIES)),
    st.tuples(st.just("sold"), st.integers(1, 60_00), st.sampled_from(CATEGORIES)),
    st.tuples(st.just("own"), st.integers(1, 60_00), st.sampled_from(CATEGORIES)),
    st.tuples(st.just("sample"), st.integers(1, 60_00), st.sampled_from(CATEGORIES)),
    st.tuples(st.just("work"), st.integers(1, 60_00), st.sampled_from(CATEGORIES)),
    st.tuples(st.just("answer"), st.integers(0, 1), st.sampled_from(CATEGORIES)),
    st.tuples(st.just("undo"), st.integers(2, 9), st.none()),
    st.tuples(st.just("strike"), st.integers(1, 9), st.none()),
)


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    books = begin_taxed(tmp_path_factory.mktemp("begun") / "books", opening_cents=5_000_00)
    yield books.folder
    books.close()


@settings(max_examples=40)
@given(acts=st.lists(ACTS, min_size=4, max_size=16))
def test_whatever_is_done_it_adds_up(begun: Path, acts: list[tuple[str, int, str | None]]) -> None:
    with copied(begun) as books:
        for place, (act, number, category) in enumerate(acts):
            today = on_day(books, FIRST_DAY + timedelta(days=place))
            before = read_lots(today, LAST_DAY)
            try:
                do(today, act, number, category)
            except Refused:
                assert read_lots(today, LAST_DAY) == before, "what is refused changes nothing"
            check(books)
        assert prove(books).findings == ()


def do(books: Books, act: str, number: int, category: str | None) -> None:
    assert category is not None or act in ("undo", "strike")
    if act in ("buy", "back"):
        amount = f"{number // 100}.{number % 100:02d}"
        spent(books, amount, str(category), "checking", untaxed=True, is_back=act == "back")
    elif act == "sold":
        use_untaxed.perform_sold(books, SoldRequest(number, "for Ada", category))
    elif act == "answer":
        use_untaxed.answer(books, WorkAnswerRequest("use" if number else "resale", "the office", category))
    elif act == "undo":
        reversed_entry(books, number)
    elif act == "strike":
        use_untaxed.strike(books, number)
    else:
        use_untaxed.perform(books, UseRequest(number, "a quilt", act, category))  # type: ignore[arg-type]


def check(books: Books) -> None:
    assert purse_sums(books) == {"business": 0, "personal": 0}
    assert crossing_sum(books) == 0
    lots = read_lots(books, LAST_DAY)
    for lot in lots:
        parts = (lot.left_cents, lot.returned_cents, lot.cents_of("sold"), lot.cents_of(*WORK), lot.cents_of(*TAKEN))
        assert min(parts) >= 0, lot
        assert sum(parts) == lot.bought.cents
    told = sum(each.cents for each in read_uses(books, LAST_DAY))
    assert told == sum(sum(lot.gone.values()) for lot in lots), "each use stands on a purchase that stands"
    tax = read_use_tax(books, FIRST_DAY, LAST_DAY)
    assert tax.tax_cents == -balance(books, "use_tax_payable", LAST_DAY)
    assert min((each.tax_cents for each in tax.by_jurisdiction), default=0) >= 0
    assert tax.base_cents == sum(each.cents for each in read_uses(books, LAST_DAY) if each.entry is not None)
    without = [each for each in read_uses(books, LAST_DAY) if each.how == "work as use" and each.entry is None]
    assert max((each.cents for each in without), default=0) < 10, "only where the tax comes to nothing"
