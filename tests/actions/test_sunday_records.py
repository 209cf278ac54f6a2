"""Categories of her own, what was hers before, trips, documents, paid people, and what the quarter asks about them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from ledger.actions import attach, bring_in, count_stock, log_trip, share_bill, spend
from ledger.books.accounts import Account, Accounts
from ledger.books.balances import balance, read_accounts
from ledger.books.books import Books
from ledger.books.chart import BEGINNING_ACCOUNTS
from ledger.books.closing import close_period
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.machine.payback_record import read_payback
from ledger.quarter.questions import find_questions
from ledger.results.period import read_statement
from ledger.spending.categories import (
    add_category,
    bring_back_category,
    merge_category,
    rename_category,
    retire_category,
)
from ledger.spending.information_returns import read_people_paid, threshold
from ledger.spending.mileage import read_trips, take_trip_back
from ledger.spending.without_document import entries_without_document
from tests.workshop import (
    begin,
    crossing_sum,
    lines_of,
    on_day,
    purse_sums,
    spent,
    written,
)

TENTH, FIFTEENTH = date(2026, 1, 10), date(2026, 1, 15)
CHART = Accounts(
    Account(number, each.name, each.role, each.purse, each.kind, each.crosses)
    for number, each in enumerate(BEGINNING_ACCOUNTS, start=1)
)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin(tmp_path / "books", opening_cents=1_000_00)
    yield opened
    assert purse_sums(opened) == {"business": 0, "personal": 0}
    assert crossing_sum(opened) == 0
    assert prove(opened).ok
    opened.close()


def receipt(books: Books, cents: int, **more: Any) -> int:
    request = spend.SpendRequest(
        cents, more.pop("category", "thread"), more.pop("paid_from", "checking"), "Mill", **more
    )
    return spend.perform(books, request)[1].number


def shared(books: Books, *, of_the_home: bool = False, percent: str = "25", start: date = date(2026, 1, 1)) -> None:
    request = share_bill.BillRequest(
        name="the bill",
        category="phone and internet",
        percent=Decimal(percent),
        reason="hours",
        from_date=start,
        of_the_home=of_the_home,
        every="month",
    )
    share_bill.perform(books, request)


# Categories


def test_a_renamed_category_is_found_by_its_new_name_and_its_entries_stay(books: Books) -> None:
    entry = receipt(books, 10_00)
    with books.writing() as write:
        rename_category(books, write, read_accounts(books)["thread"], "Threads and bobbins")
    assert ("Threads and bobbins", 10_00) in lines_of(books, entry)
    receipt(books, 5_00, category="threads AND bobbins")
    with pytest.raises(NotFound):
        receipt(books, 5_00, category="thread")


def test_a_retired_category_takes_nothing_from_its_day_on_and_can_come_back(books: Books) -> None:
    later = on_day(books, TENTH)
    with later.writing() as write:
        retire_category(later, write, read_accounts(later)["postage"], TENTH)
    receipt(books, 5_00, category="postage")
    with pytest.raises(NotPossible, match="retired on 2026-01-10"):
        receipt(later, 5_00, category="postage")
    with later.writing() as write:
        bring_back_category(later, write, read_accounts(later)["postage"])
    receipt(later, 5_00, category="postage")


def test_a_merged_category_is_counted_under_the_other_in_every_figure(books: Books) -> None:
    with books.writing() as write:
        add_category(books, write, "hand dyed", "supplies")
    receipt(books, 7_00, category="hand dyed")
    receipt(books, 3_00)
    with books.writing() as write:
        accounts = read_accounts(books)
        merge_category(books, write, accounts.category("hand dyed"), accounts["thread"])
    expenses = {each.account.name: each.cents for each in read_statement(books, TENTH.replace(day=1), TENTH).expenses}
    assert expenses == {"thread": 10_00}
    assert ("thread", 1_00) in lines_of(books, receipt(books, 1_00, category="hand dyed"))


@pytest.mark.parametrize("name", ["thread", "  THREAD ", "checking", "household spending"])
def test_a_new_category_takes_no_name_that_an_account_has(books: Books, name: str) -> None:
    with pytest.raises(NotPossible, match="There is an account called"), books.writing() as write:
        add_category(books, write, name)


def test_what_the_program_books_to_by_itself_does_not_go_away(books: Books) -> None:
    with pytest.raises(NotPossible, match="by itself"), books.writing() as write:
        retire_category(books, write, read_accounts(books)["home_cost"], TENTH)


# What was hers before, trips, documents, paid helpers


def test_her_own_machine_enters_at_the_lesser_of_cost_and_worth_and_its_payback_cost_stays(books: Books) -> None:
    """postings.md, row 3."""
    sealed = bring_in.perform(books, bring_in.BringInRequest("the machine", 18_500_00, 9_000_00))
    assert lines_of(books, sealed.number) == written("machine +9,000.00", "owner's contributions -9,000.00")
    assert lines_of(books, sealed.number, "personal") == written(
        "workshop mirror +9,000.00", "household opening balance -9,000.00"
    )
    assert read_payback(books).cost_cents == 18_500_00


def test_supplies_worth_more_than_they_cost_enter_at_cost(books: Books) -> None:
    sealed = bring_in.perform(books, bring_in.BringInRequest("cones", 40_00, 55_00, "thread"))
    assert lines_of(books, sealed.number) == written("thread +40.00", "owner's contributions -40.00")


def test_a_trip_moves_no_money_and_can_be_struck_once(books: Books) -> None:
    before = balance(books, "checking", books.today)
    trip = log_trip.perform(books, log_trip.TripRequest(Decimal("12.4"), "the post office", "a parcel"))
    assert [each.miles for each in read_trips(books, books.today, books.today)] == [Decimal("12.4")]
    assert balance(books, "checking", books.today) == before
    with books.writing() as write:
        take_trip_back(books, write, trip)
    assert read_trips(books, books.today, books.today) == ()
    with pytest.raises(NotPossible, match="struck already"), books.writing() as write:
        take_trip_back(books, write, trip)


def test_figures_beside_the_books_stay_in_a_closed_period(books: Books) -> None:
    """A trip and a count of stock change the lines of a form as an entry does, so a closed period refuses them too."""
    inside, after = on_day(books, TENTH), on_day(books, date(2026, 2, 2))
    trip = log_trip.perform(inside, log_trip.TripRequest(Decimal("12.4"), "the post office", "a parcel"))
    close_period(after, date(2026, 1, 1), date(2026, 1, 31))
    closed = "closed through 2026-01-31"
    with pytest.raises(NotPossible, match=closed):
        log_trip.perform(inside, log_trip.TripRequest(Decimal(3), "the mill", "thread"))
    with pytest.raises(NotPossible, match=closed):
        log_trip.strike(after, log_trip.StrikeRequest(trip))
    with pytest.raises(NotPossible, match=closed):
        count_stock.perform(inside, count_stock.StockRequest(50_00))
    log_trip.perform(after, log_trip.TripRequest(Decimal(3), "the mill", "thread"))
    assert [each.id for each in read_trips(books, TENTH, TENTH)] == [trip]


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (b"%PDF-1.7 ...", "PDF"),
        (b"\x89PNG\r\n\x1a\n....", "PNG picture"),
        (b"\xff\xd8\xff\xe0....", "JPEG picture"),
        (b"hello\n", "text"),
        (b"\x00\x01\xfe\xff", "file of another kind"),
    ],
)
def test_a_document_is_what_its_content_says_whatever_its_name_says(
    books: Books, tmp_path: Path, content: bytes, kind: str
) -> None:
    file = tmp_path / "receipt.jpg"
    file.write_bytes(content)
    entry = receipt(books, 10_00)
    kept = attach.perform(books, attach.AttachRequest(file, entry=entry))
    assert kept.kind == kind
    assert (books.folder / "documents" / kept.digest).read_bytes() == content


def test_receipts_without_a_document_are_listed_above_a_limit_the_largest_first(books: Books, tmp_path: Path) -> None:
    small, large, proved = receipt(books, 9_00), receipt(books, 90_00), receipt(books, 50_00)
    file = tmp_path / "scan.pdf"
    file.write_bytes(b"%PDF-1.7")
    attach.perform(books, attach.AttachRequest(file, entry=proved))
    found = entries_without_document(books, books.today, books.today, 0)
    assert [each.entry for each in found] == [large, small]
    assert [each.entry for each in entries_without_document(books, books.today, books.today, 9_00)] == [large]


def test_a_document_belongs_to_one_thing_that_is_there(books: Books, tmp_path: Path) -> None:
    file = tmp_path / "scan.pdf"
    file.write_bytes(b"%PDF-1.7")
    with pytest.raises(NotUnderstood):
        attach.perform(books, attach.AttachRequest(file))
    with pytest.raises(NotFound):
        attach.perform(books, attach.AttachRequest(file, entry=99))
    with pytest.raises(NotFound):
        attach.perform(books, attach.AttachRequest(tmp_path / "gone.pdf", entry=1))


def test_a_helper_is_counted_by_the_year_and_the_threshold_is_that_years(books: Books) -> None:
    spent(books, "700.00", "paid helpers", "checking")
    assert [each.cents for each in read_people_paid(books, 2026)] == [700_00]
    assert read_people_paid(books, 2025) == ()
    assert (threshold(2025).dollars, threshold(2026).dollars) == (600, 2000)
    assert not threshold(2031).is_known


# What the quarter asks about it


def test_the_quarter_asks_for_documents_above_her_limit_and_for_what_is_owed_to_her(books: Books) -> None:
    receipt(books, 74_00)
    large = receipt(books, 76_00, paid_from="personal card", owed=True)
    asked = find_questions(books, date(2026, 1, 1), books.today)
    assert asked == (
        f"Without a document, above 75.00: 1 receipt, entries {large}.",
        "The workshop still owes its owner 76.00.",
    )


def test_the_quarter_asks_for_a_form_of_a_helper_who_was_paid_much(books: Books, tmp_path: Path) -> None:
    entry = receipt(books, 2_000_00, category="paid helpers")
    scan = tmp_path / "scan.pdf"
    scan.write_bytes(b"%PDF-1.7")
    attach.perform(books, attach.AttachRequest(scan, entry=entry))
    assert find_questions(books, date(2026, 1, 1), books.today) == (
        "Mill was paid 2000.00 this year: is a W-9 on file?",
    )


def test_the_quarter_asks_where_a_mileage_log_and_costs_of_a_car_stand_in_one_year(books: Books) -> None:
    with books.writing() as write:
        add_category(books, write, "fuel", "car")
    receipt(books, 30_00, category="fuel")
    assert find_questions(books, date(2026, 1, 1), books.today) == ()
    log_trip.perform(books, log_trip.TripRequest(Decimal(3), "the mill", "thread"))
    assert [each[:30] for each in find_questions(books, date(2026, 1, 1), books.today)] == [
        "There is a mileage log and the"
    ]
