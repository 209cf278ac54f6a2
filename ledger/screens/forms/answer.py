"""What she was told about an item of the set-up list, by whom and when."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from checklists.progress import STATES, Standing
from checklists.values import example_of, form_of
from ledger.actions import answers
from ledger.books.books import Books
from ledger.errors import NotPossible, Refused
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.reading import typed_file, typed_future_date
from ledger.text import shown

_MOST_IN_AN_EXAMPLE = 3


class AnswerForm(Form):
    """The answer, whom she asked, until when it holds, and the proof."""

    def __init__(self, books: Books, standing: Standing) -> None:
        if standing.item is None:
            raise NotPossible("This item is on the list no more.", "What you were told about it is kept.", None)
        self.title_words = shown(standing.item.title)
        super().__init__(books)
        self.item = standing.item

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("value", "Answer", hint=self._hint()),
            Asked("asked", "Whom you asked", hint=self.item.ask),
            Asked("state", "State", value="done", known=STATES, only_known=True),
            Asked("reference", "Reference", hint="such as HO-12"),
            Asked("expires", "Holds until", hint="if empty: for ever"),
            Asked("proof", "Proof", hint="drag a file here"),
            Asked("note", "Note"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        if not self.text("value"):
            questions = [f"  {number}. {each}" for number, each in enumerate(self.item.questions, start=1)]
            return [f"Ask: {self.item.ask}", *questions, f"The answer is {form_of(self.item)}."]
        settled = self._settled(answers.preview)
        fed = [f"The books go by it: {each}" for each in settled.fed]
        return [f"The answer is {form_of(self.item)}.", *fed, *settled.remarks]

    def save(self) -> str:
        settled = self._settled(answers.perform)
        return " ".join((f"Kept: {settled.item.title}, {settled.state}.", *settled.remarks))

    def _hint(self) -> str:
        """An example; of an answer in many parts rather their names, since they are told apart by their order."""
        names = [part.name.replace("_", " ") for part in self.item.parts]
        return ", ".join(names) if len(names) > _MOST_IN_AN_EXAMPLE else example_of(self.item)

    def _settled(self, act: Callable[[Books, answers.AnswerRequest], answers.SettledAnswer]) -> answers.SettledAnswer:
        """The act's outcome; what is wrong with a part of the answer is told beside the one field of all parts."""
        request = self.sound(self._request())
        try:
            return act(self.books_on(), request)
        except Refused as refused:
            if refused.field in {part.name for part in self.item.parts}:
                refused.field = "value"
            raise

    def _request(self) -> answers.AnswerRequest:
        return answers.AnswerRequest(
            item=self.item.id,
            value=self.text_or_none("value"),
            asked=self.text("asked"),
            state=self.text("state"),
            reference=self.text_or_none("reference"),
            expires=self.read("expires", self._holds_until, None),
            proof=self.read("proof", lambda text: typed_file(text, "proof") if text else None, None),
            note=self.text_or_none("note"),
        )

    def _holds_until(self, text: str) -> date | None:
        return typed_future_date(text, self.books.today, self.books.settings.locale, "expires") if text else None
