"""The small workshop with jobs that ended: paid by check and by card, owed, a deposit too large, and a wrong tax."""

from __future__ import annotations

import sqlite3
from datetime import date
from pathlib import Path
from typing import Any

from ledger.actions import gift, take_money
from ledger.books.books import Books
from ledger.books.places import BOOKS_FILE
from tests import workshop as w
from tests.screens.small_books import TODAY, begin_small

# Jobs: 9 gone today, paid by two checks with a tip; 10 and 11 gone and owed by one customer; 12 gone, paid by card.
BY_CHECK, OWES_FIRST, OWES_SECOND, BY_CARD = 9, 10, 11, 12
# 13 is here with a deposit above what it comes to.
OVERPAID = 13
CERTIFICATE = "G-1001-05"
BEFORE = date(2026, 3, 16)


def begin_ended(folder: Path) -> Books:
    """A city rate was entered too late, so that every sale since February has too little tax."""
    books = begin_small(folder)
    early = w.on_day(books, BEFORE)
    w.add_to_price_list(early, "Ruler work", "hour", "30")
    by_check = w.job_for(early, lines=["Binding"], customer="Jo Adair")
    first = w.job_for(early, lines=["Binding"], customer="Kit Lane")
    second = w.job_for(early, lines=["Batting"], customer="Kit Lane")
    by_card = w.job_for(early, lines=["Edge-to-edge"], customer="Lou Mercer")
    overpaid = w.job_for(early, lines=["Batting"], customer="Max Noor")
    w.deposit(early, overpaid, "40.00", "cash")
    take_money.take_deposit(early, take_money.MoneyRequest(by_check.id, 10_00, "check", number="1018"))
    w.picked_up(early, first, "owed")
    w.picked_up(early, by_card, "card", fee="1.10")
    today = w.on_day(books, TODAY)
    w.picked_up(today, second, "owed")
    w.picked_up(today, by_check, "check", number="1021", tip="5.00")
    gift.perform(today, gift.GiftRequest(75_00, "card", "Fay Lund"))
    w.add_rate(today, "Manhattan city", "0.5", date(2026, 2, 1))
    return today


def rows_of(books: Books) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table, read behind the program's back."""
    connection = sqlite3.connect(books.folder / BOOKS_FILE)
    try:
        names = [row[0] for row in connection.execute("select name from sqlite_schema where type = 'table'")]
        return {name: sorted(connection.execute(f"select * from {name}").fetchall(), key=repr) for name in names}
    finally:
        connection.close()
