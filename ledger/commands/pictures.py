"""Commands for the pictures of a period: income by month, and expenses by category, drawn or in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from typing import TYPE_CHECKING, Any

import click

from ledger.commands.listening import month_words, plain_option, sentence
from ledger.commands.manners import Answer, Command, Session, amount_in, answers
from ledger.money import plain_percent
from ledger.periods import Period, parse_period, quarter_holding, year_holding

if TYPE_CHECKING:
    from ledger.results.by_category import ExpensesByCategory
    from ledger.results.by_month import IncomeByMonth, MonthIncome

_BAR, _WIDE_BAR = 20, 22


@click.command("by-month", cls=Command)
@click.argument("period", required=False)
@plain_option
@answers
def by_month(session: Session, period: str | None, plain: bool) -> Answer:
    """Income by month, beside the year before.

    On the cash method. PERIOD is 2026, 2026-Q1, 2026-03 or 2025-07..2026-06, in whole months; this year unless given.
    """
    from ledger.results.by_month import whole_months
    from ledger.results.by_month_record import read_income_by_month

    with session.books() as books:
        days = whole_months(parse_period(period) if period is not None else year_holding(session.today))
        found = read_income_by_month(books, days)
        amount = amount_in(books.currency)
        if found.is_empty:
            lines = [f"No income is in the books of {days.label}, or of the year before.", *_before(found, amount)]
        else:
            lines = list((_months_said if plain else _months_drawn)(found, days, amount))
        return Answer(_months_data(found, days, amount), lines)


def _months_data(found: IncomeByMonth, days: Period, amount: Callable[[int], str]) -> dict[str, Any]:
    def told(cents: int | None) -> str | None:
        return None if cents is None else amount(cents)

    return {
        "period": days.label,
        "method": "cash",
        "months": [
            {
                "month": _month(each.first_day),
                "income": told(each.cents),
                "year_before": told(each.year_before_cents),
                "so_far": each.is_running,
            }
            for each in found.months
        ],
        "total": amount(found.total_cents),
        "total_year_before": amount(found.year_before_cents),
        "before_books": amount(found.before_books_cents),
        "best_month": None if found.best is None else _month(found.best.first_day),
    }


def _months_said(found: IncomeByMonth, days: Period, amount: Callable[[int], str]) -> Iterator[str]:
    yield f"Income by month of {days.label}, on the cash method."
    for each in found.months:
        before = "" if each.year_before_cents is None else f", a year before {amount(each.year_before_cents)}"
        yield f"{_month_said(each, found.on, amount)}{before}."
    yield f"Together: {amount(found.total_cents)}."
    if found.has_year_before:
        yield f"The same months a year before: {amount(found.year_before_cents)}."
        whole = sum(each.year_before_cents or 0 for each in found.months)
        if whole != found.year_before_cents:
            yield f"A year before with the months that are still to come: {amount(whole)}."
    yield from _before(found, amount)
    if found.best is not None:
        yield f"The best month is {month_words(found.best.first_day)}."


def _month_said(each: MonthIncome, on: date, amount: Callable[[int], str]) -> str:
    month = month_words(each.first_day)
    if each.cents is not None:
        return f"{month}{', so far' if each.is_running else ''}: {amount(each.cents)}"
    return f"{month} is still to come" if each.first_day > on else f"{month} was before these books began"


def _months_drawn(found: IncomeByMonth, days: Period, amount: Callable[[int], str]) -> Iterator[str]:
    most = max(max(abs(each.cents or 0), abs(each.year_before_cents or 0)) for each in found.months)
    yield f"Income by month of {days.label}, on the cash method; right of it a year before"
    for each in found.months:
        now = "-" if each.cents is None else amount(each.cents)
        before = "" if each.year_before_cents is None else amount(each.year_before_cents)
        bars = (_bar(each.cents or 0, most, _BAR), _bar(each.year_before_cents or 0, most, _BAR))
        mark = "*" if each.is_running else " "
        yield f"{_month(each.first_day)}{mark}{now:>12}  {bars[0]:<{_BAR}}{before:>12}  {bars[1]}".rstrip()
    before = amount(found.year_before_cents)
    yield f"Together{amount(found.total_cents):>12}  {'in the same months':<{_BAR}}{before:>12}"
    yield from _before(found, amount)
    if found.running is not None:
        yield f"* so far, up to {found.on}"


@click.command("by-category", cls=Command)
@click.argument("period", required=False)
@plain_option
@answers
def by_category(session: Session, period: str | None, plain: bool) -> Answer:
    """Expenses by category, the largest first.

    PERIOD is a year, quarter, month or span; this quarter unless given.
    """
    from ledger.results.by_category_record import read_expenses_by_category

    with session.books() as books:
        days = parse_period(period) if period is not None else quarter_holding(session.today)
        found = read_expenses_by_category(books, days)
        amount = amount_in(books.currency)
        so_far = not days.is_over(session.today)
        if not found.shares:
            lines = [f"No expense is in the books of {days.label}.", *_before(found, amount)]
        else:
            title = f"Expenses of {days.label}{', so far' if so_far else ''}: {amount(found.total_cents)}"
            lines = list((_categories_said if plain else _categories_drawn)(found, title, amount))
        return Answer({"period": days.label, "so_far": so_far, **_categories_data(found, amount)}, lines)


def _categories_data(found: ExpensesByCategory, amount: Callable[[int], str]) -> dict[str, Any]:
    return {
        "categories": [
            {
                "category": each.category,
                "line": each.line.number,
                "line_confirmed": each.line.confirmed,
                "amount": amount(each.cents),
                "share": None if each.share_percent is None else plain_percent(each.share_percent),
            }
            for each in found.shares
        ],
        "total": amount(found.total_cents),
        "before_books": amount(found.before_books_cents),
    }


def _before(found: IncomeByMonth | ExpensesByCategory, amount: Callable[[int], str]) -> Iterator[str]:
    if found.before_books_cents:
        yield f"Before these books, and in no sum here: {amount(found.before_books_cents)}."


def _categories_said(found: ExpensesByCategory, title: str, amount: Callable[[int], str]) -> Iterator[str]:
    from ledger.results.by_category import LINES_NOT_CONFIRMED

    yield f"{title}."
    for each in found.shares:
        share = "" if each.share_percent is None else f", {each.share_percent:.1f} percent"
        yield sentence(f"{each.category}: {amount(each.cents)}{share}, line {each.line.number} of the form")
    yield from _before(found, amount)
    if any(not each.line.confirmed for each in found.shares):
        yield LINES_NOT_CONFIRMED


def _categories_drawn(found: ExpensesByCategory, title: str, amount: Callable[[int], str]) -> Iterator[str]:
    yield title
    most = max(abs(each.cents) for each in found.shares)
    for each in found.shares:
        share = "" if each.share_percent is None else f"{each.share_percent:.1f} %"
        bar = _bar(each.cents, most, _WIDE_BAR)
        yield f"{each.category[:24]:<25}{each.line.number:>5}{amount(each.cents):>13}{share:>9}  {bar}".rstrip()
    yield from _before(found, amount)


def _bar(cents: int, most: int, cells: int) -> str:
    """A bar in plain signs; one below zero begins with a minus."""
    long = max(1, round(abs(cents) * (cells - 1) / most)) if cents else 0
    return ("-" if cents < 0 else "") + "#" * long


def _month(day: date) -> str:
    return f"{day.year:04d}-{day.month:02d}"


COMMANDS = (by_month, by_category)
