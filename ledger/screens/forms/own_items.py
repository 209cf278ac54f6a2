"""Her own hand on the set-up list: add an item, reword it, put it elsewhere, bring a hidden one back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from checklists.item import Catalogue, Item
from checklists.own_acts import ROUNDS, PlaceRequest, WordsRequest
from checklists.progress import Standing
from checklists.records import read_catalogue_of
from ledger.actions import own_items as act
from ledger.books.books import Books
from ledger.errors import NotFound, NotPossible, NotUnderstood
from ledger.screens.forms.field import Asked
from ledger.screens.forms.form import Form

_EVERY = (*ROUNDS, "never")
# Sentences are typed here, not names.
_WIDE = "{name} Field > Input {{ width: 42; }}"


class AddItemForm(Form):
    """subject: the item that is selected, after which the new one goes."""

    title_words = "An item of your own"

    DEFAULT_CSS: ClassVar[str] = _WIDE.format(name="AddItemForm")

    def __init__(self, books: Books, subject: Any) -> None:
        super().__init__(books)
        self.catalogue = read_catalogue_of(books)
        self.after = subject.item.title if isinstance(subject, Standing) and subject.item else ""

    def asks(self) -> Sequence[Asked]:
        offices = list(dict.fromkeys(item.ask for item in self.catalogue))
        return (
            Asked("title", "What"),
            Asked("question", "The question", hint="if empty: what, above"),
            Asked("ask", "Whom to ask", hint="if empty: yourself", known=offices),
            Asked("why", "Why it matters"),
            Asked("keep", "Proof to keep"),
            Asked("every", "Comes round every", hint=", ".join(ROUNDS), known=_EVERY, only_known=True),
            Asked(
                "after",
                "After",
                self.after,
                hint="if empty: the end",
                known=_titles(self.catalogue),
                only_known=True,
            ),
        )

    def save(self) -> str:
        after = self.text("after")
        place = PlaceRequest(after=_titled(self.catalogue, after, "after").id if after else None)
        item = act.add(self.books, act.AddRequest(_words(self), place))
        return f"{item.title} is on the list."


class RewordForm(Form):
    """What the item says now stands there; what is emptied or left says what it says."""

    DEFAULT_CSS: ClassVar[str] = _WIDE.format(name="RewordForm")

    def __init__(self, books: Books, subject: Any) -> None:
        self.item = _selected(subject)
        self.title_words = "Say it in your words"
        super().__init__(books)

    def asks(self) -> Sequence[Asked]:
        item = self.item
        return (
            Asked("title", "What", item.title),
            Asked("why", "Why it matters", item.why),
            Asked("ask", "Whom to ask", item.ask),
            *(
                Asked(f"question_{number}", "Questions" if number == 1 else "", question)
                for number, question in enumerate((*item.questions, ""), start=1)
            ),
            Asked("keep", "Proof to keep", item.proof),
            *((Asked("every", "Comes round every", known=_EVERY, only_known=True),) if item.is_own else ()),
            Asked("listed", "As listed?", hint="yes: your words go", known=("yes", "no"), only_known=True),
        )

    def preview(self) -> Sequence[str]:
        return ["Its caution, its sources and its answers stay in any case."]

    def save(self) -> str:
        if self.text("listed").casefold().startswith("y"):
            kept = act.reword(self.books, act.RewordRequest(self.item.id, None))
            return f"It says what the list says: {kept.title}."
        kept = act.reword(self.books, act.RewordRequest(self.item.id, self._changed()))
        return f"It is said in your words: {kept.title}."

    def _changed(self) -> WordsRequest:
        """What was typed anew alone, so that a newer list can still better the rest."""
        said = {name: self.text(name) for name in ("title", "why", "ask", "keep") if self.field(name).is_changed}
        asked = [each for name, each in self.fields.items() if name.startswith("question_")]
        questions = tuple(each.value for each in asked if each.value) if any(each.is_changed for each in asked) else ()
        return WordsRequest(**said, questions=questions, every=self.text_or_none("every") if self.item.is_own else None)


class MoveItemForm(Form):
    DEFAULT_CSS: ClassVar[str] = _WIDE.format(name="MoveItemForm")

    def __init__(self, books: Books, subject: Any) -> None:
        self.item = _selected(subject)
        self.title_words = f"Put elsewhere: {self.item.title}"
        super().__init__(books)
        self.catalogue = read_catalogue_of(books)

    def asks(self) -> Sequence[Asked]:
        stages = [stage.title for stage in self.catalogue.stages]
        titles = [each for each in _titles(self.catalogue) if each != self.item.title]
        return (
            Asked("before", "Before", hint="an item", known=titles, only_known=True),
            Asked("after", "Or after", hint="an item", known=titles, only_known=True),
            Asked("stage", "Or at the end of", hint="a stage: 1, 2 or 3", known=stages, only_known=True),
        )

    def preview(self) -> Sequence[str]:
        return ["Type the first letters of the item beside it. Within a stage, what can be asked now stands first."]

    def save(self) -> str:
        place = PlaceRequest(
            before=self._neighbour("before"), after=self._neighbour("after"), stage=self.text_or_none("stage")
        )
        act.move(self.books, act.MoveRequest(self.item.id, place))
        return f"Moved: {self.item.title}."

    def _neighbour(self, name: str) -> str | None:
        title = self.text(name)
        return _titled(self.catalogue, title, name).id if title else None


class ShowAgainForm(Form):
    title_words = "Bring a hidden item back"

    def __init__(self, books: Books) -> None:
        super().__init__(books)
        self.hidden = read_catalogue_of(books).hidden
        if not self.hidden:
            raise NotPossible("No item is hidden.", "h hides the one that is selected.", None)

    def asks(self) -> Sequence[Asked]:
        titles = [item.title for item in self.hidden]
        return (Asked("item", "Item", titles[0], known=titles, only_known=True),)

    def preview(self) -> Sequence[str]:
        return [f"Hidden: {'; '.join(item.title for item in self.hidden)}."]

    def save(self) -> str:
        wanted = next((each for each in self.hidden if each.title.casefold() == self.text("item").casefold()), None)
        if wanted is None:
            raise NotFound("No hidden item is called so.", "Type its first letters.", "item")
        return f"{act.show_again(self.books, act.ItemRequest(wanted.id)).title} is on the list again."


def hide(books: Books, subject: Any) -> str:
    """Done at once: it comes back as easily."""
    item = act.hide(books, act.ItemRequest(_selected(subject).id))
    return f"{item.title} is hidden. g brings it back."


def _selected(subject: Any) -> Item:
    if not isinstance(subject, Standing) or subject.item is None:
        raise NotPossible("No item is selected.", "Choose one in Set-up first.", None)
    return subject.item


def _titles(catalogue: Catalogue) -> list[str]:
    return [item.title for item in catalogue]


def _titled(catalogue: Catalogue, title: str, field: str) -> Item:
    found = next((item for item in catalogue if item.title.casefold() == title.casefold()), None)
    if found is None:
        raise NotUnderstood("No item is called so.", "Type its first letters.", field)
    return found


def _words(form: Form) -> WordsRequest:
    question = form.text("question")
    return WordsRequest(
        title=form.text_or_none("title"),
        why=form.text_or_none("why"),
        ask=form.text_or_none("ask"),
        questions=(question,) if question else (),
        keep=form.text_or_none("keep"),
        every=form.text_or_none("every"),
    )
