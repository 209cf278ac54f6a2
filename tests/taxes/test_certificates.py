"""A customer is exempt on the days on which a certificate with a number is valid, and on no other."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.errors import NotPossible
from tests.workshop import add_customer, begin_taxed, job_for, on_day, picked_up, previewed

KEPT_ON, EXPIRES = date(2026, 2, 1), date(2026, 6, 30)
DAY = timedelta(days=1)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    yield opened
    opened.close()


def tax_and_warnings(books: Books, day: date) -> tuple[int, int]:
    taken_in = on_day(books, min(day, KEPT_ON))
    settled = previewed(on_day(books, day), job_for(taken_in, "100.00", customer="Guild of Saint Anne"), "cash")
    return settled.slip.tax_cents, len(settled.warnings)


@pytest.mark.parametrize(
    ("day", "tax", "warnings"),
    [(KEPT_ON, 0, 0), (EXPIRES, 0, 0), (EXPIRES + DAY, 5_30, 1), (date(2026, 4, 1), 0, 0)],
)
def test_it_counts_from_the_day_it_was_kept_to_its_last_day(books: Books, day: date, tax: int, warnings: int) -> None:
    add_customer(on_day(books, KEPT_ON), "Guild of Saint Anne", "religious", "KS-771", EXPIRES)
    assert tax_and_warnings(books, day) == (tax, warnings)


def test_before_the_day_it_was_kept_nobody_was_exempt(books: Books) -> None:
    add_customer(on_day(books, KEPT_ON), "Guild of Saint Anne", "religious", "KS-771", EXPIRES)
    assert tax_and_warnings(books, KEPT_ON - DAY)[0] == 5_30


def test_one_without_a_number_exempts_nobody_and_says_so(books: Books) -> None:
    add_customer(on_day(books, KEPT_ON), "Guild of Saint Anne", "religious")
    assert tax_and_warnings(books, KEPT_ON) == (5_30, 1)


def test_one_without_a_last_day_stays_valid(books: Books) -> None:
    add_customer(on_day(books, KEPT_ON), "Guild of Saint Anne", "charity", "KS-771")
    assert tax_and_warnings(books, date(2031, 1, 1)) == (0, 0)


def test_a_new_one_takes_the_place_of_the_one_before_from_its_own_day_on(books: Books) -> None:
    add_customer(on_day(books, KEPT_ON), "Guild of Saint Anne", "religious", "KS-771", EXPIRES)
    add_customer(on_day(books, date(2026, 6, 1)), "guild of saint  anne", "religious", "KS-772", date(2027, 6, 30))
    assert tax_and_warnings(books, date(2026, 12, 1)) == (0, 0)
    assert tax_and_warnings(books, date(2026, 5, 1)) == (0, 0), "the first one was valid in May"


def test_an_expiry_that_was_put_right_counts_as_it_was_put_right(books: Books) -> None:
    add_customer(on_day(books, KEPT_ON), "Guild of Saint Anne", "religious", "KS-771", date(2062, 6, 30))
    add_customer(on_day(books, KEPT_ON), "Guild of Saint Anne", "religious", "KS-771", EXPIRES)
    assert tax_and_warnings(books, EXPIRES + DAY) == (5_30, 1)


def test_one_that_has_run_out_already_is_refused(books: Books) -> None:
    with pytest.raises(NotPossible, match="ran out"):
        add_customer(on_day(books, EXPIRES + DAY), "Guild of Saint Anne", "religious", "KS-771", EXPIRES)


def test_the_sale_names_the_certificate_that_it_stands_on(books: Books) -> None:
    add_customer(books, "Guild of Saint Anne", "religious", "KS-771", EXPIRES)
    sale = picked_up(books, job_for(books, "100.00", customer="Guild of Saint Anne"), "cash").entry
    assert sale is not None
    row = books.row("select treatment, certificate, cents from slip_line where entry = ?", (sale.number,))
    assert row is not None
    assert tuple(row) == ("exempt", 1, 100_00)
    assert books.value("select count(*) from tax_line") == 0


def test_the_certificate_of_one_customer_exempts_no_other(books: Books) -> None:
    add_customer(books, "Guild of Saint Anne", "religious", "KS-771")
    assert previewed(books, job_for(books, "100.00", customer="Ada Holm"), "cash").slip.tax_cents == 5_30
