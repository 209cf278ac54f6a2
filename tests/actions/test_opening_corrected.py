"""What was told of the first day and then given up, paid out, or undone because it was wrong."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import card_payout, change_category, give_up, opening
from ledger.actions.opening_request import DebtBefore, DepositBefore, OpeningRequest
from ledger.books.before_books import read_year_before
from ledger.books.books import Books
from ledger.books.closing import close_period, reopen_period
from ledger.books.entries import read_entry
from ledger.books.prove import prove
from ledger.errors import NotPossible
from ledger.jobs.records import read_custody
from ledger.quarter.checks import run_checks
from ledger.quarter.late import read_late
from ledger.results.period import read_statement
from ledger.taxes.rules import answer_bad_debts
from tests import workshop as w

BEGUN, LATER = date(2026, 6, 15), date(2026, 8, 3)
QUARTER = (date(2026, 4, 1), date(2026, 6, 30))


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = w.begin_taxed(tmp_path / "books", BEGUN, opening_cents=1_250_00)
    later = w.on_day(opened, LATER)
    yield later
    assert w.purse_sums(later) == {"business": 0, "personal": 0}
    assert prove(later).findings == ()
    assert [each for each in run_checks(later, BEGUN, LATER) if not each.ok] == []
    opened.close()


def told(books: Books, request: OpeningRequest) -> int:
    return opening.perform(books, request)[1][0].number


def debt(cents: int = 105_30, tax: int | None = None) -> OpeningRequest:
    return OpeningRequest(debts=(DebtBefore("Ada Brook", cents, tax),))


def gave_up(books: Books) -> int:
    return give_up.perform(books, give_up.GiveUpRequest(1, "moved away"))[1].number


def test_the_tax_of_a_debt_given_up_is_hers_to_bear_and_no_charge(books: Books) -> None:
    told(books, debt())
    # 105.30 at 5.3 %: 5.30 of it is tax that was paid over before the books.
    assert w.lines_of(books, gave_up(books)) == w.written(
        "balances written off +100.00", "licenses and taxes +5.30", "owed by customers -105.30"
    )
    found = read_statement(books, LATER, LATER)
    assert (found.income_cents(), found.net_cents()) == (0, -5_30)


def test_the_tax_of_a_debt_given_up_is_claimed_by_the_rates_of_the_first_day(books: Books) -> None:
    with books.writing() as write:
        answer_bad_debts(books, write, True, "the revenue office")
    told(books, debt())
    w.pay(books, 1, "52.65", "check")
    # Half of it is left: 50.00 and 2.65, of which the state's 4.3 and the county's 1.0 have 2.15 and 0.50.
    assert w.lines_of(books, gave_up(books)) == w.written(
        "balances written off +50.00",
        "sales tax payable +2.15",
        "sales tax payable +0.50",
        "owed by customers -52.65",
    )
    w.pay(books, 1, "52.65", "cash")
    assert w.balance_of(books, "sales tax payable") == 0
    assert read_statement(books, LATER, LATER).income_cents() == 100_00


def test_tax_that_was_told_without_any_rate_is_borne(tmp_path: Path) -> None:
    books = w.begin(tmp_path / "others", BEGUN)
    with books.writing() as write:
        answer_bad_debts(books, write, True, "the revenue office")
    told(books, debt(40_00, 2_00))
    assert w.lines_of(books, gave_up(books)) == w.written(
        "balances written off +38.00", "licenses and taxes +2.00", "owed by customers -40.00"
    )
    books.close()


def test_what_is_undone_never_stood_there_on_any_day(books: Books) -> None:
    mirror = w.reversed_entry(books, told(books, debt()))
    assert read_entry(books, mirror).on == BEGUN
    told(books, debt(84_24))
    assert w.balance_of(books, "owed by customers", date(2026, 6, 30)) == 84_24
    # 84.24 / 1.053 is 80.00
    bridge = read_statement(books, *QUARTER).bridge
    assert (bridge.owed_before_cents, bridge.owed_after_cents) == (80_00, 80_00)


def test_what_is_undone_after_its_day_was_closed_goes_on_today(books: Books) -> None:
    entry = told(books, debt())
    close_period(books, *QUARTER)
    mirror = w.reversed_entry(books, entry)
    assert read_entry(books, mirror).on == LATER
    assert w.balance_of(books, "owed by customers", date(2026, 6, 30)) == 105_30


def test_what_is_told_after_a_packet_was_handed_over_is_late(books: Books) -> None:
    close_period(books, *QUARTER)
    reopen_period(books, QUARTER[0], "the cash box was forgotten")
    entry = told(books, OpeningRequest(balances=(("cash_box", 60_00),)))
    assert [each.entry for each in read_late(books, *QUARTER)] == [entry]


def test_a_piece_whose_deposit_was_undone_is_not_in_the_house_twice(books: Books) -> None:
    fan = DepositBefore(50_00, None, "Cara Lind", "Fan", Decimal(60), Decimal(80), 400_00)
    request = OpeningRequest(deposits=(fan,))
    entry = told(books, request)
    with pytest.raises(NotPossible, match=f"The deposit of Cara Lind was told with entry {entry}"):
        told(books, request)
    w.reversed_entry(books, entry)
    with pytest.raises(NotPossible, match="That piece is job 1 already"):
        told(books, request)
    told(books, OpeningRequest(deposits=(DepositBefore(60_00, job=1),)))
    assert read_custody(books, LATER).value_cents == 400_00


def test_card_money_that_was_paid_out_is_told_anew_once_its_payout_is_undone(books: Books) -> None:
    told(books, OpeningRequest(balances=(("card_settlements", 45_20),)))
    payout = card_payout.perform(books, card_payout.PayoutRequest(44_00))[1].number
    anew = OpeningRequest(balances=(("card_settlements", 50_00),))
    with pytest.raises(NotPossible) as refused:
        told(books, anew)
    assert refused.value.do == f"Undo entry {payout} first, if it was a mistake too."
    w.reversed_entry(books, payout)
    told(books, anew)
    assert w.balance_of(books, "card settlements") == 50_00


def test_a_figure_told_anew_takes_the_place_of_a_merged_category_too(books: Books) -> None:
    change_category.add(books, change_category.NewCategoryRequest("silk thread"))
    opening.perform(books, OpeningRequest(expenses=(("silk thread", 100_00), ("thread", 50_00))))
    change_category.merge(books, change_category.MergeRequest("silk thread", "thread"))
    assert read_year_before(books, 2026).expenses_cents == 150_00
    opening.perform(books, OpeningRequest(expenses=(("thread", 20_00), ("silk thread", 5_00))))
    assert [(each.words, each.cents) for each in read_year_before(books, 2026).figures] == [("expenses, thread", 25_00)]


def test_a_debt_of_nothing_is_refused_as_that(books: Books) -> None:
    with pytest.raises(NotPossible, match="Ada Brook owed nothing"):
        told(books, debt(0))
