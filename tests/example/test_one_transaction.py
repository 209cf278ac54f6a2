"""Several acts in one transaction: all of them or none, which is how the example is written."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from ledger.actions import move_job, spend, transfer
from ledger.books.books import Books
from ledger.books.entries import Wanted, read_entries
from ledger.books.prove import prove
from ledger.errors import NotPossible
from tests import workshop

THREAD = spend.SpendRequest(20_00, "thread", "checking", "Corner shop")
DRAW = transfer.TransferRequest("draw", 30_00, "checking", "household checking")


@pytest.fixture
def books(tmp_path: Path) -> Books:
    return workshop.begin_taxed(tmp_path / "books", opening_cents=500_00)


def kinds(books: Books) -> list[str]:
    return [entry.kind for entry in read_entries(books, Wanted())]


def seen_by_another_window(books: Books) -> list[str]:
    other = workshop.reopened(books.folder, books.today)
    try:
        return kinds(other)
    finally:
        other.close()


def test_acts_of_several_days_are_kept_together_at_the_end(books: Books) -> None:
    with books.all_or_nothing() as together:
        spend.perform(together, THREAD)
        later = replace(together, clock=workshop.clock_of(books.today + timedelta(days=3)))
        transfer.perform(later, DRAW)
        assert seen_by_another_window(books) == ["opening"]
    assert seen_by_another_window(books) == ["opening", "spend", "draw"]
    assert prove(books).ok


def test_an_act_that_is_refused_undoes_the_others(books: Books) -> None:
    def acts() -> None:
        with books.all_or_nothing() as together:
            spend.perform(together, THREAD)
            move_job.perform(together, move_job.MoveRequest(workshop.job_for(together, "80.00").id, "in"))

    with pytest.raises(NotPossible):
        acts()
    assert kinds(books) == ["opening"]
    assert books.value("select count(*) from job") == 0


def test_an_act_that_failed_is_not_kept_where_somebody_caught_what_it_raised(books: Books) -> None:
    def acts() -> None:
        with books.all_or_nothing() as together:
            spend.perform(together, THREAD)
            with pytest.raises(RuntimeError), together.writing():
                raise RuntimeError

    with pytest.raises(AssertionError, match="a part failed"):
        acts()
    assert kinds(books) == ["opening"]
    assert prove(books).ok


def test_receipts_show_under_their_names_only_once_all_is_kept(books: Books) -> None:
    with books.all_or_nothing() as together:
        done = workshop.picked_up(together, workshop.job_for(together, "80.00"), "cash")
        assert not done.receipt.exists()
    assert done.receipt.exists()
    assert done.pdf.exists()


def test_no_receipt_is_left_of_a_transaction_that_was_not_kept(books: Books) -> None:
    def acts() -> None:
        with books.all_or_nothing() as together:
            workshop.picked_up(together, workshop.job_for(together, "90.00"), "cash")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        acts()
    assert list(books.folder.joinpath("receipts").iterdir()) == []


def test_afterwards_each_act_is_its_own_transaction_again(books: Books) -> None:
    with books.all_or_nothing() as together:
        spend.perform(together, THREAD)
    spend.perform(books, THREAD)
    assert seen_by_another_window(books) == ["opening", "spend", "spend"]
