"""Her own hand on the set-up list: the list that comes with the program, laid under what she added and changed.

Changes are gone through in the order in which she made them, so that every list stands as she left it, and a newer one
that comes with the program takes its new items in where it has them. No database here.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final, Literal

from checklists.item import OWN, AnswerPart, Catalogue, Item, Stage

What = Literal["added", "reworded", "moved", "hidden", "shown"]
FIRST: Final = ""
_SLUG_LENGTH = 14
_NO_LETTER = re.compile(r"[^a-z0-9]+")

Places = dict[str, list[str]]


@dataclass(frozen=True)
class Wording:
    """What an item says in her words; None where it says what the list says. recurs: of her own items alone."""

    title: str | None = None
    why: str | None = None
    ask: str | None = None
    questions: tuple[str, ...] | None = None
    proof: str | None = None
    recurs: str | None = None


AS_LISTED: Final = Wording()


@dataclass(frozen=True)
class ItemChange:
    """One thing that she did to the list.

    stage: where an item was added or moved to. follows: the id of the item it stands after, `FIRST` for the first place
    of its stage, None for the last. wording: whole, of what was added or reworded.
    """

    id: int
    item: str
    what: What
    on: date
    stage: str | None = None
    follows: str | None = None
    wording: Wording = AS_LISTED


def merged(shipped: Catalogue, changes: Sequence[ItemChange]) -> Catalogue:
    """The list as she sees it. Every item that was shipped or added is in it once, also those that she hid."""
    if not changes:
        return shipped
    items = {item.id: item for item in shipped}
    words = wordings(changes)
    own = {change.item for change in changes if change.what == "added"} - items.keys()
    all_items = {name: _reworded(item, words.get(name)) for name, item in items.items()}
    all_items |= {name: _own_item(name, words[name]) for name in own}
    hidden = hidden_ids(changes)
    order = places(shipped, changes)
    return Catalogue(
        tuple(
            replace(
                stage,
                items=tuple(all_items[name] for name in order[stage.id] if name not in hidden),
                hidden=tuple(all_items[name] for name in order[stage.id] if name in hidden),
            )
            for stage in shipped.stages
        )
    )


def places(shipped: Catalogue, changes: Iterable[ItemChange]) -> Places:
    """The ids of every stage in their order, hidden ones too."""
    order = {stage.id: [item.id for item in stage.items] for stage in shipped.stages}
    for change in sorted(changes, key=lambda each: each.id):
        known = any(change.item in names for names in order.values())
        if (change.what == "added" and not known) or (change.what == "moved" and known):
            _put(order, change)
    return order


def hidden_ids(changes: Iterable[ItemChange]) -> frozenset[str]:
    latest = {each.item: each.what for each in _by_time(changes) if each.what in ("hidden", "shown")}
    return frozenset(name for name, what in latest.items() if what == "hidden")


def wordings(changes: Iterable[ItemChange]) -> Mapping[str, Wording]:
    """The wording that counts for each item that she added or reworded."""
    return {each.item: each.wording for each in _by_time(changes) if each.what in ("added", "reworded")}


def new_items(shipped: Catalogue, seen: Collection[str] | None, touched: Collection[str]) -> frozenset[str]:
    """The shipped items that she has not seen yet.

    seen: the ids that she has; None where none were ever noted, and then nothing can be called new. touched: the ids of
    items that she answered or changed, which she has seen for certain.
    """
    if seen is None:
        return frozenset()
    return frozenset(item.id for item in shipped).difference(seen, touched)


def id_for(title: str, taken: Collection[str]) -> str:
    """An id for an item of her own, from the letters of its title; numbered where that one is taken."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    whole = _NO_LETTER.sub("_", plain).strip("_")
    cut = whole[:_SLUG_LENGTH] if whole[_SLUG_LENGTH:][:1] in ("", "_") else whole[:_SLUG_LENGTH].rpartition("_")[0]
    slug = cut.strip("_") or whole[:_SLUG_LENGTH] or "item"
    names = (f"{OWN}{slug}{number if number > 1 else ''}" for number in range(1, len(taken) + 2))
    return next(name for name in names if name not in taken)


def stage_called(catalogue: Catalogue, name: str) -> Stage | None:
    """The stage of an id, of its number or of its title, hyphens and capitals aside."""
    wanted = name.strip().casefold().replace("-", "_")
    for stage in catalogue.stages:
        if wanted in (stage.id, str(stage.order), stage.title.casefold()):
            return stage
    return None


def _put(order: Places, change: ItemChange) -> None:
    for names in order.values():
        if change.item in names:
            names.remove(change.item)
    # A stage that a newer list has no more: what she put there goes to the end of the last one.
    target = order[change.stage if change.stage in order else list(order)[-1]]
    if change.follows == FIRST:
        target.insert(0, change.item)
    elif change.follows in target:
        target.insert(target.index(change.follows) + 1, change.item)
    else:
        target.append(change.item)


def _by_time(changes: Iterable[ItemChange]) -> list[ItemChange]:
    return sorted(changes, key=lambda each: each.id)


def _reworded(item: Item, words: Wording | None) -> Item:
    if words is None:
        return item
    said = replace(
        item,
        title=words.title or item.title,
        why=words.why or item.why,
        ask=words.ask or item.ask,
        questions=words.questions or item.questions,
        proof=words.proof or item.proof,
    )
    return replace(said, is_reworded=said != item)


def _own_item(name: str, words: Wording) -> Item:
    return Item(
        id=name,
        title=words.title or name,
        why=words.why or "",
        ask=words.ask or "",
        questions=words.questions or (),
        proof=words.proof or "",
        caution="",
        parts=(AnswerPart("value", "text"),),
        feeds=None,
        recurs=words.recurs,
        blocked_by=(),
        differs=(),
        sources=(),
        is_own=True,
    )
