"""Stock bought without sales tax: her certificate with the suppliers, the state's answer, and what became of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ledger.actions import own_certificate, use_untaxed
from ledger.books.balances import read_accounts
from ledger.books.books import Books
from ledger.example.data_files import cents, day_of, read
from ledger.example.diary import Act, Diary
from ledger.example.working_days import WorkingDays
from ledger.periods import quarter_holding
from ledger.taxes.untaxed_stock_records import lots_to_use

_STEP_CENTS = 50


def untaxed_stock(diary: Diary, days: WorkingDays) -> None:
    """Write certificates, the answer, each quarter's look at the shelf, and what she took herself into the diary."""
    told = read("stock")
    for supplier in told["supplier"]:
        diary.write(day_of(supplier["when"], days), _give(supplier))
    diary.write(day_of(told["answer"]["when"], days), _answer(told["answer"]))
    for own in told["own"]:
        diary.write(day_of(own["when"], days), _take(own))
    for month, day in days.last_of_months():
        if month.end == quarter_holding(month.end).end:
            for shelf in told["shelf"]:
                diary.write(day, _look_at_the_shelf(shelf))


def _give(told: Mapping[str, Any]) -> Act:
    request = own_certificate.GiveRequest(told["name"], told["goods"])
    return lambda books: own_certificate.give(books, request)


def _answer(told: Mapping[str, Any]) -> Act:
    request = use_untaxed.WorkAnswerRequest(told["work"], told["asked"])
    return lambda books: use_untaxed.answer(books, request)


def _take(told: Mapping[str, Any]) -> Act:
    request = use_untaxed.UseRequest(cents(told["amount"]), told["what"], "own", told["category"])
    return lambda books: use_untaxed.perform(books, request)


def _look_at_the_shelf(told: Mapping[str, Any]) -> Act:
    def act(books: Books) -> None:
        category = read_accounts(books).category(told["category"])
        left = sum(each.left_cents for each in lots_to_use(books) if each.bought.category == category)
        sold = left * (100 - told["left_percent"]) // 100 // _STEP_CENTS * _STEP_CENTS
        if sold:
            use_untaxed.perform_sold(books, use_untaxed.SoldRequest(sold, told["what"], told["category"]))

    return act
