"""Her own hand on the set-up list, one act each; `checklists.own_acts` does them."""

from __future__ import annotations

from dataclasses import dataclass

from checklists import own_acts
from checklists.item import Item
from checklists.own_acts import PlaceRequest, WordsRequest
from ledger.books.books import Books


@dataclass(frozen=True)
class AddRequest:
    """An item of her own, and where it goes."""

    words: WordsRequest
    place: PlaceRequest = PlaceRequest()


@dataclass(frozen=True)
class RewordRequest:
    """item: its id. words: None takes her words back."""

    item: str
    words: WordsRequest | None


@dataclass(frozen=True)
class MoveRequest:
    """item: its id, and where it goes."""

    item: str
    place: PlaceRequest


@dataclass(frozen=True)
class ItemRequest:
    """An item by its id, to hide or to show again."""

    item: str


def add(books: Books, request: AddRequest) -> Item:
    """Raises NotUnderstood for words, NotFound for a stage or a neighbour."""
    return own_acts.add_item(books, request.words, request.place)


def reword(books: Books, request: RewordRequest) -> Item:
    """Raises NotFound, NotUnderstood, and NotPossible where there is nothing to take back."""
    if request.words is None:
        return own_acts.word_as_listed(books, request.item)
    return own_acts.reword_item(books, request.item, request.words)


def move(books: Books, request: MoveRequest) -> Item:
    """Raises NotFound, NotUnderstood where no place is named, NotPossible beside itself."""
    return own_acts.move_item(books, request.item, request.place)


def hide(books: Books, request: ItemRequest) -> Item:
    """Raises NotFound, NotPossible for one that is hidden."""
    return own_acts.hide_item(books, request.item)


def show_again(books: Books, request: ItemRequest) -> Item:
    """Raises NotFound, NotPossible for one that is not hidden."""
    return own_acts.show_again(books, request.item)
