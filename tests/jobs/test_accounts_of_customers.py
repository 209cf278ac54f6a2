"""A customer's account on paper: every entry that moved what is owed, and what is open, in her own notation."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pypdf
import pytest

from ledger.books.books import Books
from ledger.jobs.account_sheet import read_account
from ledger.jobs.customers import customer_named
from ledger.jobs.printing import print_account
from tests.actions.endings import came_back, given_up, refunded, sold
from tests.workshop import begin_taxed, on_day, pay

FEBRUARY, MARCH = date(2026, 2, 10), date(2026, 3, 3)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


@pytest.fixture
def march(books: Books) -> Books:
    """A job that was paid, came back and was refunded in part; one that was given up; one of somebody else."""
    job = sold(books, "100.00", "owed")
    gone = sold(books, "50.00", "owed")
    sold(books, "20.00", "owed", customer="Ben Oort")
    february, march = on_day(books, FEBRUARY), on_day(books, MARCH)
    pay(february, job, "105.30")
    came_back(march, job, charge="10.00")
    refunded(march, job, "5.30", "owed")
    given_up(march, gone)
    return march


def test_every_move_of_what_she_owes_is_told_and_adds_to_what_is_open(march: Books) -> None:
    account = read_account(march, customer_named(march, "Ada Holm"))
    assert [(each.day, each.job, each.cents) for each in account.lines] == [
        (march.settings.begun_on, 1, 105_30),
        (march.settings.begun_on, 2, 52_65),
        (FEBRUARY, 1, -105_30),
        (MARCH, 1, 105_30),
        (MARCH, 1, 10_53),
        (MARCH, 1, -5_30),
        (MARCH, 2, -52_65),
    ]
    assert sum(each.cents for each in account.lines) == account.owed_cents == 110_53
    assert [(each.job, each.since, each.cents) for each in account.owed] == [(1, MARCH, 110_53)]


def test_the_account_of_an_earlier_day_is_that_days(march: Books) -> None:
    then = on_day(march, FEBRUARY)
    account = read_account(then, customer_named(then, "Ada Holm"))
    assert (account.owed_cents, [each.job for each in account.owed]) == (52_65, [2])


def test_on_paper_it_says_the_same_as_text_and_as_pdf(march: Books) -> None:
    printed = print_account(march, customer_named(march, "ada holm"))
    assert printed.name == "account-C-001-2026-03-03"
    pdf = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(printed.pdf)).pages)
    for text in (printed.text, pdf):
        assert "Ada Holm" in text
        assert "Ben Oort" not in text
        assert "$110.53" in text
        assert "Mar 3, 2026" in text
    assert "Job 1, Log cabin top: $110.53 since Mar 3, 2026." in " ".join(printed.text.split())


def test_who_owes_nothing_is_told_so(books: Books) -> None:
    sold(books, "10.00", "cash")
    printed = print_account(books, customer_named(books, "Ada Holm"))
    assert "Nothing is owed." in printed.text
