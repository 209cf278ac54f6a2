"""Entries: sealed with everything they consist of or not at all, numbered without gaps, reversed by their mirror."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from ledger.books.accounts import Accounts
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.chain import head
from ledger.books.closing import close_period
from ledger.books.drafts import Draft, SlipLine, TaxLine, postings
from ledger.books.entries import Wanted, closed_through, read_entries, read_entry, reverse, seal
from ledger.books.prove import prove
from ledger.errors import NotFound, NotPossible
from tests.books import sample


def on_day(books: Books, day: date) -> Books:
    return replace(books, clock=sample.clock_on(day))


def draft_of(accounts: Accounts, *lines: tuple[str, int], on: date = sample.TODAY) -> Draft:
    return Draft(on, "other", "Invented", postings(*((accounts[role], cents) for role, cents in lines)))


def tips(books: Books, cents: int = 100, on: date = sample.TODAY) -> Draft:
    return draft_of(read_accounts(books), ("checking", cents), ("tips", -cents), on=on)


def test_an_entry_reads_back_as_it_was_sealed(books: Books) -> None:
    accounts = read_accounts(books)
    draft = replace(
        tips(books),
        who=1,
        job=1,
        belongs_on=date(2026, 3, 1),
        slip=(SlipLine("work", 100, "taxed"),),
        taxes=(TaxLine(1, "4.3", 100, 4),),
    )
    with books.writing() as write:
        sealed = seal(books, write, draft)
    entry = read_entry(books, sealed.number)
    assert (entry.number, entry.digest) == (16, sealed.digest)
    assert (entry.on, entry.belongs_on, entry.text, entry.kind) == (sample.TODAY, date(2026, 3, 1), "Invented", "other")
    assert (entry.job, entry.reverses, entry.reversed_by) == (1, None, None)
    assert [(each.account.role, each.cents) for each in entry.postings] == [("checking", 100), ("tips", -100)]
    assert entry.postings[0].account == accounts["checking"]
    assert prove(books).ok


def test_numbers_have_no_gaps_where_an_act_fails_in_between(books: Books) -> None:
    with books.writing() as write:
        assert seal(books, write, tips(books)).number == 16

    def fail() -> None:
        with books.writing() as write:
            seal(books, write, tips(books))
            raise NotPossible("No.", "Never mind.")

    with pytest.raises(NotPossible):
        fail()
    with books.writing() as write:
        assert seal(books, write, tips(books)).number == 17
    assert prove(books).ok


def test_several_entries_of_one_act_follow_each_other(books: Books) -> None:
    with books.writing() as write:
        numbers = [seal(books, write, tips(books, cents)).number for cents in (1, 2, 3)]
    assert numbers == [16, 17, 18]
    assert head(books.connection).number == 18
    assert prove(books).ok


@pytest.mark.parametrize(
    "lines",
    [
        [("checking", 100)],
        [],
        [("checking", 100), ("tips", -99)],
        [("checking", 100), ("household_checking", -100)],
        [("checking", 500), ("owners_contributions", -500)],
        [("workshop_mirror", 5), ("household_checking", -5)],
        [("checking", 10**14 + 1), ("tips", -(10**14) - 1)],
    ],
)
def test_a_draft_that_breaks_a_law_is_a_defect_of_ours(lines: list[tuple[str, int]], books: Books) -> None:
    draft = draft_of(read_accounts(books), *lines)
    with pytest.raises(AssertionError), books.writing() as write:
        seal(books, write, draft)
    assert head(books.connection).number == 15


def test_the_largest_amount_can_be_sealed(books: Books) -> None:
    with books.writing() as write:
        seal(books, write, tips(books, 10**14))
    assert prove(books).ok


def test_a_date_in_a_closed_period_is_refused_with_the_field(books: Books) -> None:
    assert closed_through(books) == date(2026, 1, 31)
    closed = "2026-01-31 lies in a period that was closed through"
    with pytest.raises(NotPossible, match=closed) as refusal, books.writing() as write:
        seal(books, write, tips(books, on=date(2026, 1, 31)))
    assert refusal.value.field == "on"
    with books.writing() as write:
        assert seal(books, write, tips(books, on=date(2026, 2, 1))).number == 16


def test_what_turns_up_late_goes_into_the_open_period_with_the_day_it_belongs_to(books: Books) -> None:
    with books.writing() as write:
        seal(books, write, replace(tips(books), belongs_on=date(2026, 1, 20)))
    assert read_entry(books, 16).belongs_on == date(2026, 1, 20)


def test_nothing_is_written_on_a_day_before_the_books_began(begun: Books) -> None:
    early = on_day(begun, date(2026, 1, 4))
    with pytest.raises(NotPossible, match="2026-01-04 lies before 2026-01-05"), early.writing():
        pytest.fail("a transaction was begun")


def test_periods_are_closed_in_order_and_when_they_are_over(books: Books) -> None:
    with pytest.raises(NotPossible, match="runs until"):
        close_period(books, date(2026, 2, 1), sample.TODAY)
    with pytest.raises(NotPossible, match="is closed already"):
        close_period(books, date(2026, 1, 1), date(2026, 1, 31))
    with pytest.raises(NotPossible, match="before this one is still open"):
        close_period(books, date(2026, 3, 1), date(2026, 3, 15))
    close_period(books, date(2026, 2, 1), date(2026, 2, 28))
    assert closed_through(books) == date(2026, 2, 28)
    assert prove(books).ok


def test_a_reversal_is_the_exact_mirror_with_its_slip_and_tax(books: Books) -> None:
    with books.writing() as write:
        sealed = reverse(books, write, 7, "wrong tax", sample.TODAY)
    first, mirror = read_entry(books, 7), read_entry(books, sealed.number)
    assert mirror.postings == tuple(replace(each, cents=-each.cents) for each in first.postings)
    assert (mirror.kind, mirror.reverses, mirror.job, mirror.who) == ("reversal", 7, first.job, first.who)
    assert (mirror.on, mirror.belongs_on, mirror.text) == (sample.TODAY, first.on, "Reversal of 7: wrong tax")
    assert first.reversed_by == sealed.number
    for table, amounts in (("slip_line", ["cents"]), ("tax_line", ["base", "cents"])):
        rows = [
            [dict(row) for row in books.rows(f"select * from {table} where entry = ? order by line", (number,))]
            for number in (7, sealed.number)
        ]
        assert len(rows[0]) >= 2
        for before, after in zip(*rows, strict=True):
            assert after == before | {"entry": sealed.number} | {name: -before[name] for name in amounts}
    assert prove(books).ok


@pytest.mark.parametrize(
    ("number", "day", "refusal"),
    [
        (10, sample.TODAY, "was reversed by entry 11 already"),
        (11, sample.TODAY, "is itself a reversal, of entry 10"),
        (12, date(2026, 2, 9), "Entry 12 is dated 2026-02-10"),
        (99, sample.TODAY, "There is no entry 99. Entries go from 1 to 15"),
    ],
)
def test_what_cannot_be_reversed_is_refused(number: int, day: date, refusal: str, books: Books) -> None:
    with pytest.raises((NotPossible, NotFound), match=refusal), books.writing() as write:
        reverse(books, write, number, "why", day)
    assert head(books.connection).number == 15


def test_a_long_reason_is_cut_to_what_a_text_holds(books: Books) -> None:
    with books.writing() as write:
        sealed = reverse(books, write, 12, "w" * 600, sample.TODAY)
    assert len(read_entry(books, sealed.number).text) == 500


@pytest.mark.parametrize(
    ("wanted", "numbers"),
    [
        (Wanted(), list(range(1, 16))),
        (Wanted(number=3), [3]),
        (Wanted(since=date(2026, 2, 10)), [12, 13, 14, 15]),
        (Wanted(through=date(2026, 1, 7)), [1, 2, 3]),
        (Wanted(since=date(2026, 2, 3), through=date(2026, 2, 6)), [9, 10, 11]),
        (Wanted(job=1), [3, 7, 8]),
        (Wanted(job=1, since=date(2026, 1, 15)), [7, 8]),
        (Wanted(number=99), []),
    ],
)
def test_entries_are_found_by_what_is_wanted(wanted: Wanted, numbers: list[int], books: Books) -> None:
    assert [each.number for each in read_entries(books, wanted)] == numbers


def test_entries_are_found_by_the_party_under_its_newest_name(books: Books) -> None:
    party = books.value("select party from customer where id = 2")
    found = read_entries(books, Wanted(party=party))
    assert [each.number for each in found] == [3, 7, 8]
    assert {each.who for each in found} == {"Ada Brook"}
