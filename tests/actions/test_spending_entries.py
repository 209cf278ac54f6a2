"""What a receipt and a passage between the purses book, each entry whole, in both purses."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible, NotUnderstood
from tests.workshop import (
    balance_of,
    begin,
    crossing_sum,
    entries_of,
    lines_of,
    on_day,
    purse_sums,
    reversed_entry,
    spent,
    transferred,
    written,
)

TENTH, FIFTEENTH = date(2026, 1, 10), date(2026, 1, 15)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books", opening_cents=1_000_00)
    yield opened
    assert purse_sums(opened) == {"business": 0, "personal": 0}
    assert crossing_sum(opened) == 0
    opened.close()


def check(books: Books, entry: int, business: list[str], personal: list[str]) -> None:
    assert lines_of(books, entry) == written(*business)
    assert lines_of(books, entry, "personal") == written(*personal)


def test_a_receipt_of_the_workshop_alone_crosses_nothing(books: Books) -> None:
    check(books, spent(books, "80.00", "thread", "checking"), ["thread +80.00", "checking -80.00"], [])
    check(books, spent(books, "8.00", "postage", "cash box"), ["postage +8.00", "cash box -8.00"], [])


def test_a_mixed_receipt_on_the_workshop_card_is_a_draw_for_the_household(books: Books) -> None:
    check(
        books,
        spent(books, "80.00", "thread", "workshop card", home="30.00"),
        ["thread +50.00", "owner's draws +30.00", "workshop card -80.00"],
        ["household spending +30.00", "workshop mirror -30.00"],
    )


def test_a_mixed_receipt_on_the_personal_card_is_a_contribution_for_the_workshop(books: Books) -> None:
    check(
        books,
        spent(books, "50.00", "thread", "personal card", home="30.00"),
        ["thread +20.00", "owner's contributions -20.00"],
        ["workshop mirror +20.00", "household spending +30.00", "personal card -50.00"],
    )


def test_a_receipt_on_the_personal_card_may_be_owed_to_her(books: Books) -> None:
    check(
        books,
        spent(books, "20.00", "thread", "personal card", owed=True),
        ["thread +20.00", "owed to owner -20.00"],
        ["workshop mirror +20.00", "personal card -20.00"],
    )


def test_a_mixed_receipt_of_the_household_owes_the_workshops_part_alone(books: Books) -> None:
    check(
        books,
        spent(books, "50.00", "thread", "household checking", home="30.00", owed=True),
        ["thread +20.00", "owed to owner -20.00"],
        ["workshop mirror +20.00", "household spending +30.00", "household checking -50.00"],
    )


def test_what_is_owed_to_her_is_paid_back(books: Books) -> None:
    spent(books, "20.00", "thread", "personal card", owed=True)
    check(
        books,
        transferred(books, "pay-back", None),
        ["owed to owner +20.00", "checking -20.00"],
        ["household checking +20.00", "workshop mirror -20.00"],
    )
    assert balance_of(books, "owed to owner") == 0


def test_a_shared_bill_that_the_workshop_paid_is_a_draw_for_the_rest(books: Books) -> None:
    check(
        books,
        spent(books, "80.00", "phone and internet", "checking", home="60.00"),
        ["phone and internet +20.00", "owner's draws +60.00", "checking -80.00"],
        ["household spending +60.00", "workshop mirror -60.00"],
    )


def test_a_receipt_for_the_household_alone_that_the_household_paid_crosses_nothing(books: Books) -> None:
    entry = spent(books, "30.00", "thread", "personal card", home="30.00")
    check(books, entry, [], ["household spending +30.00", "personal card -30.00"])


def test_a_receipt_for_the_household_alone_that_the_workshop_paid_is_a_draw(books: Books) -> None:
    check(
        books,
        spent(books, "30.00", "thread", "checking", home="30.00"),
        ["owner's draws +30.00", "checking -30.00"],
        ["household spending +30.00", "workshop mirror -30.00"],
    )


def test_money_is_put_in_and_drawn(books: Books) -> None:
    check(
        books,
        transferred(books, "put-in", "500.00", "household checking", "checking"),
        ["checking +500.00", "owner's contributions -500.00"],
        ["workshop mirror +500.00", "household checking -500.00"],
    )
    check(
        books,
        transferred(books, "draw", "300.00"),
        ["owner's draws +300.00", "checking -300.00"],
        ["household checking +300.00", "workshop mirror -300.00"],
    )


@pytest.mark.parametrize(
    ("amount", "source", "target"),
    [
        ("300.00", "cash box", "checking"),  # cash carried to the bank
        ("400.00", "checking", "tax savings"),  # set aside
        ("80.00", "checking", "workshop card"),  # the card is paid
        ("30.00", "household checking", "personal card"),
    ],
)
def test_money_moves_within_a_purse(books: Books, amount: str, source: str, target: str) -> None:
    lines = [f"{target} +{amount}", f"{source} -{amount}"]
    business = lines if target != "personal card" else []
    check(books, transferred(books, "move", amount, source, target), business, [] if business else lines)


@pytest.mark.parametrize(
    ("act", "source", "target"),
    [
        ("move", "checking", "household checking"),
        ("move", "household checking", "checking"),
        ("move", "checking", "checking"),
        ("move", "checking", "job income"),
        ("move", "sales tax payable", "checking"),
        ("move", "customer deposits", "checking"),
        ("move", "checking", "owner's draws"),
        ("move", "workshop mirror", "household checking"),
        ("draw", "household checking", "checking"),
        ("draw", "checking", "cash box"),
        ("draw", "checking", "household spending"),
        ("put-in", "checking", "household checking"),
        ("put-in", "household checking", "machine"),
    ],
)
def test_money_does_not_go_where_it_cannot(books: Books, act: str, source: str, target: str) -> None:
    with pytest.raises(NotPossible):
        transferred(books, act, "10.00", source, target)
    assert len(list(entries_of(books))) == 1


@pytest.mark.parametrize(
    ("category", "paid_from", "more"),
    [
        ("thread", "job income", {}),
        ("thread", "customer deposits", {}),
        ("thread", "owner's draws", {}),
        ("thread", "checking", {"owed": True}),
        ("thread", "checking", {"home": "80.01"}),
    ],
)
def test_a_receipt_that_cannot_be_is_refused(books: Books, category: str, paid_from: str, more: dict) -> None:  # type: ignore[type-arg]
    with pytest.raises(NotPossible):
        spent(books, "80.00", category, paid_from, **more)
    assert len(list(entries_of(books))) == 1


@pytest.mark.parametrize("category", ["machine", "household spending", "sales tax payable", "owner's draws", "thred"])
def test_what_is_no_expense_category_is_not_found_among_them(books: Books, category: str) -> None:
    with pytest.raises(NotFound):
        spent(books, "80.00", category, "checking")


def test_a_receipt_needs_a_shop(books: Books) -> None:
    with pytest.raises(NotUnderstood):
        spent(books, "80.00", "thread", "checking", why=" ")


class TestOwedToOwner:
    def test_no_more_is_paid_back_than_is_owed(self, books: Books) -> None:
        with pytest.raises(NotPossible, match="owes its owner"):
            transferred(books, "pay-back", None)
        spent(books, "20.00", "thread", "personal card", owed=True)
        with pytest.raises(NotPossible, match="20.00"):
            transferred(books, "pay-back", "20.01")
        transferred(books, "pay-back", "15.00")
        transferred(books, "pay-back", None)
        assert balance_of(books, "owed to owner") == 0

    def test_what_was_paid_back_later_is_not_paid_back_before_as_well(self, books: Books) -> None:
        spent(books, "20.00", "thread", "personal card", owed=True)
        transferred(on_day(books, FIFTEENTH), "pay-back", None)
        with pytest.raises(NotPossible):
            transferred(on_day(books, TENTH), "pay-back", None)
        assert balance_of(books, "owed to owner", FIFTEENTH) == 0

    def test_what_is_owed_only_later_is_not_paid_back_yet(self, books: Books) -> None:
        spent(on_day(books, FIFTEENTH), "20.00", "thread", "personal card", owed=True)
        with pytest.raises(NotPossible):
            transferred(on_day(books, TENTH), "pay-back", None)

    def test_a_receipt_reversed_after_it_was_paid_back_leaves_nothing_to_pay_back(self, books: Books) -> None:
        receipt = spent(books, "20.00", "thread", "personal card", owed=True)
        transferred(books, "pay-back", None)
        reversed_entry(books, receipt)
        for amount in (None, "5.00"):
            with pytest.raises(NotPossible, match="owes its owner"):
                transferred(books, "pay-back", amount)


def test_stock_that_was_bought_untaxed_is_kept_in_mind_at_the_workshops_part(books: Books) -> None:
    entry = spent(books, "50.00", "batting", "personal card", home="10.00", untaxed=True)
    spent(books, "10.00", "batting", "personal card", home="10.00", untaxed=True)
    assert [tuple(row) for row in books.rows("select entry, cents from untaxed_stock")] == [(entry, 40_00)]
    reversed_entry(books, entry)
    assert books.value("select sum(cents) from untaxed_stock") == 0


def test_a_receipt_entered_in_error_is_mirrored_in_both_purses(books: Books) -> None:
    entry = spent(books, "80.00", "thread", "workshop card", home="30.00")
    mirror = reversed_entry(on_day(books, TENTH), entry)
    check(
        books,
        mirror,
        ["thread -50.00", "owner's draws -30.00", "workshop card +80.00"],
        ["household spending -30.00", "workshop mirror +30.00"],
    )


def test_an_entry_is_not_reversed_before_its_own_day(books: Books) -> None:
    entry = spent(on_day(books, FIFTEENTH), "80.00", "thread", "checking")
    with pytest.raises(NotPossible, match="2026-01-15"):
        reversed_entry(on_day(books, TENTH), entry)
