"""How far she is: the state of each item from the answers to it, and what can be asked next. No database here."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final, Literal

from checklists.item import Catalogue, Item, Stage
from checklists.recurrence import next_after

State = Literal["open", "asked", "done", "does not apply"]
STATES: Final[tuple[State, ...]] = ("open", "asked", "done", "does not apply")
SETTLED: Final = ("done", "does not apply")


@dataclass(frozen=True)
class KeptAnswer:
    """An answer as it is kept. item: its id, also where the list has no such item any more. asked: whom. on: the day.
    expires: the last day on which it holds. document: the digest of the proof."""

    id: int
    item: str
    state: State
    value: str | None
    asked: str | None
    reference: str | None
    note: str | None
    on: date
    expires: date | None
    document: str | None


@dataclass(frozen=True)
class Standing:
    """Where an item stands on a day. item, stage: None for one that is gone from the list but has an answer. answer:
    the one that counts. due: the last day on which that answer will do. waits_for: ids of items to be settled first.
    is_hidden: she put it away. is_new: it came to the list since she last said that she had seen it."""

    id: str
    item: Item | None
    stage: Stage | None
    state: State
    answer: KeptAnswer | None
    due: date | None
    waits_for: tuple[str, ...] = ()
    is_hidden: bool = False
    is_new: bool = False

    @property
    def is_settled(self) -> bool:
        return self.state in SETTLED

    @property
    def can_be_asked(self) -> bool:
        """Whether nobody was asked yet and nothing has to be settled before."""
        return self.item is not None and self.state == "open" and not self.waits_for


@dataclass(frozen=True)
class Tally:
    """How many items are in each state."""

    open: int
    asked: int
    done: int
    does_not_apply: int

    @property
    def items(self) -> int:
        return self.open + self.asked + self.done + self.does_not_apply

    @property
    def settled(self) -> int:
        return self.done + self.does_not_apply


def standings(
    catalogue: Catalogue, answers: Iterable[KeptAnswer], today: date, new: Collection[str] = ()
) -> tuple[Standing, ...]:
    """Every item in the order of the list, then those that have an answer but are gone from it, by id. new: the ids of
    items that she has not seen yet. What she hid is in neither, and nothing waits for it."""
    latest = latest_answers(answers, today)
    known = {item.id for item in (*catalogue, *catalogue.hidden)}
    gone = (answer for name, answer in sorted(latest.items()) if name not in known)
    listed = _standings_of(catalogue, {stage.id: stage.items for stage in catalogue.stages}, latest, today)
    return (
        *(replace(each, is_new=each.id in new) for each in listed),
        *(Standing(answer.item, None, None, answer.state, answer, due_day(None, answer)) for answer in gone),
    )


def hidden_standings(catalogue: Catalogue, answers: Iterable[KeptAnswer], today: date) -> tuple[Standing, ...]:
    """The same of the items that she hid."""
    hidden = {stage.id: stage.hidden for stage in catalogue.stages}
    found = _standings_of(catalogue, hidden, latest_answers(answers, today), today)
    return tuple(replace(each, is_hidden=True) for each in found)


def latest_answers(answers: Iterable[KeptAnswer], today: date) -> dict[str, KeptAnswer]:
    """The answer that counts for each item: the one of the latest day up to today, of one day the last written."""
    by_time = sorted((each for each in answers if each.on <= today), key=lambda each: (each.on, each.id))
    return {each.item: each for each in by_time}


def due_day(item: Item | None, answer: KeptAnswer | None) -> date | None:
    """The last day on which an answer will do: it runs out, or the item comes round. None where neither is so."""
    if answer is None or answer.state != "done":
        return None
    again = next_after(item.recurs, answer.on) if item is not None and item.recurs is not None else None
    return min((day for day in (answer.expires, again) if day is not None), default=None)


def tally(standing: Iterable[Standing]) -> Tally:
    """The items that are on the list, counted; what is gone from it does not count."""
    states = [each.state for each in standing if each.item is not None]
    return Tally(*(states.count(state) for state in STATES))


def tally_by_stage(catalogue: Catalogue, standing: Sequence[Standing]) -> tuple[tuple[Stage, Tally], ...]:
    return tuple((stage, tally(each for each in standing if each.stage == stage)) for stage in catalogue.stages)


def _standings_of(
    catalogue: Catalogue, items: Mapping[str, tuple[Item, ...]], latest: Mapping[str, KeptAnswer], today: date
) -> tuple[Standing, ...]:
    """The items of each stage by its id, which may be those on the list or those that are hidden."""
    due = {item.id: due_day(item, latest.get(item.id)) for item in (*catalogue, *catalogue.hidden)}
    states = {name: _state(latest.get(name), last_day, today) for name, last_day in due.items()}
    on_list = {item.id for item in catalogue}
    return tuple(
        Standing(
            id=item.id,
            item=item,
            stage=stage,
            state=states[item.id],
            answer=latest.get(item.id),
            due=due[item.id],
            waits_for=tuple(name for name in item.blocked_by if name in on_list and states[name] not in SETTLED),
        )
        for stage in catalogue.stages
        for item in items[stage.id]
    )


def _state(answer: KeptAnswer | None, due: date | None, today: date) -> State:
    if answer is None or (due is not None and due < today):
        return "open"
    return answer.state
