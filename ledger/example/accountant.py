"""What went to her accountant: the first quarters, closed once they were handed over, and questions of her own."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import islice
from typing import Any

from ledger.actions import close_period, question
from ledger.books.books import Books
from ledger.example.data_files import day_of, read
from ledger.example.diary import Act, Diary
from ledger.example.filing import quarters
from ledger.example.working_days import WorkingDays
from ledger.periods import Period, next_period


def accountants_visits(diary: Diary, days: WorkingDays) -> None:
    """Write closings, questions and answers into the diary."""
    told = read("accountant")
    for period in islice(quarters(days), told["closed_quarters"]):
        day = days.on_or_after(next_period(period).start.replace(day=told["closed_on_day"]))
        diary.write(day, _close(period))
    for asked in told["question"]:
        diary.write(day_of(asked["asked"], days), _ask(asked))
        diary.write(day_of(asked["answered"], days), _answer(asked))


def _close(period: Period) -> Act:
    return lambda books: close_period.close(books, close_period.CloseRequest(period))


def _ask(told: Mapping[str, Any]) -> Act:
    return lambda books: question.add(books, question.QuestionRequest(told["text"]))


def _answer(told: Mapping[str, Any]) -> Act:
    note = question.AnswerNote(told["text"], told["answer"], told["who"])

    def act(books: Books) -> None:
        question.answer(books, note)

    return act
