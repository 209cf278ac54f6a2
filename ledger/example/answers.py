"""The set-up list: whom she asked, when, what they said, and the papers that she kept of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from dateutil.relativedelta import relativedelta

from ledger.actions import answers
from ledger.books.books import Books
from ledger.example.data_files import day_of, paper, read
from ledger.example.diary import Act, Diary
from ledger.example.working_days import WorkingDays


def set_up_list(diary: Diary, days: WorkingDays) -> None:
    """Write the answers into the diary; each puts what it feeds, such as which classes are taxed, into the books."""
    for told in read("answers")["answer"]:
        day = day_of(told["when"], days)
        expires = _expires(told["expires"], day, days) if "expires" in told else None
        diary.write(day, _answer(told, expires))


def _expires(told: Mapping[str, int], day: date, days: WorkingDays) -> date:
    """The last day of an answer: so many months after it was given, or so many days after the end of the example."""
    if "months" in told:
        return day + relativedelta(months=told["months"])
    return days.today + timedelta(days=told["days_after_today"])


def _answer(told: Mapping[str, Any], expires: date | None) -> Act:
    def act(books: Books) -> None:
        with paper(told.get("proof")) as proof:
            request = answers.AnswerRequest(
                item=told["item"],
                value=told.get("value"),
                asked=told["asked"],
                state=told.get("state", "done"),
                reference=told.get("reference"),
                expires=expires,
                proof=proof,
                note=told.get("note"),
            )
            answers.perform(books, request)

    return act
