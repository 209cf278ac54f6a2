"""The four quarters add to the year to the cent, on every line, on both methods, with every figure beside the books."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from ledger.actions.choose_method import MethodRequest
from ledger.actions.choose_method import perform as choose
from ledger.actions.close_period import ReopenRequest, reopen
from ledger.books.books import Books
from ledger.books.settings import choose as keep_choice
from ledger.periods import Period, parse_period
from ledger.results.filled import read_form
from ledger.results.period import read_statement
from ledger.results.sold import by_customer_kind, by_month, by_place, by_work, read_sold
from ledger.results.stock import keep_count
from tests.workshop_example import open_example

YEARS = ("2024", "2025")
# Levels at the two ends of a period: they are no sums.
LEVELS = {"opening_inventory", "closing_inventory", "cost_of_goods_sum"}


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Books]:
    """The example's books, with stock counted, a room measured, and every choice of an accountant made."""
    opened = open_example(tmp_path_factory.mktemp("years") / "books")
    reopen(opened, ReopenRequest(parse_period("2024-Q4"), "to count stock of days that were closed"))
    with opened.writing() as write:
        for day, cents in (("2024-03-31", 410_00), ("2024-12-31", 380_55), ("2025-06-30", 291_10), ("2025-12-31", 333)):
            keep_count(opened, write, cents, date.fromisoformat(day))
        for key, value in (
            ("workshop area", "168 square feet"),
            ("home cost method", "simplified"),
            ("cost of goods sold", "yes"),
            ("sales tax is laid on", "seller"),
        ):
            keep_choice(write, key, value, date(2024, 1, 1), opened.today, "accountant")
    yield opened
    opened.close()


def quarters(year: str) -> list[Period]:
    return [parse_period(f"{year}-Q{number}") for number in (1, 2, 3, 4)]


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("accrual", [False, True], ids=["cash", "accrual"])
def test_income_expenses_and_net_of_the_quarters_add_to_the_year(books: Books, year: str, accrual: bool) -> None:
    whole = read_statement(books, parse_period(year).start, parse_period(year).end)
    parts = [read_statement(books, each.start, each.end) for each in quarters(year)]
    assert sum(each.income_cents(accrual=accrual) for each in parts) == whole.income_cents(accrual=accrual)
    assert sum(each.net_cents(accrual=accrual) for each in parts) == whole.net_cents(accrual=accrual)
    for line in (*whole.income, *whole.expenses):
        in_parts = [each for part in parts for each in (*part.income, *part.expenses)]
        assert sum(each.cents for each in in_parts if each.account.id == line.account.id) == line.cents


@pytest.mark.parametrize("year", YEARS)
def test_every_line_of_the_form_but_the_levels_of_stock_adds_to_the_year(books: Books, year: str) -> None:
    whole = read_form(books, parse_period(year).start, parse_period(year).end).form.cents
    parts = [read_form(books, each.start, each.end).form.cents for each in quarters(year)]
    assert {"home", "cost_of_goods", "taxes_and_licenses"} <= whole.keys()
    for key in {key for each in (whole, *parts) for key in each} - LEVELS:
        assert sum(each.get(key, 0) for each in parts) == whole.get(key, 0), key
    for each in (whole, *parts):
        goods = each.get("cost_of_goods_sum", 0) - each.get("closing_inventory", 0)
        assert goods == each.get("cost_of_goods_total", 0) == each.get("cost_of_goods", 0)
    for before, after in zip(parts, parts[1:], strict=False):
        assert after.get("opening_inventory", 0) == before.get("closing_inventory", 0), year
    assert parts[-1]["closing_inventory"] == whole["closing_inventory"] > 0


@pytest.mark.parametrize("year", YEARS)
def test_sales_add_to_the_same_however_they_are_cut_and_to_the_income_accounts(books: Books, year: str) -> None:
    period = parse_period(year)
    sold = read_sold(books, period.start, period.end)
    by_role = {each.account.role: each.cents for each in read_statement(books, period.start, period.end).income}
    total = by_role["job_income"] + by_role["returns_and_allowances"]
    for cut in (by_work(sold), by_month(sold), by_customer_kind(sold), by_place(sold)):
        assert sum(each.cents for each in cut) == total
    assert sum(each.cents for each in sold if each.is_refund) == by_role["returns_and_allowances"]


def test_a_tax_laid_on_the_seller_is_a_receipt_and_an_expense_and_leaves_the_profit_of_settled_years_alone(
    books: Books,
) -> None:
    """All that was taken in 2025 is in its receipts, whenever it was paid over: paying moves no receipt."""
    period = parse_period("2025")
    seller = read_form(books, period.start, period.end).form.cents
    taken = books.value(
        "select sum(cents) from tax_line join entry on entry.number = tax_line.entry where date between ? and ?",
        (period.start.isoformat(), period.end.isoformat()),
    )
    found = read_statement(books, period.start, period.end)
    other = sum(each.cents for each in found.income if each.account.role in ("other_income", "sales_tax_allowance"))
    returns = seller.get("returns", 0)
    in_line_1 = seller["gross_receipts"] - returns + other - found.income_cents()
    owed = books.value(
        "select sum(tax) from owed_part join entry on entry.number = owed_part.entry where date between ? and ?",
        (period.start.isoformat(), period.end.isoformat()),
    )
    assert in_line_1 == taken - (owed or 0)


def test_what_an_accountant_chose_holds_from_the_beginning_of_the_tax_year(books: Books) -> None:
    held = choose(books, MethodRequest("Ann Ledger", home="figure", figure="1200"))
    assert (held.home, held.home_figure_cents) == ("figure", 1_200_00)
    half = read_form(books, date(2026, 1, 1), date(2026, 6, 30)).form.cents
    assert half["home"] == min(600_00, max(0, half["tentative_profit"]))
    assert "home" in read_form(books, date(2025, 1, 1), date(2025, 12, 31)).form.cents, "2025 keeps its own method"
