"""What a period that is over asks about the banks."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from ledger.actions import agree
from ledger.books.books import Books
from ledger.quarter.bank_tables import bank_questions
from tests.actions.bank_desk import read_rows
from tests.workshop import begin, on_day, spent

QUARTER = date(2026, 1, 1), date(2026, 3, 31)


def asked(books: Books, day: date) -> list[str]:
    return list(bank_questions(on_day(books, day), *QUARTER))


def test_an_account_that_was_used_and_never_agreed_is_asked_for_once_the_period_is_over(tmp_path: Path) -> None:
    books = begin(tmp_path / "books", opening_cents=500_00)
    spent(on_day(books, date(2026, 1, 13)), "4.50", "thread", "checking")
    spent(on_day(books, date(2026, 1, 14)), "9.00", "thread", "workshop card")
    spent(on_day(books, date(2026, 1, 15)), "2.00", "thread", "cash box")
    assert asked(books, date(2026, 3, 31)) == []
    over = date(2026, 4, 2)
    assert asked(books, over) == ["Not held against a statement of the bank in this period: checking, workshop card."]
    agree.perform(on_day(books, over), agree.AgreeRequest("checking", 495_50, day=date(2026, 3, 31)))
    assert asked(books, over) == ["Not held against a statement of the bank in this period: workshop card."]
    assert list(bank_questions(on_day(books, date(2026, 7, 2)), date(2026, 4, 1), date(2026, 6, 30))) == []
    read_rows(on_day(books, over), "2026-03-30,Charge,-8.00")
    assert asked(books, over)[0] == "1 bank line is not placed, -8.00 together: what are they?"
    books.close()
