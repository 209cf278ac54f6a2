"""A quote keeps its prices, shows the tax as of its day, and what is left to pay."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible
from ledger.jobs.printing import print_quote
from ledger.paper.plain import WIDTH
from ledger.paper.wrapping import terminal_columns
from tests.jobs.receipts_of_one_day import PICKUPS
from tests.paper.test_pdf import LIVELY, MARKUP, names_in, text_of
from tests.workshop import (
    FIRST_DAY,
    add_customer,
    add_rate,
    add_to_price_list,
    answer,
    begin,
    begin_taxed,
    deposit,
    job_for,
    move,
    on_day,
    picked_up,
)

LATER = FIRST_DAY + timedelta(30)


@pytest.fixture
def books(tmp_path: Path) -> Iterator[Books]:
    opened = begin_taxed(tmp_path / "books")
    add_to_price_list(opened, "Edge-to-edge", "area", "0.02")
    add_to_price_list(opened, "Wool batting", "inch", "0.35", "goods")
    yield opened
    opened.close()


def test_a_quote_reads_as_it_was_looked_over(books: Books) -> None:
    job = job_for(
        books,
        lines=["Edge-to-edge", "Wool batting"],
        status="booked",
        promised=date(2026, 2, 1),
        rush_percent=Decimal(20),
        minimum_cents=150_00,
        condition="Loose threads along one edge, and a faint stain near the label",
        may_collect="Her sister Ines",
    )
    deposit(books, job, "50.00")
    golden = Path(__file__).parent / "receipts" / "quote.txt"
    assert print_quote(on_day(books, date(2026, 1, 9)), 1).text == golden.read_text(encoding="utf-8")


def test_a_quote_keeps_its_prices(books: Books) -> None:
    job_for(books, lines=["Edge-to-edge"], status="booked")
    before = print_quote(books, 1)
    later = on_day(books, LATER)
    add_to_price_list(later, "Edge-to-edge", "area", "0.05")
    after = print_quote(later, 1)
    assert "4,320 sq in at 0.02" in after.text
    assert lines_with("$", before.text) == lines_with("$", after.text)
    assert "these are of Jan 5, 2026 and" in " ".join(after.text.split())


def test_the_tax_is_as_of_the_day_of_the_quote(books: Books) -> None:
    job_for(books, lines=["Edge-to-edge"], status="booked")
    later = on_day(books, LATER)
    add_rate(later, "Riley special district", "2.0", LATER)
    assert ("5.3% of $86.40" in print_quote(books, 1).text, "7.3% of $86.40" in print_quote(later, 1).text) == (
        True,
        True,
    )
    said = " ".join(print_quote(later, 1).text.split())
    assert "Sales tax goes by the rates and rules of the day of pickup. What is shown is as of Feb 4, 2026." in said


@pytest.mark.parametrize(("held", "to_pay"), [("50.00", "$40.98"), ("90.98", "$0.00"), ("100.00", "$0.00")])
def test_what_is_left_to_pay_is_the_total_less_the_deposit(held: str, to_pay: str, books: Books) -> None:
    job = job_for(books, lines=["Edge-to-edge"])
    deposit(books, job, held)
    text = print_quote(books, 1).text
    assert "".join(lines_with("To pay at pickup", text)).split()[-1] == to_pay
    assert ("is left, and held for" in text) == (held == "100.00")


def test_pickup_on_the_same_day_comes_to_what_was_quoted(tmp_path: Path) -> None:
    books = begin_taxed(tmp_path / "books")
    add_to_price_list(books, "Edge-to-edge", "area", "0.02", includes_tax=True)
    job = job_for(books, lines=["Edge-to-edge"], rush_percent=Decimal(15), minimum_cents=100_00)
    deposit(books, job, "20.00")
    quoted = print_quote(books, 1).text
    paid = picked_up(books, job, "cash").receipt.read_text(encoding="utf-8")
    books.close()
    pairs = (("Total expected", "Total"), ("To pay at pickup", "Due"), ("Subtotal", "Subtotal"))
    for on_quote, on_receipt in pairs:
        assert lines_with(on_quote, quoted)[0].split()[-1] == lines_with(on_receipt, paid)[0].split()[-1]


def test_an_exempt_customer_is_quoted_without_tax_and_with_the_certificate(books: Books) -> None:
    add_customer(books, "Quilts for Kids", exempt="charity", number="KS-4711", expires=FIRST_DAY)
    job_for(books, lines=["Edge-to-edge"], customer="Quilts for Kids")
    assert "Exempt from sales tax: charity, certificate\nKS-4711." in print_quote(books, 1).text
    assert "Sales tax expected" not in print_quote(books, 1).text
    assert "Sales tax expected" in print_quote(on_day(books, LATER), 1).text


def test_nothing_is_claimed_of_a_class_that_nobody_was_asked_about(tmp_path: Path) -> None:
    books = begin(tmp_path / "books")
    job_for(books, "40.00")
    text = print_quote(books, 1).text
    books.close()
    assert lines_with("expected", text) == ["Total expected                            $40.00"]
    assert [word for word in ("exempt", "not taxed", "no tax") if word in text.casefold()] == []
    assert "What is shown" not in text


@pytest.mark.parametrize(
    ("status", "title"),
    [("asked", "Quote for"), ("booked", "Quote for"), ("in-hand", "Intake form and quote for")],
)
def test_the_piece_being_here_makes_it_an_intake_form(status: str, title: str, books: Books) -> None:
    job_for(books, "40.00", status=status)
    printed = print_quote(books, 1)
    assert printed.text.splitlines()[1].startswith(f"{title} job 1")
    assert printed.name == "quote-job-1-2026-01-05"


def test_a_job_that_is_over_has_nothing_to_quote(books: Books) -> None:
    job = job_for(books, "40.00")
    move(books, job, "ready")
    assert print_quote(books, 1).text.splitlines()[1].startswith("Intake form")
    picked_up(books, job, "cash")
    with pytest.raises(NotPossible, match=r"Its receipt is printed with «twopurse receipt 1»\."):
        print_quote(books, 1)
    with pytest.raises(NotFound):
        print_quote(books, 2)


def test_a_taxed_class_without_a_rate_is_not_quoted(tmp_path: Path) -> None:
    books = begin(tmp_path / "books")
    answer(books, "work", True)
    job_for(books, "40.00")
    with pytest.raises(NotPossible, match="no rate is in force"):
        print_quote(books, 1)
    books.close()


def test_the_pdf_says_what_the_text_says_and_has_lines_to_sign_on(books: Books) -> None:
    job = job_for(books, lines=["Edge-to-edge", "Wool batting"], promised=date(2026, 2, 1), value=900_00)
    deposit(books, job, "50.00")
    printed = print_quote(books, 1)
    read = text_of(printed.pdf)
    written = printed.text.replace("-" * WIDTH, " ").replace("_" * 32, " ")
    assert [word for word in written.split() if word not in read] == []
    for word in ("Customer", "Date", "Promised for Feb 1, 2026", "Declared value $900.00"):
        assert word in read
    assert print_quote(books, 1) == printed


@pytest.mark.parametrize("text", [each.replace("\n", " ") for each in MARKUP])
def test_hostile_words_of_an_intake_stay_words(text: str, books: Books) -> None:
    job_for(books, "40.00", condition=text, may_collect=text)
    printed = print_quote(books, 1)
    assert names_in(printed.pdf) & LIVELY == set()
    assert text.split()[0] in text_of(printed.pdf)
    assert max(map(terminal_columns, printed.text.splitlines())) <= WIDTH


@pytest.mark.parametrize("name", ["in_euro", "in_yen"])
def test_a_quote_is_written_as_its_place_writes(name: str, tmp_path: Path) -> None:
    books, _ = PICKUPS[name](tmp_path / "books")
    job_for(books, "85" if name == "in_yen" else "85.00", value=90_000)
    text = print_quote(books, 2).text
    books.close()
    assert ("￥90,000" if name == "in_yen" else "900,00\N{NO-BREAK SPACE}€") in text


def lines_with(word: str, text: str) -> list[str]:
    return [line for line in text.splitlines() if word in line]
