"""What an office answered to a call sheet: one field for every item that was asked, all kept at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from checklists.progress import Standing
from checklists.values import example_of, form_of
from ledger.actions import hear_call as act
from ledger.actions.answers import SettledAnswer
from ledger.books.books import Books
from ledger.errors import NotPossible
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form
from ledger.screens.showing import cut

_LABEL = 18
_MOST_TOLD = 5


class HeardForm(Form):
    """The open items of the office that the selected item asks."""

    def __init__(self, books: Books, subject: Any) -> None:
        if not isinstance(subject, Standing) or subject.item is None:
            raise NotPossible("No item is selected.", "Choose one in Set-up first.", None)
        self.call = act.read_call(books, subject.item.ask)
        self.title_words = f"Answered by the {self.call.office}"
        super().__init__(books)

    def asks(self) -> Sequence[Asked]:
        return (
            Asked("asked", "Who answered"),
            *(
                Asked(each.id, cut(each.item.title, _LABEL), hint=example_of(each.item))
                for each in self.call.items
                if each.item is not None
            ),
            Asked("reference", "Reference", hint="of a letter or ruling"),
            Asked("on", "Date", value="today"),
        )

    def preview(self) -> Sequence[str]:
        told = self._told()
        lines = ["? they will answer later   - it does not apply   empty: not asked"]
        focused = self.focused.id if self.focused is not None else None
        item = next((each.item for each in self.call.items if each.id == focused and each.item is not None), None)
        if item is not None:
            lines.append(f"{item.title}: {form_of(item)}")
        if not told or not self.text("asked"):
            return lines
        settled = self._settled(act.preview)
        fed = [f"The books go by it: {each}" for one in settled for each in one.fed]
        return [*lines, *fed[:_MOST_TOLD], *[remark for one in settled for remark in one.remarks][:_MOST_TOLD]]

    def on_descendant_focus(self) -> None:
        self.check()

    def save(self) -> str:
        settled = self._settled(act.perform)
        return f"Kept: {len(settled)} of {len(self.call.items)} answers of the {self.call.office}."

    def _told(self) -> tuple[tuple[str, str], ...]:
        return tuple((each.id, self.text(each.id)) for each in self.call.items if self.text(each.id))

    def _settled(self, do: Callable[[Books, act.HeardRequest], tuple[SettledAnswer, ...]]) -> tuple[SettledAnswer, ...]:
        request = act.HeardRequest(self.call.office, self.text("asked"), self._told(), self.text_or_none("reference"))
        return do(self.books_on(), self.sound(request))
