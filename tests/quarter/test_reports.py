"""Statements at any time say what the packet says, on the screen, on paper and as a list."""

from __future__ import annotations

import csv
from datetime import date
from io import StringIO
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.jobs.customers import customer_named
from ledger.periods import parse_period
from ledger.quarter.customer_table import customer_table
from ledger.quarter.reports import KINDS, read_report
from ledger.quarter.span import span_of
from tests.books.calling import done
from tests.workshop import begin_taxed, job_for, on_day, pay, picked_up, spent

Q1 = parse_period("2026-Q1")


@pytest.fixture
def books(tmp_path: Path) -> Books:
    begun = begin_taxed(tmp_path / "books", opening_cents=500_00)
    first = job_for(begun, "100.00")
    picked_up(on_day(begun, date(2026, 1, 20)), first, "owed")
    pay(on_day(begun, date(2026, 2, 3)), first, "60.00")
    pay(on_day(begun, date(2026, 4, 8)), first, "45.30")
    spent(on_day(begun, date(2026, 2, 10)), "20.00", "thread", "checking")
    return on_day(begun, date(2026, 4, 20))


def test_profit_and_loss_is_income_less_expenses_and_says_the_way_to_cash(books: Books) -> None:
    """100.00 charged, 5.30 tax; of 60.00 paid 56.98 are the charge and 3.02 the tax."""
    tables = {each.name: each for each in read_report(books, "profit-and-loss", Q1)}
    assert tables["income"].sum_of(1) == 56_98
    assert tables["net"].rows == (("net", 36_98),)
    assert tables["cash bridge"].sum_of(1) == 56_98
    accrual = {each.name: each for each in read_report(books, "profit-and-loss", Q1, accrual=True)}
    assert accrual["income"].sum_of(1) == 100_00
    assert "cash bridge" not in accrual


def test_a_customers_account_runs_from_what_was_owed_before_to_what_is_owed_now(books: Books) -> None:
    customer = customer_named(books, "Ada Holm")
    first = customer_table(books, customer, span_of(books, Q1))
    assert [(row[4], row[5]) for row in first.rows] == [(None, 0), (105_30, 105_30), (-60_00, 45_30)]
    second = customer_table(books, customer, span_of(books, parse_period("2026-Q2")))
    assert [(row[4], row[5]) for row in second.rows] == [(None, 45_30), (-45_30, 0)]


@pytest.mark.parametrize("kind", KINDS)
def test_every_statement_can_be_written_as_pdf_and_as_a_list_and_overwrites_nothing(
    books: Books, tmp_path: Path, kind: str
) -> None:
    books.close()
    pdf, listed = tmp_path / "a.pdf", tmp_path / "a.csv"
    words = ("report", kind, "2026-Q1", "--pdf", str(pdf), "--csv", str(listed))
    told = done(books.folder, "2026-04-20", *words)
    assert (told["pdf"], told["csv"]) == (str(pdf), str(listed))
    assert pdf.read_bytes().startswith(b"%PDF-")
    rows = list(csv.reader(StringIO(listed.read_bytes().decode(), newline="")))
    assert rows[0] == told["tables"][0]["columns"]
    before = pdf.read_bytes()
    with pytest.raises(AssertionError, match="is there already"):
        done(books.folder, "2026-04-20", *words)
    assert pdf.read_bytes() == before
