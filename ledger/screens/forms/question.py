"""A question of her own, and what was said to an open one."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from ledger.actions import question
from ledger.books.books import Books
from ledger.errors import NotUnderstood
from ledger.periods import Period
from ledger.quarter.questions import find_questions
from ledger.quarter.span import span_of
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.room_words import acts_for_commands

_WIDTH = 72


class QuestionForm(Form):
    """The question, in her words."""

    title_words = "Ask the accountant"

    def asks(self) -> Sequence[Asked]:
        return (Asked("question", "Question", hint="such as: is it 1 asset?"),)

    def preview(self) -> Sequence[str]:
        return ["It stands in every packet until its answer is noted with e."]

    def save(self) -> str:
        question.add(self.books, self.sound(question.QuestionRequest(self.text("question"))))
        return "It stands on the list."


class AnswerNoteForm(Form):
    """Which question of a period's list, what was said, by whom."""

    title_words = "Note an answer"

    def __init__(self, books: Books, period: Period) -> None:
        super().__init__(books)
        span = span_of(books, period)
        self.questions = find_questions(books, span.start, span.end)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("number", "Question number", value="1" if len(self.questions) == 1 else "", hint="such as 1"),
            Asked("answer", "Answer"),
            Asked("who", "Who said so"),
        )

    def preview(self) -> Sequence[str]:
        if self.text("number"):
            return wrap(acts_for_commands(self.sound(self._question())), _WIDTH)
        numbered = (f"{number}. {acts_for_commands(each)}" for number, each in enumerate(self.questions, start=1))
        return [line for each in numbered for line in wrap(each, _WIDTH, subsequent_indent="   ")]

    def save(self) -> str:
        note = question.AnswerNote(self._question(), self.text("answer"), self.text_or_none("who"))
        question.answer(self.books, self.sound(note))
        return "Noted; the packet of this period has it under «answered»."

    def _question(self) -> str:
        return self.read("number", lambda text: question.numbered(self.questions, _whole(text)), "")


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdigit()):
        raise NotUnderstood("That is no number.", "Type the number of the question.", "number")
    return int(text)
