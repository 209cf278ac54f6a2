"""The first day: books, prices, sales tax; and what changes of these later on."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

from ledger.actions import begin
from ledger.books.books import Books
from ledger.example.data_files import DOLLARS, cents, day_of, rate_changes_on, read
from ledger.example.diary import Act, Diary, clock_of
from ledger.example.working_days import WorkingDays
from ledger.jobs.prices import add_price
from ledger.taxes import rules


def begin_the_books(folder: Path, days: WorkingDays) -> Books:
    """The books on their first day, with what was there before. Raises NotPossible, BooksNotUsable."""
    workshop = read("workshop")
    request = begin.BeginRequest(
        name=workshop["name"],
        currency=DOLLARS,
        machine_price_cents=cents(workshop["machine_price"]),
        machine_date=days.first - timedelta(days=workshop["machine_bought_days_before"]),
        opening_cents=cents(workshop["opening"]),
    )
    return begin.perform(folder, clock_of(days.first), request)


def first_day(diary: Diary, days: WorkingDays) -> None:
    """Write the rates, what the revenue office said beside the set-up list, and the price list into the diary."""
    taxes = read("taxes")
    for rate in taxes["rate"]:
        diary.write(days.first, _rate(rate, days.first))
    for answer in taxes["class"]:
        diary.write(day_of(answer["when"], days) if "when" in answer else days.first, _answer(answer, days))
    diary.write(days.first, _ways_of_the_state)
    for price in read("prices")["price"]:
        diary.write(days.first, _price(price))


def later_changes(diary: Diary, days: WorkingDays) -> None:
    """Write what changes later on: the county's rate from a new quarter, and the price list."""
    change = read("taxes")["change"]
    begins = rate_changes_on(days)
    told_on = begins - timedelta(days=change["entered_days_before"])
    diary.write(days.on_or_after(told_on), _rate(change, begins))
    for price in read("prices")["change"]:
        diary.write(days.in_month(price["month"], 1), _price(price))


def _rate(told: Mapping[str, Any], from_date: date) -> Act:
    def act(books: Books) -> None:
        with books.writing() as write:
            rules.add_rate(books, write, told["name"], Decimal(told["percent"]), from_date)

    return act


def _answer(told: Mapping[str, Any], days: WorkingDays) -> Act:
    until = days.month(told["through_month"]).end if "through_month" in told else None
    from_date = day_of(told["from"], days) if "from" in told else None

    def act(books: Books) -> None:
        with books.writing() as write:
            begins = from_date or books.today
            rules.answer_class(books, write, told["name"], told["taxed"], told["asked"], begins, until)

    return act


def _ways_of_the_state(books: Books) -> None:
    taxes = read("taxes")
    with books.writing() as write:
        rules.choose_method(books, write, "slip")
        rules.choose_sourcing(books, write, taxes["sourcing"], taxes["sourcing_asked"])
        rules.answer_bad_debts(books, write, taxes["bad_debt_tax_claimed"], taxes["bad_debt_tax_asked"])


def _price(told: Mapping[str, Any]) -> Act:
    def act(books: Books) -> None:
        least = cents(told.get("minimum", "0"))
        with books.writing() as write:
            add_price(books, write, told["name"], told["by"], Decimal(told["rate"]), told["class"], minimum_cents=least)

    return act
