"""A quarter of the example filed and paid by keyboard and by commands; the accounts agree before and after.

The example files its own quarters in the middle of the month after; the day here lies before that.
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.entries import Wanted, read_entries
from ledger.books.prove import prove
from ledger.money import plain_amount
from ledger.periods import parse_period
from ledger.taxes.filed_returns import read_filed
from ledger.taxes.returns import ReturnsBook
from ledger.taxes.tax_payable import tax_payable_off_cents, unfiled_and_unpaid
from tests.books.calling import done
from tests.screens.window import opened
from tests.taxes.filings import sheet_of, sold
from tests.workshop import add_rate, balance_of, cents, on_day, reopened
from tests.workshop_example import EXAMPLE_DAY, open_example

pytestmark = pytest.mark.slow

FILING_DAY = date(2026, 10, 10)
OLDEST = "2026-Q3"


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened_books = open_example(tmp_path / "books", FILING_DAY)
    yield opened_books
    opened_books.close()


async def by_keyboard(books: Books) -> list[str]:
    """The oldest return filed and paid from the quarter's room, with what stood on the screen on the way."""
    seen = []
    async with opened(books) as window:
        await window.press("5", "x")
        assert window.place == "WorksheetPage"
        seen.append(window.text())
        await window.press("f")
        assert window.place == "FileForm"
        seen.append(window.text())
        await window.press("ctrl+s")
        assert window.place == "WorksheetPage"
        seen.append(window.text())
        await window.press("y")
        assert window.place == "PayForm"
        await window.press("ctrl+s")
        assert window.place == "WorksheetPage"
        seen.append(window.text())
        await window.press("right", "escape")
        assert window.place == "QuarterRoom"
    return seen


def by_commands(books: Books) -> None:
    for words in ("worksheet", "file", "paid"):
        done(books.folder, FILING_DAY.isoformat(), "tax", words, OLDEST)
        owed = done(books.folder, FILING_DAY.isoformat(), "set-aside")["owed"]
        standing = [-balance_of(books, f"{kind} tax payable") for kind in ("sales", "use")]
        assert [cents(owed[key]) for key in ("sales_tax", "use_tax")] == standing


def booked(books: Books) -> list[tuple[str, str, list[tuple[str, int]]]]:
    """The entries of the day's filing and paying."""
    return [
        (each.kind, each.text, [(line.account.name, line.cents) for line in each.postings])
        for each in read_entries(books, Wanted(since=FILING_DAY))
        if each.kind.startswith("tax ")
    ]


def test_a_quarter_is_worked_out_filed_and_paid_by_keyboard(books: Books) -> None:
    before = -balance_of(books, "sales tax payable")
    owed = sheet_of(books, OLDEST).total_cents
    page, form, filed_page, paid_page = asyncio.run(by_keyboard(books))
    books = reopened(books.folder, FILING_DAY)
    assert f"Sales tax return {OLDEST}" in page
    assert "Not filed" in page
    assert "File the return of 2026-Q3" in form
    assert "Filed" in filed_page
    assert f"{plain_amount(owed, books.currency)}" in paid_page
    filed = read_filed(books)[-1]
    assert (filed.period, filed.left_cents) == (parse_period(OLDEST), 0)
    borne = sum(cents for _, _, lines in booked(books) for name, cents in lines if name == "licenses and taxes")
    assert -balance_of(books, "sales tax payable") == before + borne - owed
    assert tax_payable_off_cents(books, FILING_DAY) == 0
    assert prove(books).ok
    books.close()


def test_both_ways_book_the_same(books: Books, tmp_path: Path) -> None:
    asyncio.run(by_keyboard(books))
    books = reopened(books.folder, FILING_DAY)
    other = open_example(tmp_path / "other", FILING_DAY)
    by_commands(other)
    assert booked(other) == booked(books)
    assert [each.digest for each in read_filed(other)] == [each.digest for each in read_filed(books)]
    other.close()
    books.close()


def test_every_quarter_is_filed_and_nothing_is_left_but_the_running_one(books: Books) -> None:
    days = FILING_DAY.isoformat()
    for each in ReturnsBook(books).open_returns():
        if each.period.is_over(FILING_DAY):
            done(books.folder, days, "tax", "file", each.period.label)
            done(books.folder, days, "tax", "paid", each.period.label)
    found = unfiled_and_unpaid(books, FILING_DAY)
    assert (found.filed_cents, found.unreported_cents) == (0, 0)
    assert found.unfiled_cents == sheet_of(books, "2026-Q4").collected_cents
    assert -balance_of(books, "sales tax payable") - balance_of(books, "use tax payable") == found.cents
    assert prove(books).ok


def test_on_every_day_the_accounts_agree_with_the_returns(books: Books) -> None:
    day = books.settings.begun_on
    while day <= FILING_DAY:
        assert tax_payable_off_cents(books, day) == 0, day
        day += timedelta(days=37)


def test_a_rate_that_changes_in_the_middle_of_a_quarter_of_the_second_year_gives_two_lines(tmp_path: Path) -> None:
    """The county's rate once more, in the middle of the quarter that runs; sales before it keep the old one."""
    books = open_example(tmp_path / "changed")
    changed = EXAMPLE_DAY + timedelta(days=1)
    add_rate(on_day(books, EXAMPLE_DAY), "Saltmarrow county", "1.85", changed)
    sold(books, "200.00", changed)
    sheet = sheet_of(on_day(books, changed), "2026-Q4")
    county = [each for each in sheet.taxed if each.levy.name == "Saltmarrow county"]
    assert [each.percent for each in county] == [Decimal("1.6"), Decimal("1.85")]
    assert (county[1].taxable_cents, county[1].due_cents) == (200_00, 3_70)
    assert sum(each.taxable_cents for each in county) == sheet.taxable_cents
    books.close()


def test_the_returns_on_both_sides_of_the_change_have_the_rate_of_their_own_days(books: Books) -> None:
    by_label = {each.period.label: each.worksheet for each in read_filed(books)}
    assert '"Saltmarrow county","county","1.25"' in by_label["2025-Q4"]
    assert '"Saltmarrow county","county","1.6"' in by_label["2026-Q1"]
    assert '"1.6"' not in by_label["2025-Q4"]
    assert '"1.25"' not in by_label["2026-Q1"]
