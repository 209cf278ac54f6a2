"""What is owed, held, to move and free to draw, on books whose figures one can add up by hand."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.actions import gift, own_tax_choices
from ledger.books.books import Books
from ledger.set_aside.owed import Owed, read_set_aside, settle
from tests import workshop as w
from tests.set_aside.checks import check_set_aside

DAY = date(2026, 3, 10)
NOTHING = dict.fromkeys(
    (
        *("checking", "cash_box", "tax_savings", "card_settlements", "sales_tax_payable", "use_tax_payable"),
        *("customer_deposits", "gift_certificates", "workshop_card", "owed_to_owner"),
    ),
    0,
)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """5,000 in the bank, taxed at 5.3 %."""
    opened = w.begin_taxed(tmp_path / "books", opening_cents=5_000_00)
    yield w.on_day(opened, DAY)
    opened.close()


def say_percent(books: Books, percent: str, **two: bool) -> None:
    own_tax_choices.say_income_tax(books, own_tax_choices.IncomeTaxRequest(Decimal(percent), "Ann", **two))


def test_new_books_owe_nothing_and_all_the_money_is_free_before_income_tax(books: Books) -> None:
    found = check_set_aside(books)
    assert (found.owed, found.free_cents, found.held_cents, found.to_move_cents) == (Owed(), 5_000_00, 0, 0)
    assert found.is_before_income_tax
    assert found.next_due is None


def test_each_thing_that_is_owed_has_its_own_figure(books: Books) -> None:
    w.deposit(books, w.job_for(books, "80.00"), "20.00")
    w.picked_up(books, w.job_for(books, "100.00"), "check")
    w.spent(books, "30.00", "thread", "workshop card")
    w.spent(books, "12.00", "thread", "personal card", owed=True)
    gift.perform(books, gift.GiftRequest(50_00, "check"))
    found = check_set_aside(books).owed
    assert (found.sales_tax, found.deposits, found.cards, found.owed_to_owner) == (5_30, 20_00, 30_00, 12_00)
    assert found.gift_certificates == 50_00
    # Cash method: 100 earned, 20 and 50 received ahead, less 42: under the floor of 400.
    assert (found.self_employment, found.income_tax) == (0, 0)
    assert found.total_cents == 117_30


def test_her_own_tax_is_on_the_cash_method_profit_of_the_year(books: Books) -> None:
    say_percent(books, "12", with_state=True)
    w.picked_up(books, w.job_for(books, "10000.00"), "check")
    w.picked_up(books, w.job_for(books, "700.00"), "owed")  # not received, so no income yet
    w.spent(books, "1000.00", "thread", "checking")
    found = check_set_aside(books)
    # 9,000 x 92.35 % x 15.3 % = 1,271.6595; 12 % of 9,000.
    assert (found.owed.self_employment, found.owed.income_tax) == (1_271_66, 1_080_00)
    assert not found.is_before_income_tax
    assert found.free_cents == 5_000_00 + 10_530_00 - 1_000_00 - 567_10 - 1_271_66 - 1_080_00


def test_last_years_tax_stays_owed_until_its_return_is_settled(books: Books) -> None:
    say_percent(books, "12")
    w.picked_up(books, w.job_for(books, "10000.00"), "check")
    after = w.on_day(books, date(2027, 2, 1))
    found = check_set_aside(after)
    assert [each.tax_year for each in found.years] == [2026, 2027]
    assert (found.owed.self_employment, found.owed.income_tax) == (1_412_96, 1_200_00)
    assert "2027: no published figure for 2027 yet" in found.notes
    own_tax_choices.settle_year(after, own_tax_choices.SettledRequest(2026))
    assert check_set_aside(after).owed.self_employment == 0
    own_tax_choices.settle_year(after, own_tax_choices.SettledRequest(2026, settled=False))
    assert check_set_aside(after).owed.self_employment == 1_412_96


def test_card_money_on_its_way_is_shown_and_not_counted(books: Books) -> None:
    before = check_set_aside(books).money.total_cents
    w.picked_up(books, w.job_for(books, "100.00"), "card")
    found = check_set_aside(books)
    assert (found.money.card_money_cents, found.money.total_cents) == (105_30, before)


def test_an_account_that_stands_the_other_way_is_no_money_and_is_named(books: Books) -> None:
    w.transferred(books, "move", "40.00", "checking", "workshop card")
    found = check_set_aside(books)
    assert (found.owed.cards, found.free_cents) == (0, 4_960_00)
    assert found.on_the_other_side == {"cards": 40_00}
    assert "Workshop card: paid ahead, and not counted as money." in found.notes


@pytest.mark.parametrize(
    ("checking", "cash", "savings", "owed", "free", "short", "to_move"),
    [
        (100_00, 20_00, 0, 50_00, 70_00, 0, 50_00),
        (100_00, 0, 80_00, 50_00, 130_00, 0, 0),  # more is held than is owed
        (30_00, 0, 10_00, 50_00, 0, 10_00, 40_00),
        (-30_00, 0, 10_00, 50_00, 0, 70_00, 40_00),  # an overdrawn account
        (-30_00, 0, 0, 0, 0, 30_00, 0),
        (50_00, 0, 0, 50_00, 0, 0, 50_00),
    ],
)
def test_free_short_and_to_move(
    checking: int, cash: int, savings: int, owed: int, free: int, short: int, to_move: int
) -> None:
    money = {"checking": checking, "cash_box": cash, "tax_savings": savings, "sales_tax_payable": -owed}
    found = settle(NOTHING | money, on=DAY)
    assert (found.free_cents, found.short_cents, found.to_move_cents) == (free, short, to_move)


def test_a_currency_without_published_figures_says_so_and_keeps_the_percentage(tmp_path: Path) -> None:
    from ledger.money import Currency

    books = w.on_day(w.begin(tmp_path / "euro", currency=Currency("EUR", 2), opening_cents=1_000_00), DAY)
    say_percent(books, "20")
    w.picked_up(books, w.job_for(books, "1000.00"), "check")
    found = check_set_aside(books)
    assert (found.owed.self_employment, found.owed.income_tax) == (0, 200_00)
    assert any("US dollars alone" in note for note in found.notes)
    assert found.dues == (), "the dates of the Internal Revenue Service are none of hers"


@pytest.mark.parametrize("year", [2012, 2031])
def test_no_year_makes_it_crash(tmp_path: Path, year: int) -> None:
    books = w.begin(tmp_path / "books", date(year, 1, 5), opening_cents=1_000_00)
    w.picked_up(books, w.job_for(books, "900.00"), "check")
    found = check_set_aside(books)
    assert any(str(year) in note for note in found.notes)
    assert (found.owed.self_employment > 0) == (year == 2031)


def test_reading_it_writes_nothing(books: Books) -> None:
    w.picked_up(books, w.job_for(books, "100.00"), "check")
    before = books.connection.total_changes
    read_set_aside(books)
    assert books.connection.total_changes == before
