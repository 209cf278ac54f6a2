"""The page over a list that says what can be done in it: one letter, and it is done."""

from __future__ import annotations

from collections.abc import Sequence

from ledger.lists.listing import day_column
from ledger.screens.arranged_list import ArrangedList
from ledger.screens.choices_page import Choice, ChoicesPage
from ledger.screens.forms.of_a_list import DayForm, SaveListForm


class _ListChoices(ChoicesPage):
    """What can be done with one list."""

    def __init__(self, arranged: ArrangedList) -> None:
        super().__init__()
        self.arranged = arranged
        self.title_words = f"The list: {arranged.noun}"
        for each in self.choices():
            self._bindings.bind(each.key, each.action, show=False)

    def choices(self) -> Sequence[Choice]:
        return [Choice(key, f"choose('{key}')", words) for key, words in self.letters()]

    def letters(self) -> Sequence[tuple[str, str]]:
        """The key of each choice and its words."""
        raise NotImplementedError

    def choose(self, key: str) -> None:
        raise NotImplementedError

    def action_choose(self, key: str) -> None:
        self.dismiss(None)
        self.choose(key)


class ListKeysPage(_ListChoices):
    """What can be done in every list."""

    def letters(self) -> Sequence[tuple[str, str]]:
        has_days = day_column(self.arranged.lines.columns) is not None if self.arranged.lines else False
        return (
            ("f", "Filter: type what the lines must have"),
            ("o", "Order by a column (a click on its head does it too)"),
            *((("g", "Go to a day"),) if has_days else ()),
            ("c", "Copy the line to the clipboard of the terminal"),
            ("v", "Save as a file for a table program (CSV)"),
            ("w", "The whole list again, in its own order"),
        )

    def choose(self, key: str) -> None:
        arranged, app = self.arranged, self.twopurse
        match key:
            case "f":
                arranged.begin_filter()
            case "o":
                app.push_screen(OrderPage(arranged))
            case "g":
                app.push_screen(DayForm(app.books, arranged), arranged.say)
            case "c":
                arranged.copy()
            case "v":
                app.push_screen(SaveListForm(app.books, arranged), arranged.say)
            case _:
                arranged.show_whole()


class OrderPage(_ListChoices):
    """Its columns, each with a digit."""

    def letters(self) -> Sequence[tuple[str, str]]:
        columns = self.arranged.lines.columns if self.arranged.lines else ()
        return (
            *((str(place + 1), self._words(place, each.label)) for place, each in enumerate(columns) if each.width),
            ("0", "its own order"),
        )

    def choose(self, key: str) -> None:
        self.arranged.order_by(int(key) - 1 if key != "0" else None)

    def _words(self, place: int, label: str) -> str:
        return f"{label}, the other way round" if place == self.arranged.arrangement.column else label
