"""Her own questions for the accountant, and the answers that come back."""

from __future__ import annotations

from dataclasses import dataclass

from ledger.books.books import Books
from ledger.errors import NotFound
from ledger.quarter.own_questions import ask, note_answer


@dataclass(frozen=True)
class QuestionRequest:
    text: str


@dataclass(frozen=True)
class AnswerNote:
    """question: the words of an open question, hers or one that the program found. who: who answered."""

    question: str
    answer: str
    who: str | None = None


def add(books: Books, request: QuestionRequest) -> int:
    """The number of the question. Raises NotUnderstood, NotPossible."""
    with books.writing() as write:
        return ask(books, write, request.text)


def answer(books: Books, request: AnswerNote) -> None:
    """Keep an answer. Raises NotUnderstood for text that says nothing."""
    with books.writing() as write:
        note_answer(books, write, request.question, request.answer, request.who)


def numbered(questions: tuple[str, ...], number: int) -> str:
    """The question of that number on the list of a period. Raises NotFound."""
    if not 1 <= number <= len(questions):
        on_the_list = f"The list has {len(questions)}." if questions else "The list is empty."
        raise NotFound(f"There is no question {number}.", f"{on_the_list} See «twopurse question list».", "number")
    return questions[number - 1]
