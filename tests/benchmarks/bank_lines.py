"""10,000 lines of a statement read into books of 100,000 entries, after the file is parsed."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

from ledger.actions import read_statement
from ledger.actions.read_statement import ReadRequest
from ledger.bank.csv_file import CsvSaid
from ledger.bank.read_file import Expected, read_bank_file
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.books.drafts import Draft, postings
from ledger.books.entries import seal
from ledger.money import plain_amount
from tests.workshop import USD, begin, on_day

ENTRIES, LINES = 100_000, 10_000
FIRST, LAST = date(2024, 1, 1), date(2026, 11, 30)
# Of ten lines one is not in the books.
NEW_EVERY = 10


def measure() -> Iterator[str]:
    with tempfile.TemporaryDirectory(prefix="twopurse-bench-") as place:
        folder = Path(place)
        books = on_day(begin(folder / "books", FIRST, opening_cents=500_00), LAST)
        fill(books)
        file = folder / "bank.csv"
        file.write_text("\n".join(["Date,Description,Amount", *rows(), ""]), encoding="utf-8")
        started, used = time.perf_counter(), time.process_time()
        read_bank_file(file.read_bytes(), USD, CsvSaid(), Expected("checking"), LAST)
        parsed, parsing = time.perf_counter() - started, time.process_time() - used
        started, used = time.perf_counter(), time.process_time()
        done = read_statement.perform(books, ReadRequest(file, "checking"))
        read, reading = time.perf_counter() - started, time.process_time() - used
        matched = sum(each.state == "matched" for each in done.lines)
        books.close()
    yield f"{LINES} lines parsed in {parsed:.2f} s, {parsing:.2f} s of it on the processor"
    yield f"kept in books of {ENTRIES} entries, {matched} of them matched, in {read - parsed:.2f} s"
    yield f"that took {reading - parsing:.2f} s on the processor"


def fill(books: Books) -> None:
    """Small purchases from checking, some on every day, in one transaction."""
    accounts = read_accounts(books)
    with books.writing() as write:
        for number in range(ENTRIES):
            cents = cents_of(number)
            lines = postings((accounts["thread"], cents), (accounts["checking"], -cents))
            seal(books, write, Draft(on=day_of(number), kind="spend", text=f"Purchase {number}", postings=lines))


def rows() -> Iterator[str]:
    """The last entries as the bank has them, a day later, among lines that the books do not have."""
    for place in range(LINES):
        number = ENTRIES - LINES + place
        cents = cents_of(number) + (7 if place % NEW_EVERY == 0 else 0)
        day = min(day_of(number) + timedelta(days=1), LAST)
        yield f"{day.isoformat()},PURCHASE {number},-{plain_amount(cents, USD)}"


def day_of(number: int) -> date:
    return FIRST + timedelta(days=number * (LAST - FIRST).days // ENTRIES)


def cents_of(number: int) -> int:
    return 1_00 + number * 37 % 199_99
