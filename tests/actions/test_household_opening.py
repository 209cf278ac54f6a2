"""The household's purse begins with what is in it: against its own opening balance, and nothing crosses."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from ledger.actions import let_go
from ledger.actions.open_household import HouseholdOpeningRequest, perform
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible
from ledger.spending.crossings import read_crossings
from tests.workshop import balance_of, begin, crossing_sum, lines_of, purse_sums, reversed_entry, spent, written


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books", opening_cents=1_000_00)
    yield opened
    assert purse_sums(opened) == {"business": 0, "personal": 0}
    assert crossing_sum(opened) == 0
    assert read_crossings(opened, opened.today, opened.today).items == ()
    assert prove(opened).ok
    opened.close()


def test_household_checking_begins_with_its_amount(books: Books) -> None:
    entry = perform(books, HouseholdOpeningRequest(2_400_00)).number
    assert lines_of(books, entry) == []
    assert lines_of(books, entry, "personal") == written(
        "household checking +2,400.00", "household opening balance -2,400.00"
    )


def test_the_personal_card_begins_with_what_is_owed_on_it(books: Books) -> None:
    entry = perform(books, HouseholdOpeningRequest(310_00, "Personal  Card")).number
    assert lines_of(books, entry, "personal") == written("personal card -310.00", "household opening balance +310.00")


def test_it_is_opened_once_and_again_after_it_was_undone(books: Books) -> None:
    first = perform(books, HouseholdOpeningRequest(2_400_00)).number
    perform(books, HouseholdOpeningRequest(10_00, "personal card"))
    with pytest.raises(NotPossible, match=f"opened by entry {first}"):
        perform(books, HouseholdOpeningRequest(1_00))
    reversed_entry(books, first)
    perform(books, HouseholdOpeningRequest(2_500_00))
    assert balance_of(books, "household checking") == 2_500_00


@pytest.mark.parametrize(
    ("account", "error"), [("checking", NotPossible), ("household spending", NotPossible), ("piggy bank", NotFound)]
)
def test_no_other_account_is_opened_so(books: Books, account: str, error: type[Exception]) -> None:
    with pytest.raises(error):
        perform(books, HouseholdOpeningRequest(1_00, account))


def test_what_is_owed_to_her_is_let_go_as_a_contribution_and_no_money_moves(tmp_path: Path) -> None:
    """postings.md, row 22."""
    books = begin(tmp_path / "others", opening_cents=1_000_00)
    spent(books, "20.00", "thread", "personal card", owed=True)
    entry = let_go.perform(books, let_go.LetGoRequest(15_00)).number
    assert lines_of(books, entry) == written("owed to owner +15.00", "owner's contributions -15.00")
    assert lines_of(books, entry, "personal") == []
    found = read_crossings(books, books.today, books.today)
    assert {(each.kind, each.cents, each.settled) for each in found.items} == {
        ("owed to owner", 20_00, False),
        ("contribution", 15_00, True),
        ("let go", 15_00, True),
    }
    assert found.owed_to_owner_cents == 5_00
    with pytest.raises(NotPossible, match="owes its owner 5.00"):
        let_go.perform(books, let_go.LetGoRequest(6_00))
    let_go.perform(books, let_go.LetGoRequest())
    assert read_crossings(books, books.today, books.today).owed_to_owner_cents == 0
    assert (purse_sums(books), crossing_sum(books), prove(books).ok) == ({"business": 0, "personal": 0}, 0, True)
    books.close()
