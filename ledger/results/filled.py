"""Fill the form for a period: the year up to its last day, less the year up to the day before it begins."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from ledger.books.accounts import Account
from ledger.books.balances import movements, read_accounts
from ledger.books.before_books import STOOD_BEFORE, YearBefore, read_year_before
from ledger.books.books import Books
from ledger.periods import year_holding
from ledger.results.beside import BesideTheBooks, beside_before_the_books, read_beside_the_books
from ledger.results.form import Form, Receipts, Stock, fill, form_of
from ledger.results.lines import line_key
from ledger.results.method import ReturnMethod, read_method
from ledger.results.period import owed_tax_rise, read_statement
from ledger.results.stock import count_by

_NO_SALE = ("other_income", "sales_tax_allowance")
# Levels, not flows: at the beginning and at the end of whatever period is looked at.
_OPENING, _CLOSING, _SUM = "opening_inventory", "closing_inventory", "cost_of_goods_sum"


@dataclass(frozen=True)
class FilledForm:
    """A form on the cash method, and the figures beside the books that went into it, both of the period.

    before: what of it was before the books, None where nothing was.
    """

    form: Form
    miles: Decimal
    mileage_cents: int
    meals_left_out_cents: int
    notes: tuple[str, ...]
    before: Form | None = None


def read_form(books: Books, start: date, end: date, *, whole_year: bool = False) -> FilledForm:
    """The form of the days from start to end, which lie in one calendar year.

    A period shows what the books recorded; the whole year, so far or to its end, has what was before them too.
    """
    assert start.year == end.year, "a form is of one tax year"
    method = read_method(books, end)
    beside, form = _year_to(books, end, method)
    earlier = _before_the_books(books, start.year, method)
    if whole_year or (earlier is None and start == year_holding(start).start):
        part = earlier[1] if earlier is not None else None
        return FilledForm(form, beside.miles, beside.mileage_cents, beside.meals_left_out_cents, beside.notes, part)
    if start == year_holding(start).start:
        assert earlier is not None
        before, form_before = earlier
    else:
        before, form_before = _year_to(books, start - timedelta(days=1), method)
    return FilledForm(
        form_of(_difference(form.cents, form_before.cents)),
        beside.miles - before.miles,
        beside.mileage_cents - before.mileage_cents,
        beside.meals_left_out_cents - before.meals_left_out_cents,
        beside.notes,
    )


def _before_the_books(books: Books, year: int, method: ReturnMethod) -> tuple[BesideTheBooks, Form] | None:
    """The form of the part of the year before the books; None where nothing was told of it."""
    before = read_year_before(books, year)
    if not before.figures:
        return None
    beside = beside_before_the_books(books, before, method)
    expenses = _by_line({}, before, method)
    expenses["meals"] = expenses.get("meals", 0) - beside.meals_left_out_cents
    stock = Stock(0, 0) if method.wants_cost_of_goods else None
    return beside, fill(_receipts_of({}, before, 0), expenses, beside.home_cents, stock)


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
    expenses = _by_line(_expenses(books, start, end), read_year_before(books, end.year), method)
    added = {"car": beside.mileage_cents, "meals": -beside.meals_left_out_cents, "taxes_and_licenses": paid}
    for key, cents in added.items():
        expenses[key] = expenses.get(key, 0) + cents
    return beside, fill(
        _receipts(books, start, end, taken), expenses, beside.home_cents, _stock(books, start, end, method)
    )


def _receipts(books: Books, start: date, end: date, tax_taken_cents: int) -> Receipts:
    found = read_statement(books, start, end)
    by_role = {each.account.role: each.cents for each in found.income}
    return _receipts_of(by_role, read_year_before(books, end.year), found.income_cents() + tax_taken_cents)


def _receipts_of(by_role: Mapping[str | None, int], before: YearBefore, received_cents: int) -> Receipts:
    """received: income on the cash method, to which what was before the books comes."""
    sums = dict(by_role)
    for each in before.income:
        role = each.account.role if each.account is not None else None
        sums[role] = sums.get(role, 0) + each.cents
    other = sum(sums.get(role, 0) for role in _NO_SALE)
    returns = -sums.get("returns_and_allowances", 0)
    return Receipts(received_cents + before.income_cents - other + returns, returns, other)


def _expenses(books: Books, start: date, end: date) -> dict[Account, int]:
    return {each.account: each.cents for each in read_statement(books, start, end).expenses}


def _by_line(expenses: Mapping[Account, int], before: YearBefore, method: ReturnMethod) -> dict[str, int]:
    """Every expense category under the key of its line, but for the home's, which has a line of its own."""
    found = [*expenses.items(), *((each.account, each.cents) for each in before.expenses)]
    sums: dict[str, int] = {}
    for account, cents in found:
        assert account is not None, "an expense has its category"
        key = line_key(account, cost_of_goods=method.wants_cost_of_goods)
        if key != "home":
            sums[key] = sums.get(key, 0) + cents
    return sums


def _stock(books: Books, start: date, end: date, method: ReturnMethod) -> Stock | None:
    if not method.wants_cost_of_goods:
        return None
    opening, closing = count_by(books, start - timedelta(days=1)), count_by(books, end)
    return Stock(opening.cents if opening else 0, closing.cents if closing else 0)


def _tax_through_the_books(books: Books, start: date, end: date) -> tuple[int, int]:
    """Sales tax that was received, and what was paid over, in cents: where the law lays it on the seller."""
    payable = read_accounts(books)["sales_tax_payable"].id
    row = books.row(
        f"select coalesce(sum(-posting.cents), 0), coalesce(sum(-posting.cents) filter (where not {STOOD_BEFORE}), 0) "
        "from posting join entry on entry.number = posting.entry where account = ? and date between ? and ? "
        "and exists (select 1 from tax_line where tax_line.entry = entry.number)",
        (payable, start.isoformat(), end.isoformat()),
    )
    assert row is not None
    with_lines, by_sales = row
    paid = movements(books, start, end)[payable] + with_lines
    return by_sales - owed_tax_rise(books, start, end), paid
