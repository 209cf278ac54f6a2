"""What setting aside and paying her own tax book, each entry whole, in both purses."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import move_to_savings, pay_estimated
from ledger.actions.move_to_savings import SetAsideRequest
from ledger.actions.pay_estimated import EstimatedTaxRequest
from ledger.books.books import Books
from ledger.books.entries import read_entry
from ledger.errors import NotFound, NotPossible
from ledger.results.period import read_statement
from ledger.taxes.own_returns import read_payments
from tests.workshop import (
    begin_taxed,
    crossing_sum,
    entries_of,
    job_for,
    lines_of,
    on_day,
    picked_up,
    purse_sums,
    reversed_entry,
    transferred,
    written,
)

DAY = date(2026, 2, 10)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = on_day(begin_taxed(tmp_path / "books", opening_cents=1_000_00), DAY)
    yield opened
    assert purse_sums(opened) == {"business": 0, "personal": 0}
    assert crossing_sum(opened) == 0
    opened.close()


def paid(books: Books, cents: int, account: str, **more: int) -> int:
    return pay_estimated.perform(books, EstimatedTaxRequest(cents, account, **more))[1].number


def test_estimated_tax_from_the_tax_savings_is_a_draw_that_the_household_spends(books: Books) -> None:
    transferred(books, "move", "600.00", "checking", "tax savings")
    entry = paid(books, 600_00, "tax savings", tax_year=2026, period=1)
    assert lines_of(books, entry) == written("owner's draws +600.00", "tax savings -600.00")
    assert lines_of(books, entry, "personal") == written("household spending +600.00", "workshop mirror -600.00")
    assert read_entry(books, entry).text == "Estimated tax 2026, period 1 of 4"


def test_estimated_tax_from_the_household_touches_its_purse_alone(books: Books) -> None:
    entry = paid(books, 600_00, "household checking")
    assert lines_of(books, entry) == []
    assert lines_of(books, entry, "personal") == written("household spending +600.00", "household checking -600.00")


@pytest.mark.parametrize("account", ["tax savings", "checking", "household checking", "personal card"])
def test_her_own_tax_is_never_an_expense_of_the_workshop(books: Books, account: str) -> None:
    before = read_statement(books, date(2026, 1, 1), DAY)
    paid(books, 600_00, account)
    assert read_statement(books, date(2026, 1, 1), DAY) == before


def test_a_payment_is_kept_with_its_tax_year_and_period_and_one_undone_is_not(books: Books) -> None:
    entry = paid(books, 600_00, "checking", tax_year=2026, period=3)
    assert [(each.entry, each.period, each.cents) for each in read_payments(books, 2026, DAY)] == [(entry, 3, 600_00)]
    reversed_entry(books, entry)
    assert read_payments(books, 2026, DAY) == ()


def test_it_is_paid_from_an_account_that_money_lies_in(books: Books) -> None:
    before = list(entries_of(books))
    with pytest.raises(NotPossible, match="Nothing is paid from «machine»"):
        paid(books, 600_00, "machine")
    with pytest.raises(NotFound, match="no account called «savngs»"):
        paid(books, 600_00, "savngs")
    assert list(entries_of(books)) == before


def test_setting_aside_moves_what_is_owed_to_tax_savings(books: Books) -> None:
    picked_up(books, job_for(books, "100.00"), "check")
    settled, sealed = move_to_savings.perform(books, SetAsideRequest())
    assert lines_of(books, sealed.number) == written("tax savings +5.30", "checking -5.30")
    assert (settled.cents, settled.lacking_cents) == (5_30, 0)
    with pytest.raises(NotPossible, match="Everything that is owed is set aside"):
        move_to_savings.perform(books, SetAsideRequest())


def test_setting_aside_takes_no_more_than_checking_has_and_says_what_is_lacking(books: Books) -> None:
    picked_up(books, job_for(books, "100.00"), "cash")
    transferred(books, "draw", "997.00")
    settled, _ = move_to_savings.perform(books, SetAsideRequest())
    assert (settled.cents, settled.lacking_cents) == (3_00, 2_30)
    with pytest.raises(NotPossible, match=r"Checking holds 0\.00"):
        move_to_savings.perform(books, SetAsideRequest())
    with pytest.raises(NotPossible, match=r"Checking holds 0\.00"):
        move_to_savings.perform(books, SetAsideRequest(1))
