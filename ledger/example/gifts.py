"""The gift certificates that were sold, each known by whom it was sold to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ledger.actions import gift
from ledger.books.books import Books
from ledger.example.card_company import CardCompany
from ledger.example.data_files import cents, day_of, read
from ledger.example.diary import Act, Diary
from ledger.example.working_days import WorkingDays
from ledger.jobs.gift_certificates import read_certificates


def gifts_sold(diary: Diary, days: WorkingDays, company: CardCompany) -> None:
    """Write the sales into the diary."""
    for told in read("gifts")["gift"]:
        diary.write(day_of(told["when"], days), _sale(told, company))


def code_of_holder(books: Books, name: str) -> str:
    """The code of the certificate that somebody bought, or got for a deposit."""
    return next(each.code for each in read_certificates(books) if each.holder == name)


def _sale(told: Mapping[str, Any], company: CardCompany) -> Act:
    amount = cents(told["amount"])

    def act(books: Books) -> None:
        fee = company.fee_told(books, amount) if told["how"] == "card" else 0
        gift.perform(books, gift.GiftRequest(amount, told["how"], told["who"], fee, told.get("number")))

    return act
