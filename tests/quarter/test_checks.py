"""The checks of a period pass on books that were kept, and fail by the amount that somebody changed behind them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from ledger.books.prove import prove
from ledger.quarter.checks import run_checks
from tests.workshop import (
    add_customer,
    add_to_price_list,
    begin_taxed,
    deposit,
    job_for,
    on_day,
    pay,
    picked_up,
    reversed_entry,
    spent,
    tampered,
    transferred,
)

START, END = date(2026, 1, 1), date(2026, 3, 31)
BUSINESS, PERSONAL = "the business purse adds to zero", "the personal purse adds to zero"
SLIPS = "job income equals the slips"
TAX = "sales tax collected equals what its account took in"
DEPOSITS = "deposits held equal those of the jobs"
OWED = "owed by customers equals the open balances"
GIFTS = "gift certificates equal their list"
CARDS = "card money equals the payments not paid out"
PAYABLE = "tax payable equals the returns not filed or not paid"
CROSSING = "the workshop mirror equals the crossing accounts"


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Books]:
    """A quarter of work, with its end in March."""
    begun = begin_taxed(tmp_path_factory.mktemp("quarter") / "books", opening_cents=1_000_00)
    add_customer(begun, "Guild of Saint Anne", "religious", "KS-771")
    add_to_price_list(begun, "Quilting", "flat", "120")
    add_to_price_list(begun, "Batting", "inch", "0.45", "goods")
    opened = on_day(begun, date(2026, 3, 20))
    january = job_for(begun, lines=["Quilting", "Batting"])
    deposit(begun, january, "50.00")
    picked_up(on_day(begun, date(2026, 1, 20)), january, "card", fee="4.10", tip="5.00")
    march = job_for(opened, "185.44")
    deposit(opened, march, "50.00")
    picked_up(opened, march, "cash=40.00", "owed")
    pay(opened, march, "60.00")
    picked_up(opened, job_for(opened, "80.00", customer="Guild of Saint Anne"), "check")
    deposit(opened, job_for(opened, "30.00"), "10.00", "cash")
    wrong = picked_up(opened, job_for(opened, "44.00"), "cash").entry
    assert wrong is not None
    reversed_entry(opened, wrong.number)
    spent(opened, "80.00", "thread", "workshop card", home="30.00")
    spent(opened, "20.00", "backing", "personal card", owed=True)
    transferred(opened, "draw", "100.00")
    yield opened
    opened.close()


def failed(books: Books) -> dict[str, int]:
    return {each.name: each.off_cents for each in run_checks(books, START, END) if not each.ok}


def posting_of(role: str, kind: str) -> str:
    """The condition on the first posting of an account in the last entry of a kind."""
    return (
        f"where account = (select id from account where role = '{role}') "
        f"and entry = (select max(number) from entry where kind = '{kind}' and date >= '2026-03-01')"
    )


def test_the_checks_pass_on_books_that_were_kept(books: Books) -> None:
    checks = run_checks(books, START, END)
    assert {BUSINESS, PERSONAL, SLIPS, TAX, DEPOSITS, OWED, GIFTS, CARDS, CROSSING} <= {each.name for each in checks}
    assert failed(books) == {}
    assert prove(books).ok


def test_they_pass_on_every_day_of_the_quarter_and_on_books_without_an_entry(books: Books, tmp_path: Path) -> None:
    for day in (date(2026, 1, 5), date(2026, 1, 20), date(2026, 2, 28), date(2026, 3, 20)):
        assert all(each.ok for each in run_checks(books, START, day))
    empty = begin_taxed(tmp_path / "empty")
    assert failed(empty) == {}
    empty.close()


# What somebody changes in the file, and the checks that fail by how much.
TAMPERING: list[tuple[str, dict[str, int]]] = [
    (f"update posting set cents = cents - 500 {posting_of('job_income', 'pickup')}", {BUSINESS: -500, SLIPS: -500}),
    (f"update posting set cents = cents + 25 {posting_of('checking', 'payment')}", {BUSINESS: 25}),
    (
        f"update posting set cents = cents + 11 {posting_of('owed_by_customers', 'payment')}",
        {BUSINESS: 11, OWED: 11},
    ),
    (
        f"update posting set cents = cents - 3 {posting_of('sales_tax_payable', 'pickup')} and line = 3",
        {BUSINESS: -3, TAX: -3, PAYABLE: 3},
    ),
    (
        f"update posting set cents = cents + 7 {posting_of('workshop_mirror', 'spend')}",
        {PERSONAL: 7, CROSSING: 7},
    ),
    (
        f"update posting set cents = cents - 9 {posting_of('owners_draws', 'draw')}",
        {BUSINESS: -9, CROSSING: -9},
    ),
    ("update slip_line set cents = cents + 300 where entry = 5 and line = 1", {SLIPS: 300}),
    ("update tax_line set cents = cents + 2 where entry = 5 and line = 1", {TAX: 2, PAYABLE: -2}),
    ("update owed_part set charge = charge + 13 where id = 1", {OWED: -13}),
    ("update entry set job = null where kind = 'deposit' and number = 2", {DEPOSITS: -50_00}),
    (
        "update month_total set cents = cents + 40 where month = '2026-01' "
        "and account = (select id from account where role = 'customer_deposits')",
        {BUSINESS: 40, DEPOSITS: 40},
    ),
    (
        "update month_total set cents = cents + 5 where month = '2026-01' "
        "and account = (select id from account where role = 'job_income')",
        {BUSINESS: 5, SLIPS: 5},
    ),
    ("delete from slip_line where entry = 5", {SLIPS: -185_44}),
    ("delete from owed_part", {OWED: 45_27}),
]


@pytest.mark.parametrize(("statement", "expected"), TAMPERING)
def test_a_row_that_was_changed_fails_its_check_by_that_amount_and_is_proved_bad(
    books: Books, statement: str, expected: dict[str, int]
) -> None:
    with tampered(books, statement) as changed:
        assert failed(changed) == expected
        assert not prove(changed).ok


def test_tax_paid_without_a_return_fails_the_check_of_the_returns_and_not_that_of_what_was_collected(
    books: Books,
) -> None:
    # Paying the state moves the account and has no tax lines; so does this pair, put there by hand.
    with tampered(
        books,
        "insert into entry (number, date, text, kind, version) values (99, '2026-03-30', 'paid over', 'filing', 1)",
        "insert into posting select 99, 1, id, purse, 500 from account where role = 'sales_tax_payable'",
        "insert into posting select 99, 2, id, purse, -500 from account where role = 'checking'",
    ) as changed:
        assert failed(changed) == {PAYABLE: -500}
