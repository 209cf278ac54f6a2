"""What goes out: regular purchases, what the beginning cost, what broke, and receipts that touch both purses."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from random import Random
from typing import Any

from ledger.actions import reverse, spend, transfer
from ledger.books.books import Books
from ledger.example.data_files import cents, day_of, paper, read
from ledger.example.diary import Act, Diary
from ledger.example.seasons import busy_percent
from ledger.example.working_days import MONTHS_BACK, WorkingDays

_MISTAKE = "Entered with the digits of another line"


def regular_spending(diary: Diary, days: WorkingDays) -> None:
    """Write what comes round again into the diary, month by month."""
    draw = Random("regular spending")
    for told in read("spending")["regular"]:
        for month in range(told["start"], MONTHS_BACK + 1, told["every"]):
            due = days.month(month).start + timedelta(days=told["day"] - 1)
            amount = _drawn(told, busy_percent(days, due) if told.get("seasonal") else 100, draw)
            if due <= days.last:
                diary.write(days.on_or_after(due), _receipt(told, amount))


def single_receipts(diary: Diary, days: WorkingDays) -> None:
    """Write what was bought once into the diary, with its correction or its paying back."""
    for told in read("spending")["once"]:
        day = day_of(told["when"], days)
        if "entered_as" in told:
            seen_on = days.on_or_after(day + timedelta(days=1))
            entered = _Mistaken(told)
            diary.write(day, entered.enter)
            diary.write(seen_on, entered.put_right)
        else:
            diary.write(day, _receipt(told, cents(told["amount"])))
        if "paid_back" in told:
            diary.write(day_of(told["paid_back"], days), _pay_back)


def put_in_by_the_owner(diary: Diary, days: WorkingDays) -> None:
    for told in read("workshop")["put_in"]:
        request = transfer.TransferRequest(
            "put-in", cents(told["amount"]), "household checking", "checking", told["why"]
        )
        diary.write(day_of(told["when"], days), _transfer(request))


class _Mistaken:
    """A receipt entered with a wrong amount, then reversed and entered again."""

    def __init__(self, told: Mapping[str, Any]) -> None:
        self.told = told
        self.number = 0

    def enter(self, books: Books) -> None:
        self.number = _book(books, self.told, cents(self.told["entered_as"]))

    def put_right(self, books: Books) -> None:
        reverse.perform(books, reverse.ReverseRequest(self.number, _MISTAKE))
        _book(books, self.told, cents(self.told["amount"]))


def _drawn(told: Mapping[str, Any], percent: int, draw: Random) -> int:
    low, high = told["between"]
    return draw.randrange(low * 100, high * 100) * percent // 100


def _receipt(told: Mapping[str, Any], amount: int) -> Act:
    return lambda books: _book(books, told, amount)


def _transfer(request: transfer.TransferRequest) -> Act:
    return lambda books: transfer.perform(books, request)


def _pay_back(books: Books) -> None:
    transfer.perform(books, transfer.TransferRequest("pay-back", None, "checking", "household checking"))


def _book(books: Books, told: Mapping[str, Any], amount: int) -> int:
    """Book a receipt, with its paper where it was kept; the number of the entry."""
    with paper(told.get("document")) as document:
        request = spend.SpendRequest(
            amount_cents=amount,
            category=told["category"],
            paid_from=told["from"],
            who=told["who"],
            home_cents=cents(told.get("home", "0")),
            owed=told.get("owed", False),
            untaxed=told.get("untaxed", False),
            why=told.get("why"),
            document=document,
        )
        return spend.perform(books, request)[1].number
