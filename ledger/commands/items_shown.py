"""How the set-up list is told: an item as a row or a page, the list as lines, how far she is, and what she was told."""

from __future__ import annotations

from typing import Any, Final

from checklists.item import Catalogue, Item
from checklists.progress import KeptAnswer, Standing, Tally, tally, tally_by_stage
from checklists.records import read_catalogue_of, read_hidden, read_standings
from checklists.values import example_of, form_of
from ledger.books.books import Books
from ledger.commands.manners import day_or_none
from ledger.errors import NotFound

WHO_DECIDES: Final = "The office or the licensed person that an item names decides, and not this program."
_WIDEST_TITLE = 40


def read_standing(books: Books, name: str) -> Standing:
    """Where the item of a name stands, also one that is hidden or gone from the list. Raises NotFound."""
    standing = read_standings(books)
    try:
        wanted = read_catalogue_of(books).item(name).id
    except NotFound:
        gone = next((each for each in standing if each.item is None and each.id == name.strip()), None)
        if gone is None:
            raise
        return gone
    return next(each for each in (*standing, *read_hidden(books)) if each.id == wanted)


def row(standing: Standing) -> dict[str, Any]:
    item, answer = standing.item, standing.answer
    return {
        "id": standing.id,
        "stage": standing.stage.id if standing.stage else None,
        "title": item.title if item else standing.id,
        "state": standing.state,
        "due": day_or_none(standing.due),
        "ask": item.ask if item else None,
        "source": item.source_words if item else None,
        "waits_for": list(standing.waits_for),
        "value": answer.value if answer else None,
        "asked": answer.asked if answer else None,
        "date": day_or_none(answer.on if answer else None),
        "reference": answer.reference if answer else None,
        "expires": day_or_none(answer.expires if answer else None),
        "note": answer.note if answer else None,
        "proof": answer.document if answer else None,
        "new": standing.is_new,
        "own": item.is_own if item else False,
        "reworded": item.is_reworded if item else False,
        "hidden": standing.is_hidden,
    }


def page(item: Item | None) -> dict[str, Any]:
    """What only the page of an item tells."""
    return {
        "why": item.why if item else None,
        "questions": list(item.questions) if item else [],
        "keep": item.proof if item else None,
        "caution": item.caution if item else None,
        "differs": list(item.differs) if item else [],
        "sources": [str(each) for each in item.sources] if item else [],
        "recurs": item.recurs if item else None,
        "feeds": item.feeds if item else None,
        "answer_form": form_of(item) if item else None,
        "usage": usage(item) if item else None,
        "parts": [
            {"name": each.name, "kind": each.kind, "choices": list(each.choices)}
            for each in (item.parts if item else ())
        ],
    }


def kept_answer(answer: KeptAnswer) -> dict[str, Any]:
    return {
        "state": answer.state,
        "value": answer.value,
        "asked": answer.asked,
        "date": answer.on.isoformat(),
        "reference": answer.reference,
        "expires": day_or_none(answer.expires),
        "note": answer.note,
        "proof": answer.document,
    }


def progress(catalogue: Catalogue, standing: tuple[Standing, ...]) -> dict[str, Any]:
    stages = [
        {"stage": stage.id, "title": stage.title, **_counts(counted)}
        for stage, counted in tally_by_stage(catalogue, standing)
    ]
    return {
        **_counts(tally(standing)),
        "stages": stages,
        "next": [each.id for each in standing if each.can_be_asked],
    }


def list_lines(catalogue: Catalogue, standing: tuple[Standing, ...]) -> list[str]:
    lines: list[str] = []
    for stage, counted in tally_by_stage(catalogue, standing):
        lines.append(f"{stage.title}: {counted.settled} of {counted.items}")
        lines += [_line(each) for each in standing if each.stage == stage]
    gone = [each for each in standing if each.item is None]
    if gone:
        lines += ["No longer on the list", *(_line(each) for each in gone)]
    if any(each.is_new for each in standing):
        lines.append("What is new came with a newer list: «twopurse setup seen» once you have looked at it.")
    if catalogue.hidden:
        names = ", ".join(item.id for item in catalogue.hidden)
        lines.append(f"Hidden: {names}. «twopurse setup show-again ITEM» brings one back.")
    first = next((each.item for each in standing if each.can_be_asked), None)
    if first is not None:
        lines.append(f"Next: {first.title} (ask: {first.ask}). «twopurse setup show {first.id}» has the questions.")
    return [*lines, WHO_DECIDES]


def page_lines(standing: Standing) -> list[str]:
    item = standing.item
    if item is None:
        return [f"{standing.id}: no longer on the list. Its answers stay."]
    lines = [f"{item.title} ({item.id}): {_state_of(standing)}", item.why, f"Ask: {item.ask}"]
    lines += [f"  {number}. {question}" for number, question in enumerate(item.questions, start=1)]
    lines.append(f"Keep: {item.proof}" if item.proof else "")
    if item.differs:
        lines += ["The rules differ from place to place. Published examples, none of them your rule:"]
        lines += [f"  {example}" for example in item.differs]
    lines += [f"Mind: {item.caution}" if item.caution else "", f"Source: {item.source_words}"]
    if standing.waits_for:
        lines.append(f"Settle first: {', '.join(standing.waits_for)}")
    if item.is_reworded:
        lines.append(f"In your words. «twopurse setup reword {item.id} --as-listed» takes them back.")
    lines.append(f"Answer with: {usage(item)} ({form_of(item)})")
    return [line for line in lines if line]


def usage(item: Item) -> str:
    return f'twopurse setup answer {item.id} "{example_of(item)}" --asked WHOM'


def history_lines(history: tuple[KeptAnswer, ...]) -> list[str]:
    return [
        f"{each.on}: {said(each.state, each.value, each.asked)}"
        + (f", {each.reference}" if each.reference else "")
        + (f", holds through {each.expires}" if each.expires else "")
        + (f"; {each.note}" if each.note else "")
        for each in history
    ]


def said(state: str, value: str | None, asked: str | None) -> str:
    told = value if state == "done" and value else f"{state} ({value})" if value else state
    return f"{told}, {'put to' if state == 'asked' else 'from'} {asked}"


def _counts(counted: Tally) -> dict[str, int]:
    return {
        "items": counted.items,
        "settled": counted.settled,
        "open": counted.open,
        "asked": counted.asked,
        "done": counted.done,
        "does_not_apply": counted.does_not_apply,
    }


def _line(standing: Standing) -> str:
    state: str = standing.state
    if standing.due is not None:
        state = f"done to {standing.due}" if standing.is_settled else f"due {standing.due}"
    elif standing.is_new:
        state = f"{state}, new"
    title = standing.item.title if standing.item else (standing.answer and standing.answer.value) or ""
    if len(title) > _WIDEST_TITLE:
        title = f"{title[: _WIDEST_TITLE - 1]}…"
    return f"  {state:<19}{standing.id:<19}{title}"


def _state_of(standing: Standing) -> str:
    marks = (("hidden", standing.is_hidden), ("new", standing.is_new))
    return ", ".join([standing.state, *(mark for mark, holds in marks if holds)])
