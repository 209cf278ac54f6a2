"""Fill the form for a period: the year up to its last day, less the year up to the day before it begins."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from ledger.books.balances import movements, read_accounts
from ledger.books.books import Books
from ledger.periods import year_holding
from ledger.results.beside import BesideTheBooks, read_beside_the_books
from ledger.results.form import Form, Receipts, Stock, fill, form_of
from ledger.results.lines import line_key
from ledger.results.method import ReturnMethod, read_method
from ledger.results.period import owed_tax, read_statement
from ledger.results.stock import count_by

_NO_SALE = ("other_income", "sales_tax_allowance")
# Levels, not flows: at the beginning and at the end of whatever period is looked at.
_OPENING, _CLOSING, _SUM = "opening_inventory", "closing_inventory", "cost_of_goods_sum"


@dataclass(frozen=True)
class FilledForm:
    """A form on the cash method, and the figures beside the books that went into it, both of the period."""

    form: Form
    miles: Decimal
    mileage_cents: int
    meals_left_out_cents: int
    notes: tuple[str, ...]


def read_form(books: Books, start: date, end: date) -> FilledForm:
    """The form of the days from start to end, which lie in one calendar year."""
    assert start.year == end.year, "a form is of one tax year"
    method = read_method(books, end)
    beside, form = _year_to(books, end, method)
    if start == year_holding(start).start:
        return FilledForm(form, beside.miles, beside.mileage_cents, beside.meals_left_out_cents, beside.notes)
    before, form_before = _year_to(books, start - timedelta(days=1), method)
    return FilledForm(
        form_of(_difference(form.cents, form_before.cents)),
        beside.miles - before.miles,
        beside.mileage_cents - before.mileage_cents,
        beside.meals_left_out_cents - before.meals_left_out_cents,
        beside.notes,
    )


def _difference(after: Mapping[str, int], before: Mapping[str, int]) -> dict[str, int]:
    """What a period adds to the form. Stock at its beginning is stock at the end of what was before."""
    moved = {key: after.get(key, 0) - before.get(key, 0) for key in (*after, *before)}
    bought = after.get(_SUM, 0) - after.get(_OPENING, 0) - (before.get(_SUM, 0) - before.get(_OPENING, 0))
    opening = before.get(_CLOSING, 0)
    return moved | {_OPENING: opening, _CLOSING: after.get(_CLOSING, 0), _SUM: opening + bought}


def _year_to(books: Books, end: date, method: ReturnMethod) -> tuple[BesideTheBooks, Form]:
    start = year_holding(end).start
    beside = read_beside_the_books(books, end, method)
    taken, paid = _tax_through_the_books(books, start, end) if method.tax_laid_on == "seller" else (0, 0)
    expenses = _expenses_by_line(books, start, end, method)
    added = {"car": beside.mileage_cents, "meals": -beside.meals_left_out_cents, "taxes_and_licenses": paid}
    for key, cents in added.items():
        expenses[key] = expenses.get(key, 0) + cents
    return beside, fill(
        _receipts(books, start, end, taken), expenses, beside.home_cents, _stock(books, start, end, method)
    )


def _receipts(books: Books, start: date, end: date, tax_taken_cents: int) -> Receipts:
    found = read_statement(books, start, end)
    by_role = {each.account.role: each.cents for each in found.income}
    other = sum(by_role[role] for role in _NO_SALE)
    returns = -by_role["returns_and_allowances"]
    return Receipts(found.income_cents() - other + returns + tax_taken_cents, returns, other)


def _expenses_by_line(books: Books, start: date, end: date, method: ReturnMethod) -> dict[str, int]:
    """Every expense category under the key of its line, but for the home's, which has a line of its own."""
    sums: dict[str, int] = {}
    for each in read_statement(books, start, end).expenses:
        key = line_key(each.account, cost_of_goods=method.wants_cost_of_goods)
        if key != "home":
            sums[key] = sums.get(key, 0) + each.cents
    return sums


def _stock(books: Books, start: date, end: date, method: ReturnMethod) -> Stock | None:
    if not method.wants_cost_of_goods:
        return None
    opening, closing = count_by(books, start - timedelta(days=1)), count_by(books, end)
    return Stock(opening.cents if opening else 0, closing.cents if closing else 0)


def _tax_through_the_books(books: Books, start: date, end: date) -> tuple[int, int]:
    """Sales tax that was received, and what was paid over, in cents: where the law lays it on the seller."""
    payable = read_accounts(books)["sales_tax_payable"].id
    by_sales = int(
        books.value(
            "select coalesce(sum(-posting.cents), 0) from posting join entry on entry.number = posting.entry "
            "where account = ? and date between ? and ? "
            "and exists (select 1 from tax_line where tax_line.entry = entry.number)",
            (payable, start.isoformat(), end.isoformat()),
        )
    )
    paid = movements(books, start, end)[payable] + by_sales
    still_owed = owed_tax(books, end) - owed_tax(books, start - timedelta(days=1))
    return by_sales - still_owed, paid
