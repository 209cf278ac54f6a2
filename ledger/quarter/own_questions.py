"""Her own questions for the accountant, and what was answered to any question."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ledger.books.books import Books
from ledger.books.transaction import Writing
from ledger.errors import NotPossible
from ledger.text import read_name, read_text


@dataclass(frozen=True)
class Answered:
    """A question, her own or one that the program found, with what was said to it."""

    question: str
    answer: str
    who: str | None
    day: date


def ask(books: Books, write: Writing, text: str) -> int:
    """Keep a question of her own; its number. Raises NotUnderstood, and NotPossible where it stands open already."""
    question = read_text(text, "question")
    if question in own_questions(books):
        raise NotPossible("That question stands on the list already.", "There is nothing to do.", "question")
    return write.add("question", text=question, on_date=books.today.isoformat())


def note_answer(books: Books, write: Writing, question: str, answer: str, who: str | None) -> None:
    """Keep what was said to an open question; it is then a note, and open no more. Raises NotUnderstood."""
    write.add(
        "question_answer",
        question=read_text(question, "question"),
        answer=read_text(answer, "answer"),
        who=read_name(who, "who") if who else None,
        on_date=books.today.isoformat(),
    )


def own_questions(books: Books) -> tuple[str, ...]:
    """Hers that nobody has answered by the end of today, the oldest first."""
    rows = books.rows(
        "select text from question where on_date <= ?1 and not exists (select 1 from question_answer "
        "where question_answer.question = question.text and question_answer.on_date <= ?1 "
        "and question_answer.on_date >= question.on_date) order by id",
        (books.today.isoformat(),),
    )
    return tuple(dict.fromkeys(row["text"] for row in rows))


def answered(books: Books, start: date, end: date) -> tuple[Answered, ...]:
    """What was answered in the days from start to end, both included."""
    rows = books.rows(
        "select * from question_answer where on_date between ? and ? order by id", (start.isoformat(), end.isoformat())
    )
    return tuple(
        Answered(row["question"], row["answer"], row["who"], date.fromisoformat(row["on_date"])) for row in rows
    )


def answers_to(books: Books) -> dict[str, Answered]:
    """The last answer to each question by the end of today."""
    return {each.question: each for each in answered(books, date.min, books.today)}
