"""What she does to the set-up list herself: add, reword, move, hide and show again, each in one transaction.

Nothing is ever lost by it: the words of the list come back with `as_listed`, a hidden item with `show_again`, and the
answers to an item stand whatever is done to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from checklists.item import Catalogue, Item, Stage
from checklists.own_list import AS_LISTED, FIRST, Wording, id_for, stage_called, wordings
from checklists.own_records import add_change, read_changes
from checklists.records import note_first_look, note_seen, read_catalogue_of, read_new_items, read_places
from checklists.values import read_open_text
from ledger.books.books import Books
from ledger.errors import NotPossible, NotUnderstood, unknown_name
from ledger.text import NAME_LENGTH

# How an item of her own comes round again, by the word for it.
ROUNDS: Final = {
    "week": "FREQ=WEEKLY",
    "month": "FREQ=MONTHLY",
    "quarter": "FREQ=MONTHLY;INTERVAL=3",
    "year": "FREQ=YEARLY",
}
MOST_QUESTIONS = 20
ASK_HERSELF: Final = "yourself"


@dataclass(frozen=True)
class WordsRequest:
    """Words as they are typed; None where nothing is said. every: one of `ROUNDS`, or never."""

    title: str | None = None
    why: str | None = None
    ask: str | None = None
    questions: Sequence[str] = ()
    keep: str | None = None
    every: str | None = None


@dataclass(frozen=True)
class PlaceRequest:
    """Where an item goes: before or after another, or to the first or last place of a stage."""

    before: str | None = None
    after: str | None = None
    stage: str | None = None
    first: bool = False


def add_item(books: Books, words: WordsRequest, place: PlaceRequest) -> Item:
    """An item of her own. It is asked of herself, and its title is the question, unless she says otherwise.

    Raises NotUnderstood for words, NotFound for a stage or a neighbour.
    """
    said = _read_words(words)
    if said.title is None:
        raise NotUnderstood("An item has a title.", "Say in a few words what it is.", "title")
    questions = said.questions or (_as_question(said.title),)
    wording = replace(said, ask=said.ask or ASK_HERSELF, questions=questions)
    with books.writing() as write:
        catalogue = read_catalogue_of(books)
        stage, follows = _read_place(books, catalogue, place, None)
        name = id_for(said.title, {item.id for item in (*catalogue, *catalogue.hidden)})
        note_first_look(books, write)
        add_change(books, write, name, "added", stage=stage.id, follows=follows, wording=wording)
    return read_catalogue_of(books).item(name)


def reword_item(books: Books, name: str, words: WordsRequest) -> Item:
    """Other words for an item; what is not named stays as it is. Raises NotFound, NotUnderstood, NotPossible."""
    said = _read_words(words)
    if said == AS_LISTED and words.every is None:
        raise NotUnderstood("No other words were given.", "Name a title, a why, an office or a question.", "title")
    with books.writing() as write:
        item = read_catalogue_of(books).item(name)
        if words.every is not None and not item.is_own:
            raise NotPossible(
                f"{item.title} comes round as the list says.", "Add an item of your own that comes round.", "every"
            )
        before = wordings(read_changes(books)).get(item.id, AS_LISTED)
        wording = Wording(
            title=said.title or before.title,
            why=said.why or before.why,
            ask=said.ask or before.ask,
            questions=said.questions or before.questions,
            proof=said.proof or before.proof,
            recurs=said.recurs if words.every is not None else before.recurs,
        )
        note_first_look(books, write)
        add_change(books, write, item.id, "reworded", wording=wording)
    return read_catalogue_of(books).item(item.id)


def word_as_listed(books: Books, name: str) -> Item:
    """Take her words back: the item says what the list says. Raises NotFound, and NotPossible for her own item."""
    with books.writing() as write:
        item = read_catalogue_of(books).item(name)
        if item.is_own:
            raise NotPossible(f"{item.title} is your own item.", "Reword it, or hide it.", "item")
        if not item.is_reworded:
            raise NotPossible(f"{item.title} says what the list says.", "There is nothing to take back.", "item")
        add_change(books, write, item.id, "reworded")
    return read_catalogue_of(books).item(item.id)


def move_item(books: Books, name: str, place: PlaceRequest) -> Item:
    """Put an item elsewhere. Raises NotFound, NotUnderstood where no place is named, NotPossible beside itself."""
    with books.writing() as write:
        catalogue = read_catalogue_of(books)
        item = catalogue.item(name)
        stage, follows = _read_place(books, catalogue, place, item)
        note_first_look(books, write)
        add_change(books, write, item.id, "moved", stage=stage.id, follows=follows)
    return item


def hide_item(books: Books, name: str) -> Item:
    """Put an item away. It counts no more, and comes back with `show_again`. Raises NotFound, NotPossible."""
    with books.writing() as write:
        catalogue = read_catalogue_of(books)
        item = catalogue.item(name)
        if item in catalogue.hidden:
            raise NotPossible(
                f"{item.title} is hidden.", f"«twopurse setup show-again {item.id}» brings it back.", "item"
            )
        note_first_look(books, write)
        add_change(books, write, item.id, "hidden")
    return item


def show_again(books: Books, name: str) -> Item:
    """Bring a hidden item back to where it was. Raises NotFound, NotPossible."""
    with books.writing() as write:
        catalogue = read_catalogue_of(books)
        item = catalogue.item(name)
        if item not in catalogue.hidden:
            raise NotPossible(f"{item.title} is not hidden.", "It stands in «twopurse setup list».", "item")
        add_change(books, write, item.id, "shown")
    return item


def mark_seen(books: Books) -> tuple[Item, ...]:
    """Note that she has seen what is new on the list; the items that were."""
    with books.writing() as write:
        new = read_new_items(books)
        note_seen(books, write)
    return tuple(item for item in read_catalogue_of(books) if item.id in new)


def _read_words(words: WordsRequest) -> Wording:
    if len(words.questions) > MOST_QUESTIONS:
        raise NotUnderstood(
            f"These are {len(words.questions)} questions.", f"Keep them to {MOST_QUESTIONS} an item.", "question"
        )
    if words.every is not None and words.every not in (*ROUNDS, "never"):
        raise NotUnderstood("It is not known how often that is.", f"Say {', '.join(ROUNDS)} or never.", "every")
    return Wording(
        title=_read(words.title, "title", NAME_LENGTH),
        why=_read(words.why, "why"),
        ask=_read(words.ask, "ask", NAME_LENGTH),
        questions=tuple(read_open_text(each, "question") for each in words.questions) or None,
        proof=_read(words.keep, "keep"),
        recurs=ROUNDS.get(words.every or ""),
    )


def _read(text: str | None, field: str, limit: int | None = None) -> str | None:
    if text is None:
        return None
    kept = read_open_text(text, field)
    if limit is not None and len(kept) > limit:
        raise NotUnderstood(f"The text is {len(kept)} characters long.", f"Keep it to {limit}.", field)
    return kept


def _as_question(title: str) -> str:
    return title if title.endswith(("?", ".", ":")) else f"{title}?"


def _read_place(books: Books, catalogue: Catalogue, place: PlaceRequest, item: Item | None) -> tuple[Stage, str | None]:
    """The stage an item goes to, and the id that it follows there. item: the one that moves, None for a new one."""
    named = [each for each in (place.before, place.after) if each is not None]
    if len(named) + (place.stage is not None or place.first) > 1:
        raise NotUnderstood("This names more than one place.", "Give one neighbour, or a stage.", "before")
    if named:
        return _beside(books, catalogue, catalogue.item(named[0]), place, item)
    if place.stage is None and item is not None and not place.first:
        raise NotUnderstood("No place is named.", "Say before or after which item, or in which stage.", "before")
    if place.stage is None:
        stage = _stage_of(catalogue, item) if item is not None else catalogue.stages[-1]
    else:
        stage = _read_stage(catalogue, place.stage)
    return stage, FIRST if place.first else None


def _beside(
    books: Books, catalogue: Catalogue, neighbour: Item, place: PlaceRequest, item: Item | None
) -> tuple[Stage, str]:
    if item is not None and neighbour.id == item.id:
        raise NotPossible("An item cannot stand beside itself.", "Name another item.", "before")
    stage = _stage_of(catalogue, neighbour)
    if place.after is not None:
        return stage, neighbour.id
    order = read_places(books)[stage.id]
    earlier = [name for name in order[: order.index(neighbour.id)] if item is None or name != item.id]
    return stage, earlier[-1] if earlier else FIRST


def _stage_of(catalogue: Catalogue, item: Item) -> Stage:
    return next(stage for stage in catalogue.stages if item in (*stage.items, *stage.hidden))


def _read_stage(catalogue: Catalogue, name: str) -> Stage:
    found = stage_called(catalogue, name)
    if found is None:
        raise unknown_name("stage", name.strip(), [stage.id for stage in catalogue.stages], "stage")
    return found
