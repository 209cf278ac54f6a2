"""What can be found by typing of a quarter: her own questions by their words, every open one by its number."""

from __future__ import annotations

from collections.abc import Iterator

from ledger.books.books import Books
from ledger.books.finding import Found
from ledger.periods import quarter_holding
from ledger.quarter.own_questions import own_questions
from ledger.quarter.questions import find_questions


def questions_to_find(books: Books) -> Iterator[tuple[Found, str]]:
    """Her own questions that are open. Those that the program finds take too long for somebody who types."""
    for each in own_questions(books):
        yield Found("question", "", each, aside="your own, open", room="quarter"), "question accountant"


def numbered_question(books: Books, number: int) -> Iterator[Found]:
    """The open question that has this number in the quarter that runs, if there is one."""
    questions = find_questions(books, quarter_holding(books.today).start, books.today)
    if 1 <= number <= len(questions):
        yield Found("question", number, questions[number - 1], aside="open", room="quarter", at=number)
