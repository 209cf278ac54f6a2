"""Agreeing an account with its statement, a later change that shows, and the cash box counted."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.actions import agree
from ledger.bank.agreements import read_agreements
from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible
from tests.actions.bank_desk import DAY, placed, read_rows, undone
from tests.workshop import balance_of, begin, cents, lines_of, on_day, reversed_entry, spent, transferred, written


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    """500.00 in the bank; 2 spends 20.00 on the 8th, 3 puts 300.00 in on the 20th, 4 spends 66.00 on the 30th."""
    books = begin(tmp_path / "books", opening_cents=500_00)
    spent(on_day(books, date(2026, 1, 8)), "20.00", "thread", "checking")
    transferred(on_day(books, date(2026, 1, 20)), "put-in", "300.00", "household checking", "checking")
    spent(on_day(books, date(2026, 1, 30)), "66.00", "batting", "checking")
    yield on_day(books, DAY)
    assert prove(books).ok
    books.close()


def agreed(books: Books, ending: str, *, day: date | None = None, opened: tuple[int, ...] = ()) -> agree.Agreed:
    return agree.perform(books, agree.AgreeRequest("checking", cents(ending), False, day, opened))


def read_january(books: Books) -> None:
    read_rows(books, "2026-01-09,Corner shop,-20.00", "2026-01-20,Home,300.00")


def test_what_the_bank_has_not_seen_is_outstanding_and_the_rest_agrees(books: Books) -> None:
    read_january(books)
    done = agreed(books, "780.00")
    assert done.number == 1
    assert [(each.entry, each.cents) for each in done.found.outstanding] == [(4, -66_00)]
    assert (done.found.adjusted_cents, done.found.balance_cents) == (714_00, 714_00)
    (kept,) = read_agreements(books)
    assert (kept.account, kept.day, kept.ending_cents, kept.changed) == ("checking", DAY, 780_00, ())


def test_it_is_printed_as_pdf_and_text(books: Books) -> None:
    read_january(books)
    done = agreed(books, "780.00")
    assert done.pdf is not None
    assert done.text is not None
    assert done.pdf.read_bytes().startswith(b"%PDF-")
    text = done.text.read_text(encoding="utf-8")
    for words in ("Bank reconciliation", "780.00", "66.00", "714.00", "not audited", "Entries through 4 "):
        assert words in text


def test_a_difference_keeps_nothing_and_prints_nothing(books: Books) -> None:
    read_january(books)
    done = agreed(books, "779.00")
    assert (done.number, done.found.difference_cents, done.pdf) == (None, -1_00, None)
    assert read_agreements(books) == ()
    assert list((books.folder / "receipts").glob("*")) == []


def test_lines_that_are_open_keep_it_from_agreeing_until_they_are_placed(books: Books) -> None:
    read_january(books)
    read_rows(books, "2026-01-31,Charge,-10.00")
    before = agreed(books, "770.00")
    assert (before.number, [each.line for each in before.found.to_enter]) == (None, [3])
    placed(books, 3, "category", "bank charges")
    assert agreed(books, "770.00").number == 1


def test_a_line_after_the_day_of_the_statement_does_not_count_yet(books: Books) -> None:
    read_rows(books, "2026-01-09,Corner shop,-20.00", "2026-01-22,Home,300.00")
    done = agreed(books, "480.00", day=date(2026, 1, 21))
    assert done.number == 1
    assert [each.entry for each in done.found.in_transit] == [3]


def test_without_any_statement_read_everything_counts_as_seen_but_what_she_names(books: Books) -> None:
    assert agreed(books, "714.00").number == 1
    assert agreed(books, "780.00", opened=(4,)).number == 2
    of_another_account = spent(books, "1.00", "thread", "cash box")
    with pytest.raises(NotPossible):
        agreed(books, "780.00", opened=(of_another_account,))
    with pytest.raises(NotFound):
        agreed(books, "780.00", opened=(99,))


def test_what_is_older_than_the_first_line_was_seen_or_not_as_the_balance_says(books: Books) -> None:
    read_rows(books, "2026-01-20,Home,300.00")
    seen, outstanding = agreed(books, "780.00"), agreed(books, "800.00")
    assert [each.entry for each in seen.found.outstanding] == [4]
    assert [each.entry for each in outstanding.found.outstanding] == [2, 4]
    assert (seen.number, outstanding.number) == (1, 2)


def test_what_is_of_an_earlier_month_counts_as_seen_unless_she_says_otherwise(books: Books) -> None:
    march = on_day(books, date(2026, 3, 31))
    spent(on_day(books, date(2026, 3, 10)), "5.00", "thread", "checking")
    read_rows(march, "2026-03-11,Corner shop,-5.00")
    assert agreed(march, "709.00").found.outstanding == ()
    assert [each.entry for each in agreed(march, "775.00", opened=(4,)).found.outstanding] == [4]


def test_an_entry_dated_into_what_was_agreed_shows(books: Books) -> None:
    read_january(books)
    agreed(books, "780.00", day=date(2026, 1, 25))
    spent(books, "5.00", "thread", "checking")
    assert read_agreements(books)[0].changed == ()
    late = spent(on_day(books, date(2026, 1, 22)), "5.00", "thread", "checking")
    assert read_agreements(books)[0].changed == (f"Entry {late} was dated into it since.",)


def test_a_match_undone_and_an_entry_reversed_show(books: Books) -> None:
    read_january(books)
    agreed(books, "780.00", day=date(2026, 1, 25))
    undone(books, 2)
    assert read_agreements(books)[0].changed == ("Entry 3 is not matched any more.", "Line 2 of the bank is open.")
    placed(books, 2, "entry", entries=(3,))
    assert read_agreements(books)[0].changed == ()
    reversed_entry(books, 3)
    assert "Entry 3 is not matched any more." in read_agreements(books)[0].changed


def test_what_was_outstanding_may_come_later_without_changing_it(books: Books) -> None:
    read_january(books)
    agreed(books, "780.00")
    february = on_day(books, date(2026, 2, 10))
    read_rows(february, "2026-02-02,Mill,-66.00")
    assert read_agreements(february)[0].changed == ()
    assert agreed(february, "714.00").number == 2


def test_a_card_owes_what_its_statement_says(books: Books) -> None:
    spent(on_day(books, date(2026, 1, 8)), "80.00", "thread", "workshop card")
    request = agree.AgreeRequest("workshop card", 80_00)
    assert agree.perform(books, request).number == 1
    assert agree.perform(books, agree.AgreeRequest("workshop card", 80_00, is_below_zero=True)).number is None


def test_an_overdrawn_account_is_said_to_be(books: Books) -> None:
    spent(books, "800.00", "thread", "checking")
    assert agree.perform(books, agree.AgreeRequest("checking", 86_00, is_below_zero=True)).number == 1


@pytest.mark.parametrize("account", ["household checking", "cash box", "thread"])
def test_accounts_without_a_statement_of_the_workshops_are_refused(books: Books, account: str) -> None:
    with pytest.raises(NotPossible):
        agree.preview(books, agree.AgreeRequest(account, 0))


def test_a_day_to_come_is_refused(books: Books) -> None:
    with pytest.raises(NotPossible):
        agree.preview(books, agree.AgreeRequest("checking", 0, day=date(2026, 2, 1)))


@pytest.mark.parametrize(("counted", "over"), [("103.00", 3_00), ("98.00", -2_00), ("100.00", 0)])
def test_the_cash_box_is_counted_over_or_short(books: Books, counted: str, over: int) -> None:
    transferred(on_day(books, date(2026, 1, 10)), "move", "100.00", "checking", "cash box")
    done = agree.count(books, agree.CountRequest(cents(counted)))
    assert done.over_cents == over
    assert balance_of(books, "cash box") == cents(counted)
    if over < 0:
        assert done.entry is not None
        assert lines_of(books, done.entry) == written("cash box -2.00", "cash over or short 2.00")
    assert (done.entry is None) == (over == 0)
    assert done.text is not None
    assert {3_00: "Over", -2_00: "Short", 0: "Over or short"}[over] in done.text.read_text(encoding="utf-8")
    (kept,) = read_agreements(books)
    assert (kept.account, kept.entry, kept.changed) == ("cash box", done.entry, ())


def test_cash_entered_later_for_a_day_before_the_count_shows(books: Books) -> None:
    agree.count(books, agree.CountRequest(0))
    late = spent(on_day(books, date(2026, 1, 29)), "1.00", "thread", "cash box")
    assert read_agreements(books)[0].changed == (f"Entry {late} was dated into it since.",)
